#include "scenes/builder/mesh/mesher.hpp"

#include <CGAL/Constrained_Delaunay_triangulation_2.h>
#include <CGAL/Delaunay_mesh_criteria_2.h>
#include <CGAL/Delaunay_mesh_face_base_2.h>
#include <CGAL/Delaunay_mesh_vertex_base_2.h>
#include <CGAL/Delaunay_mesher_2.h>
#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <mutex>
#include <numeric>
#include <set>
#include <stdexcept>
#include <utility>

namespace totebench::scenes {
namespace {

using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using VertexBase = CGAL::Delaunay_mesh_vertex_base_2<Kernel>;
using FaceBase = CGAL::Delaunay_mesh_face_base_2<Kernel>;
using Storage = CGAL::Triangulation_data_structure_2<VertexBase, FaceBase>;
using Triangulation = CGAL::Constrained_Delaunay_triangulation_2<Kernel, Storage>;
using Eigen::Vector2d;

// Sine squared of the smallest angle the refinement works towards (20.7 degrees, the largest for
// which it is proved to end).
constexpr double kSmallestSineSquared = 0.125;
// The longest edge of a mesh of edges near h: measured, so that the mean edge comes out at h.
constexpr double kLongestOverMean = 1.42;
// Points nearer than this share of the region's size are one point.
constexpr double kSnapShare = 1e-9;
// Four points on a circle, or a line half a size too long, would be decided by the last digit of a
// length. Triangles are laid out on points rounded to so many binary digits of the region's size,
// by a size rounded so too, and such ties are broken one way: lengths that differ by round-off get
// the same triangles.
constexpr int kDigits = 32;
// A point put in the middle of two points of the grid lies between two places of the grid of the
// face that it is shared with: its share of the line, to so many binary digits, is a half again.
constexpr int kShareDigits = 24;
constexpr double kTie = 1e-6;        // of a size
constexpr double kSameAngle = 1e-9;  // rad

// To a multiple of 2^exponent.
double rounded(double x, int exponent) {
  return std::ldexp(std::round(std::ldexp(x, -exponent)), exponent);
}

// When a triangle is too large (by the size wanted at its centre) or too sharp.
class GradedCriteria : public CGAL::Delaunay_mesh_criteria_2<Triangulation> {
  using Base = CGAL::Delaunay_mesh_criteria_2<Triangulation>;

 public:
  explicit GradedCriteria(const MeshingOptions& options)
      : Base(kSmallestSineSquared), options_(&options) {}

  struct Quality : std::pair<double, double> {  // sine squared, longest edge squared over bound
    using std::pair<double, double>::pair;
    [[nodiscard]] double sine() const { return first; }
    [[nodiscard]] double size() const { return second; }
    bool operator<(const Quality& other) const {  // the worse comes first
      if (size() > 1 || other.size() > 1) return size() > other.size();
      return sine() < other.sine();
    }
  };

  class Is_bad : public Base::Is_bad {  // NOLINT: the mesh generator asks for this name
   public:
    explicit Is_bad(const MeshingOptions& options)
        : Base::Is_bad(kSmallestSineSquared, Kernel()), options_(&options) {}

    CGAL::Mesh_2::Face_badness operator()(const Quality& quality) const {
      if (quality.size() > 1) return CGAL::Mesh_2::IMPERATIVELY_BAD;
      return quality.sine() < kSmallestSineSquared ? CGAL::Mesh_2::BAD : CGAL::Mesh_2::NOT_BAD;
    }

    CGAL::Mesh_2::Face_badness operator()(const Triangulation::Face_handle& face,
                                          Quality& quality) const {
      Vector2d p[3];
      for (int k = 0; k < 3; ++k) {
        p[k] = {face->vertex(k)->point().x(), face->vertex(k)->point().y()};
      }
      double squared[3] = {(p[1] - p[0]).squaredNorm(), (p[2] - p[1]).squaredNorm(),
                           (p[0] - p[2]).squaredNorm()};
      std::sort(std::begin(squared), std::end(squared));
      double size = options_->size_m;
      if (options_->local_size_m) size = options_->local_size_m((p[0] + p[1] + p[2]) / 3);
      const double bound = kLongestOverMean * size;
      const Vector2d u = p[1] - p[0];
      const Vector2d v = p[2] - p[0];
      const double twice_area = u.x() * v.y() - u.y() * v.x();
      quality.second = squared[2] / (bound * bound);
      quality.first = twice_area * twice_area / (squared[2] * squared[1]);
      return operator()(quality);
    }

   private:
    const MeshingOptions* options_;
  };

  [[nodiscard]] Is_bad is_bad_object() const { return Is_bad(*options_); }

