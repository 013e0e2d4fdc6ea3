#include "totebench/scenes/sewing.hpp"

#include <fmt/format.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <optional>
#include <set>
#include <sstream>

#include "scenes/format/told_length.hpp"
#include "totebench/scenes/nearest.hpp"

namespace totebench::scenes {
namespace {

using Eigen::Vector2d;

// Edges are eased together by hand up to here (common practice, no source); more is gathering.
constexpr double kEaseShare = 0.02;
constexpr double kEaseLeast_m = 2e-3;
constexpr double kMostGather = 4;  // longer over shorter

// One way along an outline: counter-clockwise, or against it. Stretches in the order of the words;
// each of them runs counter-clockwise all the same.
struct Way {
  bool ccw = true;
  std::vector<Stretch> stretches;
};

class Sewer {
 public:
  Sewer(const Bag& bag, const std::string& units) : bag_(bag), units_(units) {}

  Sewing run() {
    for (std::size_t i = 0; i < bag_.edges.size(); ++i) take_edge(static_cast<int>(i));
    if (out_.faults.empty()) check_cover();
    if (out_.faults.empty()) check_whole();
    if (out_.faults.empty()) measure();
    return std::move(out_);
  }

 private:
  void fault(const std::string& pointer, std::string what, std::string cure) {
    out_.faults.push_back({pointer, std::move(what), std::move(cure)});
  }
  [[nodiscard]] std::string told(double length_m) const { return told_length(length_m, units_); }
  [[nodiscard]] const Piece& piece(int i) const { return bag_.pieces[static_cast<std::size_t>(i)]; }
  [[nodiscard]] int n_marks(int i) const { return static_cast<int>(piece(i).marks.size()); }
  [[nodiscard]] const std::string& mark_name(int p, int mark) const {
    return piece(p).marks[static_cast<std::size_t>(mark)].name;
  }

  [[nodiscard]] Stretch stretch(int p, int from) const {
    Stretch s{p, from, (from + 1) % n_marks(p), 0};
    const std::vector<Vector2d> points = points_of(bag_, s);
    for (std::size_t i = 1; i < points.size(); ++i)
      s.length_m += (points[i] - points[i - 1]).norm();
    return s;
  }

  // "side left a b": the longest name of a piece that the text begins with, then marks.
  std::vector<Way> ways_of(const std::string& text, const std::string& pointer) {
    int p = -1;
    std::size_t longest = 0;
    std::vector<std::string> names;
    for (std::size_t i = 0; i < bag_.pieces.size(); ++i) {
      const std::string& name = bag_.pieces[i].name;
      names.push_back(name);
      if (text.rfind(name + " ", 0) == 0 && name.size() >= longest) {
        p = static_cast<int>(i);
        longest = name.size();
      }
    }
    if (p < 0) {
      const std::string near = nearest(text.substr(0, text.find(' ')), names);
      fault(pointer, fmt::format("\"{}\" begins with the name of no piece", text),
            near.empty() ? "write a piece and the marks along its edge, such as \"front a b\""
                         : fmt::format("did you mean \"{}\"?", near));
      return {};
    }
    std::istringstream words(text.substr(longest));
    std::vector<int> marks;
    for (std::string word; words >> word;) {
      const int mark = mark_called(p, word, pointer);
      if (mark < 0) return {};
      marks.push_back(mark);
    }
    if (marks.size() < 2) {
      fault(pointer, fmt::format("\"{}\" names no edge", text),
            "an edge runs from one mark to another: name both");
      return {};
    }
    std::vector<Way> ways;
    for (const bool ccw : {true, false}) {
      if (std::optional<Way> way = way_along(p, marks, ccw)) ways.push_back(std::move(*way));
    }
    if (ways.empty()) not_neighbours(p, marks, text, pointer);
    return ways;
  }

  int mark_called(int p, const std::string& name, const std::string& pointer) {
    std::vector<std::string> names;
    for (std::size_t m = 0; m < piece(p).marks.size(); ++m) {
      names.push_back(piece(p).marks[m].name);
      if (names.back() == name) return static_cast<int>(m);
    }
    const std::string near = nearest(name, names);
    std::string listed;
    for (const std::string& n : names) listed += (listed.empty() ? "" : ", ") + n;
    fault(pointer, fmt::format("no mark {} lies on the piece \"{}\"", name, piece(p).name),
          names.empty()  ? "draw a small circle on its outline and give it that id"
          : near.empty() ? fmt::format("its marks are {}", listed)
                         : fmt::format("did you mean {}? Its marks are {}", near, listed));
    return -1;
  }

