#include "totebench/scenes/drawn_pieces.hpp"

#include <fmt/format.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>
#include <set>
#include <stdexcept>

#include "scenes/patterns/pattern.hpp"
#include "totebench/scenes/build.hpp"
#include "totebench/scenes/reader.hpp"

namespace totebench::scenes {
namespace {

using Eigen::Vector2d;
using Json = nlohmann::ordered_json;

constexpr double kGap_mm = 30;
constexpr double kMarkRadius_mm = 2;
constexpr std::size_t kFewestMarks = 3;  // with two, an edge can be either way round

class PieceDrawer {
 public:
  PieceDrawer(const Scene& scene, const std::string& file)
      : scene_(scene), file_(file), pattern_(make_pattern(scene, scene.mesh.size_m)) {}

  DrawnPieces run() {
    name_pieces();
    find_users();
    find_marks();
    DrawnPieces drawn;
    drawn.svg = svg();
    Json scene = Json::parse(resolved_json(scene_));
    Json bag = {{"shape", "pieces"}, {"file", file_}};
    bag["pieces"] = pieces();
    bag["edges"] = edges();
    for (const char* key : {"seam_allowance", "hem"}) bag[key] = scene["bag"][key];
    scene["bag"] = std::move(bag);
    drawn.scene = scene.dump(2) + "\n";
    return drawn;
  }

 private:
  [[nodiscard]] const PatternFace& face(std::size_t f) const { return pattern_.faces[f]; }
  [[nodiscard]] const PatternEdge& edge(int e) const {
    return pattern_.edges[static_cast<std::size_t>(e)];
  }

  void name_pieces() {
    std::map<std::string, int> used;
    for (const PatternFace& f : pattern_.faces) {
      const int n = ++used[f.part];
      names_.push_back(n == 1 ? f.part : fmt::format("{} {}", f.part, n));
    }
  }

  [[nodiscard]] std::string id(std::size_t f) const {
    std::string id = names_[f];
    std::replace(id.begin(), id.end(), ' ', '_');
    return id;
  }

  void find_users() {
    for (std::size_t f = 0; f < pattern_.faces.size(); ++f) {
      for (const int e : face(f).edges) users_[e].push_back(f);
    }
  }

  // The face across an edge; the same for none.
  [[nodiscard]] std::size_t across(std::size_t f, int e) const {
    for (const std::size_t other : users_.at(e)) {
      if (other != f) return other;
    }
    return f;
  }

  // A corner is marked where the edges beside it have other neighbours, on any face.
  void find_marks() {
    for (std::size_t f = 0; f < pattern_.faces.size(); ++f) {
      const std::size_t n = face(f).edges.size();
      for (std::size_t i = 0; i < n; ++i) {
        const int before = face(f).edges[(i + n - 1) % n], after = face(f).edges[i];
        if (edge(before).label != edge(after).label || across(f, before) != across(f, after)) {
          marked_.insert(face(f).corners[i]);
        }
      }
    }
    for (std::size_t f = 0; f < pattern_.faces.size(); ++f) {
      // In the middle of the longest way without one.
      while (spans(f).size() < kFewestMarks) {
        const std::vector<Span> all = spans(f);
        const Span longest = *std::max_element(
            all.begin(), all.end(), [](const Span& a, const Span& b) { return a.n < b.n; });
        if (longest.n < 2) break;
        const std::size_t n = face(f).corners.size();
        marked_.insert(face(f).corners[(longest.first + longest.n / 2) % n]);
      }
    }
  }

  // Sides `first` to `first + n` of a face, between two marks.
  struct Span {
    std::size_t first = 0, n = 0;
  };
  [[nodiscard]] std::vector<Span> spans(std::size_t f) const {
    std::vector<Span> all;
    const std::size_t n = face(f).corners.size();
    for (std::size_t i = 0; i < n; ++i) {
      if (marked_.count(face(f).corners[i]) == 0) continue;
      Span span{i, 1};
      while (marked_.count(face(f).corners[(i + span.n) % n]) == 0) ++span.n;
      all.push_back(span);
    }
    return all;
  }

  [[nodiscard]] std::string mark(std::size_t f, int corner) const {
    int letter = 0;
    for (const int c : face(f).corners) {
      if (c == corner) break;
      letter += marked_.count(c) > 0 ? 1 : 0;
    }
    return letter < 26 ? std::string(1, static_cast<char>('a' + letter))
                       : fmt::format("m{}", letter);
  }