 private:
  const MeshingOptions* options_;
};

// The input segments cut at every point where they meet.
class Arrangement {
 public:
  struct Owner {
    int segment = 0;
    double from = 0;  // share of the segment at the piece's first point
    double to = 0;
  };

  explicit Arrangement(const PlanarRegion& region) {
    Vector2d low = Vector2d::Constant(1e300);
    Vector2d high = -low;
    for (const Vector2d& p : region.points) {
      low = low.cwiseMin(p);
      high = high.cwiseMax(p);
    }
    tolerance_ = kSnapShare * (high - low).norm();
    for (const Vector2d& p : region.points) index_.push_back(find_or_add(p));
    add_crossings(region);
    for (std::size_t s = 0; s < region.segments.size(); ++s) cut(region, static_cast<int>(s));
  }

  // Where triangles are laid out: point `i` on the grid.
  [[nodiscard]] Vector2d on_grid(std::size_t i) const {
    const int exponent = std::ilogb(tolerance_ / kSnapShare) - kDigits;
    return {rounded(points_[i].x(), exponent), rounded(points_[i].y(), exponent)};
  }

  // Adds points so that no piece is longer than about the size wanted there.
  void divide(const MeshingOptions& options) {
    std::map<std::pair<int, int>, std::vector<Owner>> divided;
    for (const auto& [ends, owners] : pieces_) {
      const Vector2d a = points_[ends.first];
      const Vector2d b = points_[ends.second];
      double size = options.size_m;
      if (options.local_size_m) size = options.local_size_m(0.5 * (a + b));
      const int n = std::max(1, static_cast<int>(std::lround((b - a).norm() / size + kTie)));
      int previous = ends.first;
      for (int i = 1; i <= n; ++i) {
        int next = ends.second;
        if (i < n) {
          next = static_cast<int>(points_.size());
          points_.emplace_back(a + (b - a) * (static_cast<double>(i) / n));
        }
        for (const Owner& owner : owners) {
          const double step = (owner.to - owner.from) / n;
          divided[{previous, next}].push_back({owner.segment, owner.from + step * (i - 1),
                                               i == n ? owner.to : owner.from + step * i});
        }
        previous = next;
      }
    }
    pieces_ = std::move(divided);
  }

  [[nodiscard]] const std::vector<Vector2d>& points() const { return points_; }
  [[nodiscard]] const auto& pieces() const { return pieces_; }
  [[nodiscard]] double tolerance() const { return tolerance_; }

 private:
  int find_or_add(const Vector2d& p) {
    for (std::size_t i = 0; i < points_.size(); ++i) {
      if ((points_[i] - p).norm() <= tolerance_) return static_cast<int>(i);
    }
    points_.push_back(p);
    return static_cast<int>(points_.size()) - 1;
  }

  void add_crossings(const PlanarRegion& region) {
    const auto& segments = region.segments;
    for (std::size_t i = 0; i < segments.size(); ++i) {
      const Vector2d a = points_[index_[segments[i].a]];
      const Vector2d d = points_[index_[segments[i].b]] - a;
      for (std::size_t j = i + 1; j < segments.size(); ++j) {
        const Vector2d c = points_[index_[segments[j].a]];
        const Vector2d e = points_[index_[segments[j].b]] - c;
        const double cross = d.x() * e.y() - d.y() * e.x();
        if (std::abs(cross) < 1e-12 * d.norm() * e.norm()) continue;  // parallel: share ends only
        const Vector2d r = c - a;
        const double s = (r.x() * e.y() - r.y() * e.x()) / cross;
        const double t = (r.x() * d.y() - r.y() * d.x()) / cross;
        if (s > 0 && s < 1 && t > 0 && t < 1) find_or_add(a + s * d);
      }
    }
  }

  void cut(const PlanarRegion& region, int s) {
    const Vector2d a = points_[index_[region.segments[s].a]];
    const Vector2d d = points_[index_[region.segments[s].b]] - a;
    const double length = d.norm();
    if (length <= tolerance_) return;
    std::vector<std::pair<double, int>> on;  // share along the segment, point
    for (std::size_t i = 0; i < points_.size(); ++i) {
      const Vector2d r = points_[i] - a;
      const double along = r.dot(d) / (length * length);
      const double off = std::abs(r.x() * d.y() - r.y() * d.x()) / length;
      const double slack = tolerance_ / length;
      if (off <= tolerance_ && along >= -slack && along <= 1 + slack) {
        on.emplace_back(std::clamp(along, 0.0, 1.0), static_cast<int>(i));
      }
    }
    std::sort(on.begin(), on.end());
    for (std::size_t k = 1; k < on.size(); ++k) {
      Owner owner{s, on[k - 1].first, on[k].first};
      int p = on[k - 1].second;
      int q = on[k].second;
      if (p > q) {
        std::swap(p, q);
        std::swap(owner.from, owner.to);
      }
      pieces_[{p, q}].push_back(owner);
    }
  }

