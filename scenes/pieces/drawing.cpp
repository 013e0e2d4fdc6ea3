#include "scenes/pieces/drawing.hpp"

#include <fmt/format.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <limits>
#include <map>
#include <set>
#include <stdexcept>

#include "scenes/format/told_length.hpp"
#include "scenes/pieces/svg_outlines.hpp"
#include "totebench/scenes/nearest.hpp"

namespace totebench::scenes {
namespace {

using Eigen::Vector2d;

constexpr std::uintmax_t kLargestFile = 8u << 20;
constexpr double kSamePoint_m = 1e-6;
constexpr double kSharp_rad = 20 * M_PI / 180;
constexpr double kSharpest_rad = 28 * M_PI / 180;
constexpr double kSnap_m = 0.2e-3;  // a mark this near to a point of the outline is that point

class PieceReader {
 public:
  PieceReader(Bag& bag, const std::string& units) : bag_(bag), units_(units) {}

  std::vector<SewingFault> run() {
    if (!reads_drawings()) {
      fault("/bag/file", "drawings of pattern pieces are read by the program, not on this page",
            "run totebench hang with the scene and its drawing");
      return std::move(faults_);
    }
    std::string text;
    if (!read_file(text)) return std::move(faults_);
    SvgDrawing drawing;
    try {
      drawing = read_svg(text);
    } catch (const std::invalid_argument& error) {
      fault("/bag/file", fmt::format("{}: {}", bag_.file, error.what()),
            "draw closed paths and save them as plain SVG");
      return std::move(faults_);
    }
    if (!find_scale(drawing)) return std::move(faults_);
    for (DrawnShape& shape : drawing.shapes) {
      for (Vector2d& p : shape.points) p = Vector2d(p.x(), -p.y()) * unit_m_;
    }
    for (const Piece& piece : bag_.pieces) outlines_.insert(id_of(piece));
    for (std::size_t i = 0; i < bag_.pieces.size(); ++i) read_piece(drawing, i);
    return std::move(faults_);
  }

 private:
  static std::string id_of(const Piece& piece) {
    return piece.outline.empty() ? piece.name : piece.outline;
  }
  void fault(const std::string& pointer, std::string what, std::string cure) {
    faults_.push_back({pointer, std::move(what), std::move(cure)});
  }

  bool read_file(std::string& text) {
    const std::filesystem::path path(bag_.file);
    std::error_code error;
    if (!std::filesystem::is_regular_file(path, error)) {
      fault("/bag/file", fmt::format("there is no file {}", bag_.file),
            "name the drawing, .svg, relative to the scene file");
      return false;
    }
    if (std::filesystem::file_size(path, error) > kLargestFile || error) {
      fault("/bag/file", fmt::format("{} is larger than 8 MB", bag_.file),
            "take pictures and everything but the outlines out of the drawing");
      return false;
    }
    std::ifstream file(path, std::ios::binary);
    text.assign(std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>());
    if (file) return true;
    fault("/bag/file", fmt::format("{} cannot be read", bag_.file), "is it open elsewhere?");
    return false;
  }

  bool find_scale(const SvgDrawing& drawing) {
    if (bag_.ruler_m > 0) {
      for (const DrawnShape& shape : drawing.shapes) {
        if (shape.id != "ruler" || shape.points.size() < 2) continue;
        double length = 0;
        for (std::size_t i = 1; i < shape.points.size(); ++i) {
          length += (shape.points[i] - shape.points[i - 1]).norm();
        }
        if (!(length > 0)) break;
        unit_m_ = bag_.ruler_m / length;
        return true;
      }
      fault("/bag/ruler", "the drawing has no path with the id \"ruler\"",
            "draw a straight line of that length and call it ruler, or take out bag.ruler");
      return false;
    }
    if (drawing.unit_m) {
      unit_m_ = *drawing.unit_m;
      return true;
    }
    fault("/bag/file", fmt::format("{} does not say how large it is", bag_.file),
          "set the page's size in mm, cm or in, or draw a line with the id \"ruler\" and give "
          "bag.ruler its length");
    return false;
  }

