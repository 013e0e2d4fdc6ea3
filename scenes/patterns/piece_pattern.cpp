#include "scenes/patterns/piece_pattern.hpp"

#include <algorithm>
#include <cmath>
#include <deque>
#include <limits>
#include <memory>
#include <mutex>
#include <stdexcept>
#include <utility>

#include "scenes/patterns/assembly.hpp"
#include "scenes/pieces/drawing.hpp"
#include "totebench/scenes/base_shape.hpp"
#include "totebench/scenes/build.hpp"
#include "totebench/scenes/sewing.hpp"

namespace totebench::scenes {
namespace {

using Eigen::Vector2d;
using Eigen::Vector3d;

// Triangles of the mesh on which pieces are brought together.
constexpr double kAssemblyTriangles = 800;
constexpr int kFewestOfOpening = 2;  // chords: two rims between the same corners never meet
constexpr int kFewestOfLoop = 4;     // chords of a stretch from a mark to itself
constexpr double kSamePlace = 1e-4;  // of a stretch, two places on it are one
// What is drawn level or upright to within this is so: the lines of strap ends end there.
constexpr double kStraight_m = 0.2e-3;
// The strip that carries the contents of a bag without a base: how high at most, of the height.
constexpr double kMostStripShare = 0.35;
constexpr double kStripStep = 0.01;
constexpr double kLeastStripAngle_rad = 38 * M_PI / 180;
constexpr double kStraightRun_m = 8e-3;  // longer chords are no part of a curve
constexpr std::size_t kMostKept = 8;     // assembled bags

// A stretch by the share of its length.
class Curve {
 public:
  explicit Curve(std::vector<Vector2d> points) : points_(std::move(points)), along_{0} {
    for (std::size_t i = 1; i < points_.size(); ++i) {
      along_.push_back(along_.back() + (points_[i] - points_[i - 1]).norm());
    }
  }
  [[nodiscard]] double length_m() const { return along_.back(); }
  [[nodiscard]] Vector2d at(double share) const {
    const double s = share * along_.back();
    const auto next = std::upper_bound(along_.begin() + 1, along_.end() - 1, s);
    const auto i = static_cast<std::size_t>(next - along_.begin());
    const double t = (s - along_[i - 1]) / (along_[i] - along_[i - 1]);
    if (t >= 1) return points_[i];
    return points_[i - 1] + t * (points_[i] - points_[i - 1]);
  }
  // Shares of the corners between its ends, and of the ends of what is drawn straight.
  [[nodiscard]] std::vector<double> corners() const {
    std::vector<double> shares;
    for (std::size_t i = 1; i + 1 < points_.size(); ++i) {
      const double longest = std::max(along_[i] - along_[i - 1], along_[i + 1] - along_[i]);
      if (is_sharp(points_, i) || longest > kStraightRun_m) {
        shares.push_back(along_[i] / along_.back());
      }
    }
    return shares;
  }
  // The least angle, rad, at which it crosses the level v or has a corner there.
  [[nodiscard]] double crossing_angle(double v) const {
    double least = M_PI / 2;
    for (std::size_t i = 1; i < points_.size(); ++i) {
      const double a = points_[i - 1].y() - v, b = points_[i].y() - v;
      if ((a < 0) == (b < 0)) continue;
      const Vector2d way = (points_[i] - points_[i - 1]).cwiseAbs();
      least = std::min(least, std::atan2(way.y(), way.x()));
    }
    return least;
  }
  // How far it turns between two shares, corners at the ends left out.
  [[nodiscard]] double turn(double from, double to) const {
    double sum = 0;
    const double low = from * along_.back(), high = to * along_.back();
    for (std::size_t i = 1; i + 1 < points_.size(); ++i) {
      if (along_[i] <= low + 1e-9 || along_[i] >= high - 1e-9) continue;
      const Vector2d in = points_[i] - points_[i - 1], out = points_[i + 1] - points_[i];
      sum += std::abs(std::atan2(in.x() * out.y() - in.y() * out.x(), in.dot(out)));
    }
    return sum;
  }

 private:
  std::vector<Vector2d> points_;
  std::vector<double> along_;  // m from the first point
};

// Where the pieces lie when they have been brought together: a mesh of its own, by face.
class Assembled {
 public:
  Assembled(const Pattern& pattern, const PatternMesh& mesh, const std::vector<char>& front)
      : triangles_(pattern.faces.size()) {
    const std::vector<Vector3d> points = assembled(mesh, front);
    for (const PatternMesh::FaceTriangle& t : mesh.triangles) {
      Placed placed;
      for (int k = 0; k < 3; ++k) {
        placed.uv[k] = t.uv[k];
        placed.x[k] = points[static_cast<std::size_t>(t.point[k])];
      }
      triangles_[static_cast<std::size_t>(t.face)].push_back(placed);
    }
  }