  double tolerance_ = 0;
  std::vector<Vector2d> points_;
  std::vector<int> index_;  // of the input points among points_
  std::map<std::pair<int, int>, std::vector<Owner>> pieces_;
};

// Finds which pieces of the arrangement an edge of the finished mesh lies on, and where. Moves its
// ends from the grid to the piece.
void add_pieces(const Arrangement& arrangement, int ia, int ib, PlanarMesh& mesh) {
  const Vector2d a = mesh.points[ia];
  const Vector2d b = mesh.points[ib];
  const Vector2d middle = 0.5 * (a + b);
  for (const auto& [ends, owners] : arrangement.pieces()) {
    const Vector2d p = arrangement.points()[ends.first];
    const Vector2d q = arrangement.points()[ends.second];
    const Vector2d d = q - p;
    const double length_sq = d.squaredNorm();
    const Vector2d r = middle - p;
    const double along = r.dot(d) / length_sq;
    const double off = std::abs(r.x() * d.y() - r.y() * d.x()) / std::sqrt(length_sq);
    if (along <= 0 || along >= 1 || off > 10 * arrangement.tolerance()) continue;
    const double near = 10 * arrangement.tolerance() / std::sqrt(length_sq);
    const auto share_of = [&](const Vector2d& point) {
      const double share = rounded((point - p).dot(d) / length_sq, -kShareDigits);
      if (share < near) return 0.0;
      return share > 1 - near ? 1.0 : share;
    };
    const double at_a = share_of(a);
    const double at_b = share_of(b);
    mesh.points[ia] = at_a == 1 ? q : Vector2d(p + at_a * d);
    mesh.points[ib] = at_b == 1 ? q : Vector2d(p + at_b * d);
    for (const Arrangement::Owner& owner : owners) {
      PlanarMesh::SegmentPiece piece{owner.segment, ia, ib,
                                     owner.from + at_a * (owner.to - owner.from),
                                     owner.from + at_b * (owner.to - owner.from)};
      if (piece.from > piece.to) {
        std::swap(piece.from, piece.to);
        std::swap(piece.a, piece.b);
      }
      mesh.pieces.push_back(piece);
    }
    return;
  }
}

double smallest_angle_around(const PlanarMesh& mesh, const std::vector<int>& triangles) {
  double smallest = M_PI;
  for (const int t : triangles) {
    for (int k = 0; k < 3; ++k) {
      const Vector2d u =
          mesh.points[mesh.triangles[t][(k + 1) % 3]] - mesh.points[mesh.triangles[t][k]];
      const Vector2d v =
          mesh.points[mesh.triangles[t][(k + 2) % 3]] - mesh.points[mesh.triangles[t][k]];
      // A triangle turned over counts as the worst of all.
      smallest = std::min(smallest, std::atan2(u.x() * v.y() - u.y() * v.x(), u.dot(v)));
    }
  }
  return smallest;
}

// Moves each free point to the centroid of the triangles around it where that opens the smallest
// angle there. In order of point number, so that the same region always gives the same mesh.
void smooth(PlanarMesh& mesh, int passes) {
  std::vector<bool> held(mesh.points.size(), false);
  for (const PlanarMesh::SegmentPiece& piece : mesh.pieces) held[piece.a] = held[piece.b] = true;
  std::vector<std::vector<int>> around(mesh.points.size());
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    for (const int p : mesh.triangles[t]) around[p].push_back(static_cast<int>(t));
  }
  for (int pass = 0; pass < passes; ++pass) {
    for (std::size_t p = 0; p < mesh.points.size(); ++p) {
      if (held[p]) continue;
      Vector2d sum = Vector2d::Zero();
      double area = 0;
      for (const int t : around[p]) {
        const Vector2d& a = mesh.points[mesh.triangles[t][0]];
        const Vector2d u = mesh.points[mesh.triangles[t][1]] - a;
        const Vector2d v = mesh.points[mesh.triangles[t][2]] - a;
        const double twice = u.x() * v.y() - u.y() * v.x();
        sum += twice * (a + (u + v) / 3);
        area += twice;
      }
      const double before = smallest_angle_around(mesh, around[p]);
      const Vector2d old = mesh.points[p];
      mesh.points[p] = sum / area;
      if (smallest_angle_around(mesh, around[p]) < before - kSameAngle) mesh.points[p] = old;
    }
  }
}

// Ties go by the order in which points and lines come: theirs in the plane, whatever it was.
Triangulation triangulated(const Arrangement& arrangement) {
  const auto by_place = [](const Vector2d& a, const Vector2d& b) {
    return std::pair(a.x(), a.y()) < std::pair(b.x(), b.y());
  };
  std::vector<Vector2d> place;
  for (std::size_t i = 0; i < arrangement.points().size(); ++i) {
    place.push_back(arrangement.on_grid(i));
  }
  std::vector<int> order(place.size());
  std::iota(order.begin(), order.end(), 0);
  std::sort(order.begin(), order.end(), [&](int i, int j) { return by_place(place[i], place[j]); });

  Triangulation triangulation;
  std::vector<int> rank(place.size());
  std::vector<Triangulation::Vertex_handle> vertex;  // by rank
  for (const int i : order) {
    rank[i] = static_cast<int>(vertex.size());
    vertex.push_back(triangulation.insert(Kernel::Point_2(place[i].x(), place[i].y())));
  }
  std::set<std::pair<int, int>> lines;
  for (const auto& [ends, owners] : arrangement.pieces()) {
    lines.insert(std::minmax(rank[ends.first], rank[ends.second]));
  }
  for (const auto& [from, to] : lines) triangulation.insert_constraint(vertex[from], vertex[to]);
  return triangulation;
}

}  // namespace