  void read_piece(const SvgDrawing& drawing, std::size_t i) {
    Piece& piece = bag_.pieces[i];
    const std::string id = id_of(piece);
    const std::string at =
        fmt::format("/bag/pieces/{}/{}", i, piece.outline.empty() ? "name" : "outline");
    std::vector<const DrawnShape*> found;
    std::vector<std::string> ids;
    for (const DrawnShape& shape : drawing.shapes) {
      if (shape.id == id) found.push_back(&shape);
      if (!shape.id.empty() && extent(shape.points).maxCoeff() > kLargestMark_m) {
        ids.push_back(shape.id);
      }
    }
    if (found.empty()) {
      const std::string near = nearest(id, ids);
      return fault(at, fmt::format("the drawing has no path with the id \"{}\"", id),
                   near.empty() ? "give the path this id in your drawing program, as its object's "
                                  "name or id"
                                : fmt::format("did you mean \"{}\"?", near));
    }
    if (found.size() > 1) {
      return fault(at, fmt::format("\"{}\" is drawn as {} outlines", id, found.size()),
                   "a piece is one closed path without holes");
    }
    std::vector<Vector2d> outline = cleaned(found.front()->points);
    if (!found.front()->closed &&
        (found.front()->points.front() - found.front()->points.back()).norm() > kSamePoint_m) {
      return fault(at, fmt::format("the outline \"{}\" is not closed", id),
                   "close the path in your drawing program");
    }
    if (!check_outline(id, at, outline)) return;
    if (area_of(outline) < 0) std::reverse(outline.begin(), outline.end());
    piece.outline_m = std::move(outline);
    add_marks(drawing, id, at, piece);
    if (piece.mirrored) mirror(piece);
  }

  bool check_outline(const std::string& id, const std::string& at,
                     const std::vector<Vector2d>& outline) {
    const auto told = [&](double length_m) { return told_length(length_m, units_); };
    const double size = outline.size() < 3 ? 0 : extent(outline).maxCoeff();
    if (size > kLargestPiece_m || size < kSmallestPiece_m) {
      fault(at, fmt::format("the piece \"{}\" is {} large as drawn", id, told(size)),
            bag_.ruler_m > 0 ? "is bag.ruler the length of the line called ruler?"
                             : "is the page's size the real one? Else draw a line with the id "
                               "\"ruler\" and give bag.ruler its length");
      return false;
    }
    if (!is_simple(outline)) {
      fault(at, fmt::format("the outline \"{}\" crosses or touches itself", id),
            "draw it as one loop around the piece");
      return false;
    }
    for (std::size_t i = 0; i < outline.size(); ++i) {
      const std::size_t n = outline.size();
      const Vector2d in = outline[(i + n - 1) % n] - outline[i];
      const Vector2d out = outline[(i + 1) % n] - outline[i];
      const double angle = std::abs(std::atan2(in.x() * out.y() - in.y() * out.x(), in.dot(out)));
      if (angle >= kSharpest_rad) continue;
      fault(
          at,
          fmt::format("the outline \"{}\" has a corner of {:.0f} degrees", id, angle * 180 / M_PI),
          fmt::format("cut its tip off or round it: {:.0f} degrees are the least that can be "
                      "filled with triangles, and turned when sewn",
                      kSharpest_rad * 180 / M_PI));
      return false;
    }
    return true;
  }

  static Vector2d extent(const std::vector<Vector2d>& points) {
    Eigen::AlignedBox2d box;
    for (const Vector2d& p : points) box.extend(p);
    return box.isEmpty() ? Vector2d(0, 0) : Vector2d(box.sizes());
  }

  static double area_of(const std::vector<Vector2d>& outline) {
    double twice = 0;
    for (std::size_t i = 0; i < outline.size(); ++i) {
      const Vector2d &a = outline[i], &b = outline[(i + 1) % outline.size()];
      twice += a.x() * b.y() - a.y() * b.x();
    }
    return 0.5 * twice;
  }

  // Without points on each other.
  static std::vector<Vector2d> cleaned(const std::vector<Vector2d>& points) {
    std::vector<Vector2d> kept;
    for (const Vector2d& p : points) {
      if (kept.empty() || (kept.back() - p).norm() > kSamePoint_m) kept.push_back(p);
    }
    while (kept.size() > 1 && (kept.front() - kept.back()).norm() <= kSamePoint_m) kept.pop_back();
    return kept;
  }

  struct Spot {
    std::string name;
    double along = 0;  // index of an edge, and how far along it
    Vector2d at;
  };

  void add_marks(const SvgDrawing& drawing, const std::string& id, const std::string& at,
                 Piece& piece) {
    std::vector<Spot> spots;
    for (const DrawnShape& shape : drawing.shapes) {
      if (shape.id.empty() || shape.id == "ruler" || outlines_.count(shape.id) > 0) continue;
      if (extent(shape.points).maxCoeff() > kLargestMark_m) continue;
      const bool own = shape.id.rfind(id + ".", 0) == 0;
      if (!own && is_of_another(shape.id)) continue;
      Eigen::AlignedBox2d box;
      for (const Vector2d& p : shape.points) box.extend(p);
      double off = 0;
      Spot spot = nearest_spot(piece.outline_m, box.center(), off);
      if (off > kMarkReach_m) {
        if (own) {
          fault(at,
                fmt::format("the mark \"{}\" lies {} from the outline \"{}\"", shape.id,
                            told_length(off, units_), id),
                "a mark's middle lies on the outline");
        }
        continue;
      }
      spot.name = own ? shape.id.substr(id.size() + 1) : shape.id;
      spots.push_back(spot);
    }
    insert(spots, id, at, piece);
  }