  // On the triangle that holds `uv`, or goes on from the one nearest to it.
  [[nodiscard]] Vector3d place(std::size_t face, const Vector2d& uv) const {
    double best = std::numeric_limits<double>::infinity();
    Vector3d x = Vector3d::Zero();
    for (const Placed& t : triangles_[face]) {
      const Vector2d e1 = t.uv[1] - t.uv[0], e2 = t.uv[2] - t.uv[0], p = uv - t.uv[0];
      const double twice = e1.x() * e2.y() - e1.y() * e2.x();
      const double b = (p.x() * e2.y() - p.y() * e2.x()) / twice;
      const double c = (e1.x() * p.y() - e1.y() * p.x()) / twice;
      const double outside = -std::min({b, c, 1 - b - c, 0.0}) * std::sqrt(twice);
      if (outside >= best) continue;
      best = outside;
      x = (1 - b - c) * t.x[0] + b * t.x[1] + c * t.x[2];
      if (outside == 0) break;
    }
    return x;
  }

 private:
  struct Placed {
    std::array<Vector2d, 3> uv;
    std::array<Vector3d, 3> x;
  };
  std::vector<std::vector<Placed>> triangles_;
};

class PieceFaces {
 public:
  PieceFaces(const Bag& bag, double size_m) : bag_(bag), size_m_(size_m), sewing_(sew(bag, "cm")) {
    if (!sewing_.faults.empty()) {
      throw std::invalid_argument(sewing_.faults.front().what + ": " + sewing_.faults.front().cure);
    }
    pattern_.height_m = sewing_.height_m;
    pattern_.curved_opening = true;
    if (!has_flat_base(bag)) pattern_.base_strip_m = strip_m();
  }

  // Faces that are placed nowhere yet.
  Pattern make() {
    for (const std::vector<int>& of_piece : sewing_.corner) {
      for (const int corner : of_piece) {
        if (corner == static_cast<int>(pattern_.corners.size())) new_corner();
      }
    }
    sides_.resize(bag_.pieces.size());
    for (const Joint& joint : sewing_.joints) divide(joint);
    for (std::size_t p = 0; p < bag_.pieces.size(); ++p) add_face(p);
    return std::move(pattern_);
  }

 private:
  // Low, but where it meets no outline at so small an angle that no good triangle fits.
  [[nodiscard]] double strip_m() const {
    for (double share = kBaseStripShare; share < kMostStripShare; share += kStripStep) {
      const double v = share * sewing_.height_m;
      double least = M_PI / 2;
      for (const Joint& joint : sewing_.joints) {
        least = std::min(least, curve_of(joint.a).crossing_angle(v));
        if (!joint.is_opening()) least = std::min(least, curve_of(joint.b).crossing_angle(v));
      }
      if (least >= kLeastStripAngle_rad) return v;
    }
    throw std::invalid_argument(
        "the lowest part of the bag runs out too flat to say on what its contents rest: give "
        "one of the pieces \"layers\": \"base\"");
  }

  // One stretch as chords: corners and edges along it, counter-clockwise.
  struct Side {
    int from = 0;                  // mark, to put sides in order
    std::vector<Vector2d> points;  // all but the last
    std::vector<int> corners;      // of these
    std::vector<int> edges;
  };

  [[nodiscard]] int mark_corner(int piece, int mark) const {
    return sewing_.corner[static_cast<std::size_t>(piece)][static_cast<std::size_t>(mark)];
  }

  int new_corner() {
    pattern_.corners.emplace_back(Vector3d::Zero());
    return static_cast<int>(pattern_.corners.size()) - 1;
  }

  // A stretch in its face's coordinates. What is drawn nearly level at the top or upright at the
  // ends of the opening is made so.
  [[nodiscard]] Curve curve_of(const Stretch& stretch) const {
    const auto p = static_cast<std::size_t>(stretch.piece);
    std::vector<Vector2d> points = points_of(bag_, stretch);
    const bool wall = bag_.pieces[p].layers != PieceLayers::kBase;
    for (Vector2d& point : points) {
      point += sewing_.shift_m[p];
      if (!wall) continue;
      if (std::abs(point.y() - sewing_.height_m) < kStraight_m) point.y() = sewing_.height_m;
      const double edge = std::copysign(0.5 * sewing_.width_m, point.x());
      if (std::abs(point.x() - edge) < kStraight_m) point.x() = edge;
    }
    return Curve(std::move(points));
  }

