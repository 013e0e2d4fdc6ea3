#include "scenes/patterns/assembly.hpp"

#include <Eigen/Geometry>
#include <Eigen/Sparse>
#include <Eigen/SparseCholesky>
#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numeric>
#include <stdexcept>

namespace totebench::scenes {
namespace {

using Eigen::Matrix2d;
using Eigen::Matrix3d;
using Eigen::Matrix3Xd;
using Eigen::Vector2d;
using Eigen::Vector3d;
using SparseMatrix = Eigen::SparseMatrix<double>;
using Triplets = std::vector<Eigen::Triplet<double>>;
using Directed = std::pair<int, int>;

// Turns down to a breath, and down to nothing: the air is let out over the first half of each.
constexpr int kTurnsToBreath = 800;
constexpr int kTurnsToNone = 2400;
constexpr double kAtRest = 3e-7;         // largest move of a turn, share of the root of the area
constexpr double kHeld = 1e-9;           // of a diagonal: holds what nothing else does
constexpr double kLeastSquared = 1e-12;  // of a triangle pressed to a line, against its rest

double cross(const Vector2d& a, const Vector2d& b) { return a.x() * b.y() - a.y() * b.x(); }

class Assembler {
 public:
  explicit Assembler(const PatternMesh& mesh)
      : mesh_(mesh), n_(static_cast<int>(mesh.points.size())) {
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
      const auto& tri = mesh.triangles[t];
      area_ += 0.5 * cross(tri.uv[1] - tri.uv[0], tri.uv[2] - tri.uv[0]);
      for (int k = 0; k < 3; ++k) {
        const Directed way(tri.point[k], tri.point[(k + 1) % 3]);
        if (!side_.try_emplace(way, static_cast<int>(3 * t) + k).second) {
          throw std::invalid_argument("the pieces meet along an edge in more than two");
        }
      }
    }
    length_ = std::sqrt(area_);
    find_rim();
  }

  Matrix3Xd run() {
    const Eigen::SimplicialLDLT<SparseMatrix> solver(make_matrix());
    if (solver.info() != Eigen::Success) throw std::invalid_argument("a piece has no area");
    const auto relax = [&](Matrix3Xd x, double from, double to, int turns) {
      for (int turn = 0; turn < turns; ++turn) {
        const double through = std::min(1.0, 2.0 * turn / turns);
        const double air = from * std::pow(to / from, through) / length_;
        Matrix3Xd next = solver.solve(right_side(x, air).transpose()).transpose();
        const Vector3d shift = (next - x).rowwise().mean();
        next.colwise() -= shift;
        const double moved = (next - x).colwise().norm().maxCoeff();
        x = std::move(next);
        if (through == 1 && moved < kAtRest * length_) break;
      }
      return x;
    };
    Matrix3Xd breath = relax(bowl(disc()), kFirstAir, kBreath, kTurnsToBreath);
    Matrix3Xd stands = relax(breath, kBreath, kNoAir, kTurnsToNone);
    return volume(stands) < kFlatVolume * std::pow(length_, 3) ? breath : stands;
  }
  [[nodiscard]] const std::vector<int>& rim() const { return rim_; }

 private:
  // The border in the order in which the triangles run along it.
  void find_rim() {
    std::map<int, int> next;
    for (const auto& [way, side] : side_) {
      if (side_.count({way.second, way.first}) == 0) next[way.first] = way.second;
    }
    if (next.empty()) throw std::invalid_argument("the pieces leave no opening");
    for (int at = next.begin()->first; rim_.empty() || at != rim_.front(); at = next.at(at)) {
      rim_.push_back(at);
      if (rim_.size() > next.size()) break;
    }
    if (rim_.size() != next.size()) throw std::invalid_argument("there is more than one opening");
  }

  // Tutte's drawing, the border on the unit circle, evenly.
  [[nodiscard]] Eigen::Matrix2Xd disc() const {
    Triplets entries;
    Eigen::MatrixX2d right = Eigen::MatrixX2d::Zero(n_, 2);
    std::vector<char> held(static_cast<std::size_t>(n_), 0);
    for (std::size_t i = 0; i < rim_.size(); ++i) {
      const double angle = 2 * M_PI * static_cast<double>(i) / static_cast<double>(rim_.size());
      held[static_cast<std::size_t>(rim_[i])] = 1;
      entries.emplace_back(rim_[i], rim_[i], 1.0);
      right.row(rim_[i]) << std::cos(angle), std::sin(angle);
    }
    for (const auto& [way, side] : side_) {
      const auto [i, k] = way;
      // A border edge has one direction only; inner edges come by twice.
      if (held[static_cast<std::size_t>(i)] == 0) {
        entries.emplace_back(i, i, 1.0);
        entries.emplace_back(i, k, -1.0);
      }
    }
    SparseMatrix matrix(n_, n_);
    matrix.setFromTriplets(entries.begin(), entries.end());
    Eigen::SparseLU<SparseMatrix> solver(matrix);
    if (solver.info() != Eigen::Success) throw std::invalid_argument("a piece hangs loose");
    return Eigen::MatrixX2d(solver.solve(right)).transpose();
  }