  [[nodiscard]] std::optional<Way> way_along(int p, const std::vector<int>& marks, bool ccw) const {
    Way way;
    way.ccw = ccw;
    for (std::size_t k = 0; k + 1 < marks.size(); ++k) {
      const int first = ccw ? marks[k] : marks[k + 1], second = ccw ? marks[k + 1] : marks[k];
      const Stretch s = stretch(p, first);
      if (s.to != second) return std::nullopt;
      way.stretches.push_back(s);
    }
    return way;
  }

  // Which marks are missing between two that are named one after the other?
  void not_neighbours(int p, const std::vector<int>& marks, const std::string& text,
                      const std::string& pointer) {
    std::string cure = "name all marks on the way in order";
    for (std::size_t k = 0; k + 1 < marks.size(); ++k) {
      const int n = n_marks(p);
      const int between = (marks[k + 1] - marks[k] + n) % n - 1;
      const int other = n - 2 - between;
      if (between <= 0 || other <= 0) continue;
      const bool ccw = between <= other;
      std::string skipped;
      for (int i = 1; i <= (ccw ? between : other); ++i) {
        skipped += " " + mark_name(p, ccw ? (marks[k] + i) % n : (marks[k] - i + n) % n);
      }
      cure = fmt::format("between {} and {} lies{}: name it too", mark_name(p, marks[k]),
                         mark_name(p, marks[k + 1]), skipped);
      break;
    }
    fault(pointer,
          fmt::format("the marks of \"{}\" do not follow each other along the outline", text),
          cure);
  }

  void ambiguous(const std::string& text, const std::string& pointer) {
    fault(pointer, fmt::format("\"{}\" can be either way round the piece", text),
          "draw one more mark on the outline and name it on the way it is meant");
  }

  void take_edge(int e) {
    const PieceEdge& edge = bag_.edges[static_cast<std::size_t>(e)];
    const std::string at = fmt::format("/bag/edges/{}", e);
    std::vector<Way> first = ways_of(edge.edge, at + "/edge");
    if (first.empty()) return;
    if (edge.use == EdgeUse::kOpening) {
      if (first.size() > 1) return ambiguous(edge.edge, at + "/edge");
      for (const Stretch& s : first[0].stretches) out_.joints.push_back({s, {}, edge.use, e});
      return;
    }
    if (edge.use == EdgeUse::kPleat) {
      if (first.size() > 1) return ambiguous(edge.edge, at + "/edge");
      return pleat(first[0], e);
    }
    if (edge.to.empty()) {
      return fault(at, fmt::format("what \"{}\" is sewn to is not said", edge.edge),
                   "give \"to\", or set \"as\" to \"opening\"");
    }
    std::vector<Way> second = ways_of(edge.to, at + "/to");
    if (second.empty()) return;
    // Seen from the right side both, one runs with its outline and the other against it.
    std::vector<std::pair<const Way*, const Way*>> fitting;
    for (const Way& a : first) {
      for (const Way& b : second) {
        if (a.ccw != b.ccw) fitting.emplace_back(&a, &b);
      }
    }
    if (fitting.empty()) {
      return fault(
          at + "/to",
          fmt::format("\"{}\" would be sewn to \"{}\" with a wrong side out", edge.edge, edge.to),
          "name the marks the other way round, or set \"mirrored\" on one of the pieces");
    }
    if (fitting.size() > 1) return ambiguous(edge.edge, at + "/edge");
    join(*fitting[0].first, *fitting[0].second, e);
  }