PlanarMesh mesh_region(const PlanarRegion& region, const MeshingOptions& given) {
  if (!(given.size_m > 0)) throw std::invalid_argument("the mesh size must be above zero");
  static std::mutex meshing;  // the mesh generator has statics
  const std::lock_guard<std::mutex> lock(meshing);
  MeshingOptions options = given;
  options.size_m = rounded(given.size_m, std::ilogb(given.size_m) - kDigits);
  Arrangement arrangement(region);
  arrangement.divide(options);

  Triangulation triangulation = triangulated(arrangement);
  std::vector<Kernel::Point_2> seeds;
  for (const Vector2d& p : region.hole_points) seeds.emplace_back(p.x(), p.y());

  CGAL::Delaunay_mesher_2<Triangulation, GradedCriteria> mesher(triangulation,
                                                                GradedCriteria(options));
  mesher.set_seeds(seeds.begin(), seeds.end());
  mesher.refine_mesh();
  PlanarMesh mesh;
  std::map<Triangulation::Vertex_handle, int> number;
  const auto number_of = [&](Triangulation::Vertex_handle v) {
    const auto [entry, is_new] = number.try_emplace(v, static_cast<int>(mesh.points.size()));
    if (is_new) mesh.points.emplace_back(v->point().x(), v->point().y());
    return entry->second;
  };
  for (auto face = triangulation.finite_faces_begin(); face != triangulation.finite_faces_end();
       ++face) {
    if (!face->is_in_domain()) continue;
    mesh.triangles.push_back(
        {number_of(face->vertex(0)), number_of(face->vertex(1)), number_of(face->vertex(2))});
  }
  if (mesh.triangles.empty()) {
    throw std::invalid_argument("the outline encloses nothing that could be filled with triangles");
  }
  for (auto edge = triangulation.finite_edges_begin(); edge != triangulation.finite_edges_end();
       ++edge) {
    if (!triangulation.is_constrained(*edge)) continue;
    const auto va = edge->first->vertex(Triangulation::cw(edge->second));
    const auto vb = edge->first->vertex(Triangulation::ccw(edge->second));
    if (number.count(va) == 0 || number.count(vb) == 0) continue;  // a line outside the outline
    const int ia = number.at(va);
    const int ib = number.at(vb);
    add_pieces(arrangement, ia, ib, mesh);
  }
  std::sort(mesh.pieces.begin(), mesh.pieces.end(), [](const auto& a, const auto& b) {
    return std::pair(a.segment, a.from) < std::pair(b.segment, b.from);
  });
  smooth(mesh, options.smoothing_passes);
  return mesh;
}

double PlanarMesh::smallest_angle_deg() const {
  double smallest = 180;
  for (const auto& t : triangles) {
    for (int k = 0; k < 3; ++k) {
      const Vector2d u = points[t[(k + 1) % 3]] - points[t[k]];
      const Vector2d v = points[t[(k + 2) % 3]] - points[t[k]];
      const double angle = std::atan2(u.x() * v.y() - u.y() * v.x(), u.dot(v));
      smallest = std::min(smallest, angle * 180 / 3.14159265358979323846);
    }
  }
  return smallest;
}

std::vector<Eigen::Vector2d> arc_points(const Vector2d& centre, double radius, double from,
                                        double to, double area_share) {
  const double half_step = std::sqrt(1.5 * area_share);
  const int n = std::max(1, static_cast<int>(std::ceil(std::abs(to - from) / (2 * half_step))));
  std::vector<Vector2d> points;
  for (int i = 0; i <= n; ++i) {
    const double angle = from + (to - from) * i / n;
    points.emplace_back(centre + radius * Vector2d(std::cos(angle), std::sin(angle)));
  }
  return points;
}

}  // namespace totebench::scenes