  void divide(const Joint& joint) {
    const Curve a = curve_of(joint.a);
    std::optional<Curve> b;
    std::vector<double> stops{0, 1};
    const auto stop_at = [&](double share) {
      if (std::none_of(stops.begin(), stops.end(),
                       [&](double s) { return std::abs(s - share) < kSamePlace; })) {
        stops.push_back(share);
      }
    };
    for (const double s : a.corners()) stop_at(s);
    if (!joint.is_opening()) {
      b = curve_of(joint.b);
      for (const double s : b->corners()) stop_at(1 - s);
    }
    std::sort(stops.begin(), stops.end());
    const int first = mark_corner(joint.a.piece, joint.a.from);
    const int last = mark_corner(joint.a.piece, joint.a.to);
    int fewest =
        joint.is_opening() && a.length_m() < kFewestOfOpening * size_m_ ? kFewestOfOpening : 1;
    if (first == last) fewest = kFewestOfLoop;
    fewest = static_cast<int>(std::ceil(fewest / static_cast<double>(stops.size() - 1)));
    std::vector<double> shares{0};
    for (std::size_t i = 1; i < stops.size(); ++i) {
      const double from = stops[i - 1], to = stops[i];
      double turn = a.turn(from, to);
      if (b) turn = std::max(turn, b->turn(1 - to, 1 - from));
      const int n = std::max(fewest, static_cast<int>(std::ceil(turn / kChordTurn_rad - 1e-6)));
      for (int k = 1; k <= n; ++k) shares.push_back(k == n ? to : from + (to - from) * k / n);
    }
    lay(joint, a, b, shares, first, last);
  }

  void lay(const Joint& joint, const Curve& a, const std::optional<Curve>& b,
           const std::vector<double>& shares, int first, int last) {
    const std::size_t n = shares.size() - 1;
    std::vector<int> corners{first}, edges;
    for (std::size_t k = 1; k < n; ++k) corners.push_back(new_corner());
    corners.push_back(last);
    const int label = label_of(joint);
    const bool sewn = joint.use == EdgeUse::kSeam;
    Side on_a{joint.a.from, {}, {}, {}}, on_b{joint.b.from, {}, {}, {}};
    for (std::size_t k = 0; k < n; ++k) {
      edges.push_back(static_cast<int>(pattern_.edges.size()));
      pattern_.edges.push_back({corners[k], corners[k + 1], label, sewn});
      on_a.points.push_back(a.at(shares[k]));
      on_a.corners.push_back(corners[k]);
      on_a.edges.push_back(edges[k]);
    }
    for (std::size_t k = n; b && k > 0; --k) {
      on_b.points.push_back(b->at(1 - shares[k]));
      on_b.corners.push_back(corners[k]);
      on_b.edges.push_back(edges[k - 1]);
    }
    sides_[static_cast<std::size_t>(joint.a.piece)].push_back(std::move(on_a));
    if (b) sides_[static_cast<std::size_t>(joint.b.piece)].push_back(std::move(on_b));
  }

  [[nodiscard]] bool is_base(int piece) const {
    return bag_.pieces[static_cast<std::size_t>(piece)].layers == PieceLayers::kBase;
  }

  [[nodiscard]] int label_of(const Joint& joint) const {
    if (joint.is_opening()) return kEdgeOpening;
    const int bases = (is_base(joint.a.piece) ? 1 : 0) + (is_base(joint.b.piece) ? 1 : 0);
    if (bases == 1) return kEdgeBaseOutline;
    if (joint.use == EdgeUse::kFold) return kEdgeCrease;
    return bases == 2 ? kEdgeBaseSeam : kEdgeSeam;
  }

  void add_face(std::size_t p) {
    const Piece& piece = bag_.pieces[p];
    std::vector<Side>& sides = sides_[p];
    std::sort(sides.begin(), sides.end(),
              [](const Side& a, const Side& b) { return a.from < b.from; });
    PatternFace face;
    face.part = piece.name;
    face.wall = piece.layers != PieceLayers::kBase;
    face.lower = piece.layers == PieceLayers::kLower;
    face.warp_angle_rad = warp_of(piece);
    for (Side& side : sides) {
      face.outline.insert(face.outline.end(), side.points.begin(), side.points.end());
      face.corners.insert(face.corners.end(), side.corners.begin(), side.corners.end());
      face.edges.insert(face.edges.end(), side.edges.begin(), side.edges.end());
    }
    pattern_.faces.push_back(std::move(face));
  }