  // Half its edge on the other half: flat cloth closed so about the middle mark is a cone whose
  // angle is pi, a layer laid double about the fold that runs down from there.
  void pleat(const Way& way, int e) {
    const PieceEdge& edge = bag_.edges[static_cast<std::size_t>(e)];
    const std::string at = fmt::format("/bag/edges/{}/edge", e);
    if (way.stretches.size() != 2) {
      return fault(
          at, fmt::format("the pleat \"{}\" has {} marks", edge.edge, way.stretches.size() + 1),
          "a pleat has three: it is folded at the second, and the first lies on the third");
    }
    const Stretch &s = way.stretches[0], &t = way.stretches[1];
    if (std::abs(s.length_m - t.length_m) > ease(s, t)) {
      return fault(at,
                   fmt::format("the pleat \"{}\" is {} to its fold and {} beyond it", edge.edge,
                               told(s.length_m), told(t.length_m)),
                   "draw the second of its marks in the middle of the others");
    }
    out_.joints.push_back({s, t, EdgeUse::kSeam, e});
  }

  // By how much two edges may differ that are sewn together without gathering.
  [[nodiscard]] static double ease(const Stretch& s, const Stretch& t) {
    return std::max(kEaseLeast_m, kEaseShare * std::min(s.length_m, t.length_m));
  }

  void join(const Way& a, const Way& b, int e) {
    const PieceEdge& edge = bag_.edges[static_cast<std::size_t>(e)];
    const std::string at = fmt::format("/bag/edges/{}", e);
    if (a.stretches.size() != b.stretches.size()) {
      return fault(at + "/to",
                   fmt::format("\"{}\" has {} marks and \"{}\" {}", edge.edge,
                               a.stretches.size() + 1, edge.to, b.stretches.size() + 1),
                   "edges are sewn mark on mark: name as many on both");
    }
    for (std::size_t k = 0; k < a.stretches.size(); ++k) {
      const Stretch &s = a.stretches[k], &t = b.stretches[k];
      const double longer = std::max(s.length_m, t.length_m);
      const double shorter = std::min(s.length_m, t.length_m);
      if (!edge.gathered && longer - shorter > ease(s, t)) {
        return fault(
            at,
            fmt::format("\"{}\" is {} long from {} to {}, but \"{}\" is {}", edge.edge,
                        told(s.length_m), mark_name(s.piece, a.ccw ? s.from : s.to),
                        mark_name(s.piece, a.ccw ? s.to : s.from), edge.to, told(t.length_m)),
            fmt::format("draw them equally long (up to {:.0f} % is eased in), or set "
                        "\"gathered\"",
                        100 * kEaseShare));
      }
      if (longer > kMostGather * shorter) {
        return fault(
            at,
            fmt::format("{} of \"{}\" gathered to {} are more than {} times as long", told(longer),
                        s.length_m > t.length_m ? edge.edge : edge.to, told(shorter), kMostGather),
            "so much cloth does not go under a presser foot: gather less");
      }
      out_.joints.push_back({s, t, edge.use, e});
    }
  }

  void check_cover() {
    std::map<std::pair<int, int>, int> uses;  // piece and first mark, to the edge
    const auto use = [&](const Stretch& s, int edge) {
      const auto [entry, is_new] = uses.try_emplace({s.piece, s.from}, edge);
      if (is_new) return;
      fault(fmt::format("/bag/edges/{}", edge),
            fmt::format("the edge of \"{}\" from {} to {} is used twice", piece(s.piece).name,
                        mark_name(s.piece, s.from), mark_name(s.piece, s.to)),
            fmt::format("it is in edge {} already: take it out of one", entry->second + 1));
    };
    for (const Joint& joint : out_.joints) {
      use(joint.a, joint.edge);
      if (!joint.is_opening()) use(joint.b, joint.edge);
    }
    for (int p = 0; p < static_cast<int>(bag_.pieces.size()); ++p) {
      for (int m = 0; m < n_marks(p); ++m) {
        if (uses.count({p, m}) > 0) continue;
        fault("/bag/edges",
              fmt::format("the edge of \"{}\" from {} to {} is sewn to nothing", piece(p).name,
                          mark_name(p, m), mark_name(p, (m + 1) % n_marks(p))),
              "add it to the edges, as a seam, a fold, a pleat or part of the opening");
      }
      if (n_marks(p) == 0) {
        fault(fmt::format("/bag/pieces/{}", p),
              fmt::format("no marks lie on the outline of \"{}\"", piece(p).name),
              "draw a small circle with an id at every corner that seams begin or end at");
      }
    }
  }