  [[nodiscard]] bool is_of_another(const std::string& mark) const {
    return std::any_of(outlines_.begin(), outlines_.end(), [&](const std::string& outline) {
      return mark.rfind(outline + ".", 0) == 0;
    });
  }

  static Spot nearest_spot(const std::vector<Vector2d>& outline, const Vector2d& p, double& off) {
    Spot best;
    off = std::numeric_limits<double>::infinity();
    const std::size_t n = outline.size();
    const auto take_corner = [&](std::size_t i) {
      const double distance = (outline[i] - p).norm();
      if (distance >= off) return;
      off = distance;
      best.along = static_cast<double>(i);
      best.at = outline[i];
    };
    for (std::size_t i = 0; i < n; ++i) {
      if (is_sharp(outline, i)) take_corner(i);
    }
    if (off <= kMarkReach_m) return best;
    off = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < n; ++i) {
      const Vector2d edge = outline[(i + 1) % n] - outline[i];
      double share = std::clamp((p - outline[i]).dot(edge) / edge.squaredNorm(), 0.0, 1.0);
      if (share * edge.norm() < kSnap_m) share = 0;
      if ((1 - share) * edge.norm() < kSnap_m) share = 1;
      const Vector2d on = outline[i] + share * edge;
      if ((on - p).norm() >= off) continue;
      off = (on - p).norm();
      best.along = share == 1 && i + 1 == n ? 0 : static_cast<double>(i) + share;
      best.at = share == 1 ? outline[(i + 1) % n] : on;
    }
    return best;
  }

  void insert(std::vector<Spot>& spots, const std::string& id, const std::string& at,
              Piece& piece) {
    std::sort(spots.begin(), spots.end(),
              [](const Spot& a, const Spot& b) { return a.along < b.along; });
    std::set<std::string> names;
    for (std::size_t k = 0; k < spots.size(); ++k) {
      if (!names.insert(spots[k].name).second) {
        fault(at, fmt::format("two marks of \"{}\" are called {}", id, spots[k].name),
              "give each mark on an outline a name of its own");
      }
      if (k > 0 && (spots[k].at - spots[k - 1].at).norm() <= kSamePoint_m) {
        fault(at,
              fmt::format("the marks {} and {} of \"{}\" lie on each other", spots[k - 1].name,
                          spots[k].name, id),
              "move one of them along the outline");
      }
    }
    std::vector<Vector2d> outline;
    std::size_t next = 0;
    for (std::size_t i = 0; i < piece.outline_m.size(); ++i) {
      outline.push_back(piece.outline_m[i]);
      for (; next < spots.size() && spots[next].along < static_cast<double>(i + 1); ++next) {
        if (spots[next].along > static_cast<double>(i)) outline.push_back(spots[next].at);
        piece.marks.push_back({spots[next].name, static_cast<int>(outline.size()) - 1});
      }
    }
    piece.outline_m = std::move(outline);
  }

  static void mirror(Piece& piece) {
    const int n = static_cast<int>(piece.outline_m.size());
    for (Vector2d& p : piece.outline_m) p.x() = -p.x();
    std::reverse(piece.outline_m.begin(), piece.outline_m.end());
    for (PieceMark& mark : piece.marks) mark.at = n - 1 - mark.at;
    std::reverse(piece.marks.begin(), piece.marks.end());
  }

  Bag& bag_;
  const std::string& units_;
  double unit_m_ = 0;
  std::set<std::string> outlines_;
  std::vector<SewingFault> faults_;
};

}  // namespace

bool is_sharp(const std::vector<Vector2d>& outline, std::size_t corner) {
  const std::size_t n = outline.size();
  const Vector2d in = outline[corner] - outline[(corner + n - 1) % n];
  const Vector2d out = outline[(corner + 1) % n] - outline[corner];
  return std::abs(std::atan2(in.x() * out.y() - in.y() * out.x(), in.dot(out))) > kSharp_rad;
}

std::vector<SewingFault> read_pieces(Bag& bag, const std::string& units) {
  for (Piece& piece : bag.pieces) {
    piece.outline_m.clear();
    piece.marks.clear();
  }
  std::vector<SewingFault> faults = PieceReader(bag, units).run();
  if (!faults.empty()) {
    for (Piece& piece : bag.pieces) piece.outline_m.clear();
  }
  return faults;
}

}  // namespace totebench::scenes