  // The lower half of a ball whose rings have the area that the disc's have in cloth.
  [[nodiscard]] Matrix3Xd bowl(const Eigen::Matrix2Xd& flat) const {
    std::vector<double> share(static_cast<std::size_t>(n_), 0);
    for (const auto& tri : mesh_.triangles) {
      const double third = cross(tri.uv[1] - tri.uv[0], tri.uv[2] - tri.uv[0]) / 6;
      for (const int node : tri.point) share[static_cast<std::size_t>(node)] += third / area_;
    }
    std::vector<int> outwards(static_cast<std::size_t>(n_));
    std::iota(outwards.begin(), outwards.end(), 0);
    std::sort(outwards.begin(), outwards.end(),
              [&](int a, int b) { return flat.col(a).norm() < flat.col(b).norm(); });
    const double radius = length_ / std::sqrt(2 * M_PI);
    Matrix3Xd x(3, n_);
    double inside = 0;
    for (const int node : outwards) {
      const double r = flat.col(node).norm();
      inside += 0.5 * share[static_cast<std::size_t>(node)];
      // A cap up to the angle a has the area 2 pi R^2 (1 - cos a).
      const double cosine = std::clamp(1 - inside, 0.0, 1.0);
      inside += 0.5 * share[static_cast<std::size_t>(node)];
      const double sine = std::sqrt(1 - cosine * cosine);
      const Vector2d out = r > 0 ? Vector2d(flat.col(node) / r) : Vector2d(0, 0);
      // y mirrored: seen from below the triangles run counter-clockwise.
      x.col(node) = radius * Vector3d(sine * out.x(), -sine * out.y(), -cosine);
    }
    return x;
  }

  [[nodiscard]] static double cotangent(const Vector2d& a, const Vector2d& b) {
    return a.dot(b) / cross(a, b);
  }

  SparseMatrix make_matrix() {
    Triplets entries;
    const auto add = [&](int i, int k, double w) {
      entries.emplace_back(i, i, w);
      entries.emplace_back(k, k, w);
      entries.emplace_back(i, k, -w);
      entries.emplace_back(k, i, -w);
    };
    for (const auto& tri : mesh_.triangles) {
      std::array<double, 3> weight{};
      for (int k = 0; k < 3; ++k) {  // of the edge from corner k, by the angle across from it
        const Vector2d& apex = tri.uv[(k + 2) % 3];
        weight[k] = 0.5 * cotangent(tri.uv[k] - apex, tri.uv[(k + 1) % 3] - apex);
        add(tri.point[k], tri.point[(k + 1) % 3], weight[k]);
      }
      weights_.push_back(weight);
    }
    const double t = kAssemblyThickness * length_;
    for (const auto& [way, side] : side_) {
      const auto other = side_.find({way.second, way.first});
      if (way.first > way.second || other == side_.end()) continue;
      add_bending(side, other->second, t * t / 12, entries);
    }
    for (int i = 0; i < n_; ++i) entries.emplace_back(i, i, kHeld);
    SparseMatrix matrix(n_, n_);
    matrix.setFromTriplets(entries.begin(), entries.end());
    return matrix;
  }

  // Of an edge within one face: 3 / (A1 + A2) K K', K by the cotangents beside the edge.
  void add_bending(int side_a, int side_b, double rigidity, Triplets& entries) const {
    const auto& a = mesh_.triangles[static_cast<std::size_t>(side_a / 3)];
    const auto& b = mesh_.triangles[static_cast<std::size_t>(side_b / 3)];
    if (a.face != b.face) return;
    const int ka = side_a % 3, kb = side_b % 3;
    const Vector2d p0 = a.uv[ka], p1 = a.uv[(ka + 1) % 3], p2 = a.uv[(ka + 2) % 3];
    const Vector2d q1 = b.uv[kb], q0 = b.uv[(kb + 1) % 3], q2 = b.uv[(kb + 2) % 3];
    // The two sides of a seam of a piece with itself lie in different places.
    if ((p0 - q0).norm() + (p1 - q1).norm() > 1e-6 * length_) return;
    const double at_0a = cotangent(p1 - p0, p2 - p0), at_1a = cotangent(p2 - p1, p0 - p1);
    const double at_0b = cotangent(q2 - q0, q1 - q0), at_1b = cotangent(q0 - q1, q2 - q1);
    const std::array<double, 4> k = {at_1a + at_1b, at_0a + at_0b, -at_0a - at_1a, -at_0b - at_1b};
    const std::array<int, 4> node = {a.point[ka], a.point[(ka + 1) % 3], a.point[(ka + 2) % 3],
                                     b.point[(kb + 2) % 3]};
    const double areas = 0.5 * (cross(p1 - p0, p2 - p0) + cross(q0 - q1, q2 - q1));
    for (int i = 0; i < 4; ++i) {
      for (int j = 0; j < 4; ++j) {
        entries.emplace_back(node[i], node[j], 3 * rigidity / areas * k[i] * k[j]);
      }
    }
  }