  // Of numbers that are made one, the smallest.
  struct Classes {
    std::vector<int> of;
    explicit Classes(int n) : of(static_cast<std::size_t>(n)) {
      std::iota(of.begin(), of.end(), 0);
    }
    int find(int i) {
      while (of[static_cast<std::size_t>(i)] != i) i = of[static_cast<std::size_t>(i)];
      return i;
    }
    void join(int i, int k) {
      i = find(i), k = find(k);
      of[static_cast<std::size_t>(std::max(i, k))] = std::min(i, k);
    }
  };

  void check_whole() {
    const int n_pieces = static_cast<int>(bag_.pieces.size());
    std::vector<int> first_mark{0};
    for (int p = 0; p < n_pieces; ++p) first_mark.push_back(first_mark.back() + n_marks(p));
    const auto corner = [&](int p, int mark) {
      return first_mark[static_cast<std::size_t>(p)] + mark;
    };
    Classes corners(first_mark.back()), pieces(n_pieces);
    for (const Joint& joint : out_.joints) {
      if (joint.is_opening()) continue;
      corners.join(corner(joint.a.piece, joint.a.from), corner(joint.b.piece, joint.b.to));
      corners.join(corner(joint.a.piece, joint.a.to), corner(joint.b.piece, joint.b.from));
      pieces.join(joint.a.piece, joint.b.piece);
    }
    for (int p = 1; p < n_pieces; ++p) {
      if (pieces.find(p) == 0) continue;
      return fault(fmt::format("/bag/pieces/{}", p),
                   fmt::format("\"{}\" is not joined to \"{}\", not even by way of other pieces",
                               piece(p).name, piece(0).name),
                   "sew one of its edges to the rest of the bag");
    }
    std::map<int, int> numbers;  // of the corners, in the order of their first marks
    for (int p = 0; p < n_pieces; ++p) {
      std::vector<int>& of_piece = out_.corner.emplace_back();
      for (int m = 0; m < n_marks(p); ++m) {
        const int next = static_cast<int>(numbers.size());
        of_piece.push_back(numbers.try_emplace(corners.find(corner(p, m)), next).first->second);
      }
    }
    // The rims of the openings: at each corner of one, two edges of it meet.
    std::map<int, int> rims;
    Classes rim_corners(first_mark.back());
    int n_rim_edges = 0;
    for (const Joint& joint : out_.joints) {
      if (!joint.is_opening()) continue;
      const int from = corners.find(corner(joint.a.piece, joint.a.from));
      const int to = corners.find(corner(joint.a.piece, joint.a.to));
      ++rims[from];
      ++rims[to];
      ++n_rim_edges;
      rim_corners.join(from, to);
    }
    if (n_rim_edges == 0) {
      return fault("/bag/edges", "the bag has no opening",
                   "add the edges at its top with \"as\": \"opening\"");
    }
    std::set<int> openings;
    for (const auto& [vertex, n] : rims) {
      openings.insert(rim_corners.find(vertex));
      if (n != 2) {
        return fault("/bag/edges", "two openings touch each other at a mark",
                     "a bag has one opening; sew the other shut");
      }
    }
    if (openings.size() != 1) {
      return fault("/bag/edges",
                   fmt::format("the pieces as sewn have {} openings", openings.size()),
                   "a bag has one: sew the others shut");
    }
    const int euler =
        static_cast<int>(numbers.size()) - static_cast<int>(out_.joints.size()) + n_pieces;
    if (euler != 1) {
      fault("/bag/edges", "the pieces as sewn make a tube or a ring through the bag, not a bag",
            "look for edges that are sewn to the wrong neighbour");
    }
  }

  [[nodiscard]] double mean_height(const Stretch& stretch) const {
    const std::vector<Vector2d> points = points_of(bag_, stretch);
    double sum = 0;
    for (std::size_t i = 1; i < points.size(); ++i) {
      sum += 0.5 * (points[i - 1].y() + points[i].y()) * (points[i] - points[i - 1]).norm();
    }
    return sum / stretch.length_m;
  }