  [[nodiscard]] std::string svg() const {
    Vector2d at(kGap_mm, kGap_mm);  // upper left of the next piece
    double low = 0, right = 0;
    std::string shapes;
    const auto draw = [&](std::size_t f, const Vector2d& origin) {
      std::string d;
      for (const Vector2d& uv : face(f).outline) {
        const Vector2d p = origin + 1e3 * Vector2d(uv.x(), -uv.y());
        d += fmt::format("{}{:.6f} {:.6f}", d.empty() ? "M" : " L", p.x(), p.y());
      }
      shapes += fmt::format("  <path id=\"{}\" d=\"{} Z\"/>\n", id(f), d);
      for (std::size_t i = 0; i < face(f).corners.size(); ++i) {
        if (marked_.count(face(f).corners[i]) == 0) continue;
        const Vector2d uv = face(f).outline[i];
        const Vector2d p = origin + 1e3 * Vector2d(uv.x(), -uv.y());
        shapes += fmt::format("  <circle id=\"{}.{}\" cx=\"{:.6f}\" cy=\"{:.6f}\" r=\"{}\"/>\n",
                              id(f), mark(f, face(f).corners[i]), p.x(), p.y(), kMarkRadius_mm);
      }
    };
    const auto box_of = [&](bool wall) {
      Eigen::AlignedBox2d box;
      for (const PatternFace& f : pattern_.faces) {
        if (f.wall != wall) continue;
        for (const Vector2d& uv : f.outline) box.extend(1e3 * uv);
      }
      return box;
    };
    for (std::size_t f = 0; f < pattern_.faces.size(); ++f) {
      if (!face(f).wall) continue;
      Eigen::AlignedBox2d box;
      for (const Vector2d& uv : face(f).outline) box.extend(1e3 * uv);
      draw(f, at + Vector2d(-box.min().x(), box.max().y()));
      at.x() += box.sizes().x() + kGap_mm;
      low = std::max(low, at.y() + box.sizes().y());
      right = std::max(right, at.x());
    }
    // The pieces of the base keep their places to each other.
    const Eigen::AlignedBox2d base = box_of(false);
    if (!base.isEmpty()) {
      const Vector2d origin =
          Vector2d(kGap_mm, low + kGap_mm) + Vector2d(-base.min().x(), base.max().y());
      for (std::size_t f = 0; f < pattern_.faces.size(); ++f) {
        if (!face(f).wall) draw(f, origin);
      }
      low += kGap_mm + base.sizes().y();
      right = std::max(right, 2 * kGap_mm + base.sizes().x());
    }
    low += kGap_mm;
    return fmt::format(
               "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0:.3f}mm\" height=\"{1:.3f}mm\" "
               "viewBox=\"0 0 {0:.3f} {1:.3f}\" fill=\"none\" stroke=\"#222\" "
               "stroke-width=\"0.6\">\n",
               right, low) +
           shapes + "</svg>\n";
  }

  [[nodiscard]] Json pieces() const {
    Json list = Json::array();
    for (std::size_t f = 0; f < pattern_.faces.size(); ++f) {
      Json piece = {{"name", names_[f]}};
      if (id(f) != names_[f]) piece["outline"] = id(f);
      if (!face(f).wall) piece["layers"] = "base";
      const double warp =
          face(f).wall ? scene_.bag.warp_angle_rad : scene_.bag.base_warp_angle_rad - M_PI / 2;
      if (warp != 0) piece["warp_angle"] = quantity_text(warp, Dimension::kAngle);
      list.push_back(std::move(piece));
    }
    return list;
  }

  [[nodiscard]] Json edges() const {
    Json list = Json::array();
    for (std::size_t f = 0; f < pattern_.faces.size(); ++f) {
      const std::size_t n = face(f).corners.size();
      for (const Span& span : spans(f)) {
        const int e = face(f).edges[span.first];
        const std::size_t other = across(f, e);
        if (other < f) continue;  // told from there
        const int first = face(f).corners[span.first];
        const int last = face(f).corners[(span.first + span.n) % n];
        const auto words = [&](std::size_t g) {
          return fmt::format("{} {} {}", names_[g], mark(g, first), mark(g, last));
        };
        Json entry = {{"edge", words(f)}};
        if (edge(e).label == kEdgeOpening) {
          entry["as"] = "opening";
        } else {
          if (!edge(e).sewn) entry["as"] = "fold";
          entry["to"] = words(other);
        }
        list.push_back(std::move(entry));
      }
    }
    return list;
  }

  const Scene& scene_;
  const std::string& file_;
  Pattern pattern_;
  std::vector<std::string> names_;
  std::map<int, std::vector<std::size_t>> users_;  // of an edge
  std::set<int> marked_;                           // corners
};

}  // namespace

DrawnPieces drawn_pieces(const Scene& scene, const std::string& file) {
  if (scene.kind != SceneKind::kTote) {
    throw std::invalid_argument("only a tote has pieces to draw; this is a sheet");
  }
  if (scene.bag.shape == BagShape::kPieces) {
    throw std::invalid_argument("this bag is made of pieces already, in " + scene.bag.file);
  }
  if (scene.bag.upper_height_m > 0 || scene.bag.lengthwise_seams > 0) {
    throw std::invalid_argument(
        "crosswise and lengthwise seams are not drawn as pieces: take out upper_height and "
        "lengthwise_seams, and cut the pieces there in your drawing program");
  }
  return PieceDrawer(scene, file).run();
}

}  // namespace totebench::scenes