  // What it holds, closed from its border to the middle of that.
  [[nodiscard]] double volume(const Matrix3Xd& x) const {
    Vector3d middle = Vector3d::Zero();
    for (const int node : rim_) middle += x.col(node) / static_cast<double>(rim_.size());
    double sum = 0;
    for (const auto& tri : mesh_.triangles) {
      const Vector3d a = x.col(tri.point[0]), b = x.col(tri.point[1]), c = x.col(tri.point[2]);
      sum += (a - middle).dot((b - middle).cross(c - middle)) / 6;
    }
    return sum;
  }

  [[nodiscard]] Matrix3Xd right_side(const Matrix3Xd& x, double air) const {
    Matrix3Xd right = kHeld * x;
    for (std::size_t t = 0; t < mesh_.triangles.size(); ++t) {
      const auto& tri = mesh_.triangles[t];
      Eigen::Matrix<double, 3, 2> s = Eigen::Matrix<double, 3, 2>::Zero();
      for (int k = 0; k < 3; ++k) {
        const int next = (k + 1) % 3;
        s += weights_[t][k] * (x.col(tri.point[next]) - x.col(tri.point[k])) *
             (tri.uv[next] - tri.uv[k]).transpose();
      }
      // The rotation nearest to s: s (s's)^(-1/2), the root of a 2 x 2 matrix in closed form.
      const Matrix2d square = s.transpose() * s;
      const double rest = cross(tri.uv[1] - tri.uv[0], tri.uv[2] - tri.uv[0]);
      const double d = std::sqrt(std::max(square.determinant(), kLeastSquared * rest * rest));
      const Matrix2d root = (square + d * Matrix2d::Identity()) / std::sqrt(square.trace() + 2 * d);
      const Eigen::Matrix<double, 3, 2> rotation = s * root.inverse();
      for (int k = 0; k < 3; ++k) {
        const int next = (k + 1) % 3;
        const Vector3d pull = weights_[t][k] * rotation * (tri.uv[next] - tri.uv[k]);
        right.col(tri.point[next]) += pull;
        right.col(tri.point[k]) -= pull;
      }
      const Vector3d a = x.col(tri.point[0]), b = x.col(tri.point[1]), c = x.col(tri.point[2]);
      const Vector3d push = air / 6 * (b - a).cross(c - a);
      for (const int node : tri.point) right.col(node) += push;
    }
    return right;
  }

  const PatternMesh& mesh_;
  int n_;
  double area_ = 0;
  double length_ = 0;
  std::map<Directed, int> side_;  // 3 triangle + side
  std::vector<int> rim_;
  std::vector<std::array<double, 3>> weights_;
};

// The opening level and upwards, `front` towards +y, the middle of the opening over the origin.
void set_upright(const PatternMesh& mesh, const std::vector<int>& rim,
                 const std::vector<char>& front, Matrix3Xd& x) {
  Vector3d middle = Vector3d::Zero();
  for (const int node : rim) middle += x.col(node) / static_cast<double>(rim.size());
  Vector3d normal = Vector3d::Zero();
  for (std::size_t i = 0; i < rim.size(); ++i) {
    const Vector3d a = x.col(rim[i]) - middle, b = x.col(rim[(i + 1) % rim.size()]) - middle;
    normal -= a.cross(b);
  }
  // Triangles run counter-clockwise seen from outside, so their border does clockwise from above.
  const Eigen::Quaterniond up = Eigen::Quaterniond::FromTwoVectors(normal, Vector3d::UnitZ());
  x = (up.toRotationMatrix() * (x.colwise() - middle)).eval();
  Vector2d towards = Vector2d::Zero();
  for (const auto& tri : mesh.triangles) {
    if (front[static_cast<std::size_t>(tri.face)] == 0) continue;
    const double area = cross(tri.uv[1] - tri.uv[0], tri.uv[2] - tri.uv[0]);
    for (const int node : tri.point) towards += area * x.col(node).head<2>();
  }
  const double angle = M_PI / 2 - std::atan2(towards.y(), towards.x());
  x = (Eigen::AngleAxisd(angle, Vector3d::UnitZ()).toRotationMatrix() * x).eval();
  x.row(2).array() -= x.row(2).minCoeff();
}

}  // namespace

std::vector<Vector3d> assembled(const PatternMesh& mesh, const std::vector<char>& front) {
  Assembler assembler(mesh);
  Matrix3Xd x = assembler.run();
  set_upright(mesh, assembler.rim(), front, x);
  std::vector<Vector3d> points;
  points.reserve(mesh.points.size());
  for (Eigen::Index i = 0; i < x.cols(); ++i) points.emplace_back(x.col(i));
  return points;
}

}  // namespace totebench::scenes