  // What is added to a piece's heights as drawn, so that the highest place of the opening is at 0
  // on each that has part of it, and the others hang on those by their seams. Base pieces: 0.
  [[nodiscard]] std::vector<double> heights(const std::vector<Eigen::AlignedBox2d>& rim) const {
    std::vector<double> up(rim.size(), 0);
    std::vector<char> known(rim.size(), 0);
    for (std::size_t p = 0; p < rim.size(); ++p) {
      if (bag_.pieces[p].layers == PieceLayers::kBase || rim[p].isEmpty()) continue;
      up[p] = -rim[p].max().y();
      known[p] = 1;
    }
    for (bool more = true; more;) {
      more = false;
      for (const Joint& joint : out_.joints) {
        if (joint.is_opening()) continue;
        const Stretch *from = &joint.a, *to = &joint.b;
        if (known[static_cast<std::size_t>(from->piece)] == 0) std::swap(from, to);
        const auto above = static_cast<std::size_t>(from->piece);
        const auto below = static_cast<std::size_t>(to->piece);
        if (known[above] == 0 || known[below] != 0) continue;
        if (bag_.pieces[below].layers == PieceLayers::kBase) continue;
        up[below] = up[above] + mean_height(*from) - mean_height(*to);
        known[below] = 1;
        more = true;
      }
    }
    return up;
  }

  void measure() {
    const std::size_t n = bag_.pieces.size();
    std::vector<Eigen::AlignedBox2d> whole(n), rim(n);
    Eigen::AlignedBox2d base;
    for (std::size_t p = 0; p < n; ++p) {
      const std::vector<Vector2d>& outline = bag_.pieces[p].outline_m;
      for (std::size_t i = 0; i < outline.size(); ++i) {
        const Vector2d &a = outline[i], &b = outline[(i + 1) % outline.size()];
        whole[p].extend(a);
        out_.area_m2 += 0.5 * (a.x() * b.y() - a.y() * b.x());
      }
      if (bag_.pieces[p].layers == PieceLayers::kBase) base.extend(whole[p]);
    }
    for (const Joint& joint : out_.joints) {
      if (!joint.is_opening()) continue;
      out_.opening_m += joint.a.length_m;
      for (const Vector2d& point : points_of(bag_, joint.a)) {
        rim[static_cast<std::size_t>(joint.a.piece)].extend(point);
      }
    }
    const std::vector<double> up = heights(rim);
    for (std::size_t p = 0; p < n; ++p) {
      if (bag_.pieces[p].layers == PieceLayers::kBase) continue;
      out_.height_m = std::max(out_.height_m, -up[p] - whole[p].min().y());
    }
    for (std::size_t p = 0; p < n; ++p) {
      const Eigen::AlignedBox2d& middle = rim[p].isEmpty() ? whole[p] : rim[p];
      Vector2d shift(-middle.center().x(), up[p] + out_.height_m);
      if (bag_.pieces[p].layers == PieceLayers::kBase) shift = -base.center();
      out_.shift_m.push_back(shift);
    }
    const int front = piece_called(bag_, "front");
    out_.width_m = out_.opening_m / 2;
    if (front >= 0 && !rim[static_cast<std::size_t>(front)].isEmpty()) {
      out_.width_m = rim[static_cast<std::size_t>(front)].sizes().x();
    }
    if (!base.isEmpty()) {
      out_.base_width_m = base.sizes().x();
      out_.base_depth_m = base.sizes().y();
    }
  }

  const Bag& bag_;
  const std::string& units_;
  Sewing out_;
};

}  // namespace

std::vector<Vector2d> points_of(const Bag& bag, const Stretch& stretch) {
  const Piece& piece = bag.pieces[static_cast<std::size_t>(stretch.piece)];
  const int n = static_cast<int>(piece.outline_m.size());
  const int from = piece.marks[static_cast<std::size_t>(stretch.from)].at;
  int to = piece.marks[static_cast<std::size_t>(stretch.to)].at;
  if (to <= from) to += n;
  std::vector<Vector2d> points;
  for (int i = from; i <= to; ++i)
    points.push_back(piece.outline_m[static_cast<std::size_t>(i % n)]);
  return points;
}

double warp_of(const Piece& piece) {
  return M_PI / 2 + (piece.mirrored ? -piece.warp_angle_rad : piece.warp_angle_rad);
}

int piece_called(const Bag& bag, const std::string& name) {
  for (std::size_t i = 0; i < bag.pieces.size(); ++i) {
    if (bag.pieces[i].name == name) return static_cast<int>(i);
  }
  return -1;
}

Sewing sew(const Bag& bag, const std::string& units) { return Sewer(bag, units).run(); }

}  // namespace totebench::scenes