  const Bag& bag_;
  double size_m_;
  Sewing sewing_;
  Pattern pattern_;
  std::vector<std::vector<Side>> sides_;  // per piece
};

// A line at height v across a face, wherever that is of the piece.
void add_level_line(double v, PatternFace& face) {
  std::vector<double> on;
  for (std::size_t i = 0; i < face.outline.size(); ++i) {
    const Vector2d p = face.outline[i], q = face.outline[(i + 1) % face.outline.size()];
    const double a = p.y() - v, b = q.y() - v;
    if ((a < 0) != (b < 0)) on.push_back(p.x() + (q.x() - p.x()) * a / (a - b));
  }
  std::sort(on.begin(), on.end());
  for (std::size_t i = 0; i + 1 < on.size(); i += 2)
    face.lines.push_back({{on[i], v}, {on[i + 1], v}});
}

// The opening of a face, where it has one, is level all along.
bool has_level_opening(const Pattern& pattern, const PatternFace& face) {
  bool any = false;
  for (std::size_t i = 0; i < face.edges.size(); ++i) {
    if (pattern.edges[static_cast<std::size_t>(face.edges[i])].label != kEdgeOpening) continue;
    any = true;
    for (const std::size_t k : {i, (i + 1) % face.outline.size()}) {
      if (face.outline[k].y() != pattern.height_m) return false;
    }
  }
  return any;
}

std::vector<char> fronts_of(const Bag& bag) {
  std::vector<char> front(bag.pieces.size(), 0);
  const int named = piece_called(bag, "front");
  std::size_t chosen = 0;
  while (chosen + 1 < front.size() && bag.pieces[chosen].layers == PieceLayers::kBase) ++chosen;
  front[named >= 0 ? static_cast<std::size_t>(named) : chosen] = 1;
  return front;
}

// The same bag is built again and again: on other meshes, of other materials.
std::shared_ptr<const Assembled> assembled_bag(const Bag& bag) {
  struct Kept {
    std::vector<Piece> pieces;
    std::vector<PieceEdge> edges;
    std::shared_ptr<const Assembled> bag;
  };
  static std::mutex guard;
  static std::deque<Kept> all;
  const std::lock_guard<std::mutex> lock(guard);
  for (const Kept& kept : all) {
    if (kept.pieces == bag.pieces && kept.edges == bag.edges) return kept.bag;
  }
  const double size = std::sqrt(sew(bag, "cm").area_m2 / kAssemblyTriangles * 4 / std::sqrt(3.0));
  Pattern pattern = PieceFaces(bag, size).make();
  for (PatternFace& face : pattern.faces) {
    face.place = [](const Vector2d& uv) { return Vector3d(uv.x(), uv.y(), 0); };
  }
  const PatternMesh mesh = mesh_pattern(pattern, size);
  all.push_back(
      {bag.pieces, bag.edges, std::make_shared<const Assembled>(pattern, mesh, fronts_of(bag))});
  if (all.size() > kMostKept) all.pop_front();
  return all.back().bag;
}

}  // namespace

Pattern piece_pattern(const Scene& scene, double size_m) {
  const Bag& bag = scene.bag;
  const std::shared_ptr<const Assembled> assembled = assembled_bag(bag);
  Pattern pattern = PieceFaces(bag, size_m).make();
  for (std::size_t f = 0; f < pattern.faces.size(); ++f) {
    PatternFace& face = pattern.faces[f];
    if (face.wall && pattern.base_strip_m > 0) add_level_line(pattern.base_strip_m, face);
    const double overlap = scene.straps.empty() ? 0 : scene.straps.front().overlap_m;
    const double near = kSameLineShare * size_m;
    if (face.wall && bag.hem_m > near && std::abs(bag.hem_m - overlap) > near &&
        has_level_opening(pattern, face)) {
      add_level_line(pattern.height_m - bag.hem_m, face);
    }
    face.place = [assembled, f](const Vector2d& uv) { return assembled->place(f, uv); };
    for (std::size_t i = 0; i < face.corners.size(); ++i) {
      pattern.corners[static_cast<std::size_t>(face.corners[i])] = face.place(face.outline[i]);
    }
  }
  return pattern;
}

}  // namespace totebench::scenes
