#include "solver/ties.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <array>
#include <limits>
#include <map>
#include <utility>

namespace totebench {
namespace {

using Eigen::Vector2d;
using Eigen::Vector3d;

constexpr int kMostSteps = 40;     // of the search for the nearest point, over all triangles
constexpr double kInside = 1e-12;  // area coordinates beyond this are outside

using Matrix36 = Eigen::Matrix<double, 3, 6>;

Matrix36 nodes_of(const ShellMesh& mesh, const Eigen::Matrix3Xd& x, int triangle) {
  Matrix36 nodes;
  for (int n = 0; n < 6; ++n) nodes.col(n) = x.col(mesh.triangles[triangle].node[n]);
  return nodes;
}

// Neighbours across each edge within a set of triangles; -1 at its border.
class Neighbours {
 public:
  Neighbours(const ShellMesh& mesh, const std::vector<int>& sheet) {
    std::map<std::pair<int, int>, std::pair<int, int>> first;  // edge to (triangle, edge number)
    for (const int t : sheet) {
      across_[t] = {-1, -1, -1};
      for (int k = 0; k < 3; ++k) {
        const auto& node = mesh.triangles[t].node;
        const auto [entry, is_new] =
            first.try_emplace(std::minmax(node[k], node[(k + 1) % 3]), std::pair(t, k));
        if (is_new) continue;
        across_[t][k] = entry->second.first;
        across_[entry->second.first][entry->second.second] = t;
      }
    }
  }
  [[nodiscard]] const std::array<int, 3>& of(int triangle) const { return across_.at(triangle); }
  [[nodiscard]] bool has(int triangle) const { return across_.count(triangle) != 0; }

 private:
  std::map<int, std::array<int, 3>> across_;
};

// Area coordinates cut back to the triangle along the line from `from` (inside) to `to`; `edge` is
// the one that was hit, -1 when none.
Vector2d cut_back(const Vector2d& from, const Vector2d& to, int& edge) {
  const auto coordinates = [](const Vector2d& p) {  // each is zero on the edge of its number
    return Vector3d(p.y(), 1 - p.sum(), p.x());
  };
  const Vector3d a = coordinates(from).cwiseMax(0);
  const Vector3d b = coordinates(to);
  double share = 1;
  edge = -1;
  for (int k = 0; k < 3; ++k) {
    if (b[k] >= -kInside) continue;
    const double s = a[k] / (a[k] - b[k]);
    if (s >= share) continue;
    share = s;
    edge = k;
  }
  return from + share * (to - from);
}

// The point of the sheet nearest to `target`, walking from `at`: Gauss-Newton within a triangle,
// on to the neighbour where a step crosses an edge, along the border where there is none.
SurfacePoint nearest(const ShellMesh& mesh, const Eigen::Matrix3Xd& x, const Neighbours& neighbours,
                     const Vector3d& target, SurfacePoint at) {
  for (int step = 0; step < kMostSteps; ++step) {
    const Matrix36 nodes = nodes_of(mesh, x, at.triangle);
    const Eigen::Matrix<double, 3, 2> tangent = nodes * shape_gradient(at.xi, at.eta);
    const Vector2d here(at.xi, at.eta);
    const Vector3d off = target - nodes * shape(at.xi, at.eta);
    const Eigen::Matrix2d metric = tangent.transpose() * tangent;
    Vector2d move = metric.inverse() * (tangent.transpose() * off);
    // Pressed against a border: only along it.
    const Vector3d zero(at.eta, 1 - at.xi - at.eta, at.xi);
    const Vector2d gradient[3] = {{0, 1}, {-1, -1}, {1, 0}};
    const Vector2d along[3] = {{1, 0}, {-1, 1}, {0, -1}};
    const std::array<int, 3>& across = neighbours.of(at.triangle);
    int crossing = -1;
    for (int k = 0; k < 3; ++k) {
      if (zero[k] > kInside || gradient[k].dot(move) >= 0) continue;
      if (across[k] >= 0) {
        crossing = k;
      } else {
        const Vector2d t = along[k];
        move = t * (t.dot(tangent.transpose() * off) / t.dot(metric * t));
      }
    }
    int edge = crossing;
    Vector2d next = here;
    if (crossing < 0) next = cut_back(here, here + move, edge);
    if (edge >= 0 && across[edge] >= 0) {
      // The same point, seen from the neighbour.
      const double share = edge == 0 ? next.x() : (edge == 1 ? next.y() : 1 - next.y());
      const auto& mine = mesh.triangles[at.triangle].node;
      const auto& theirs = mesh.triangles[across[edge]].node;
      for (int k = 0; k < 3; ++k) {
        if (theirs[3 + k] != mine[3 + edge]) continue;
        const double s = theirs[k] == mine[edge] ? share : 1 - share;
        at.triangle = across[edge];
        at.xi = k == 0 ? s : (k == 1 ? 1 - s : 0);
        at.eta = k == 0 ? 0 : (k == 1 ? s : 1 - s);
        break;
      }
      continue;
    }
    const double moved = (tangent * (next - here)).norm();
    at.xi = std::max(0.0, next.x());
    at.eta = std::max(0.0, next.y());
    if (moved < 1e-12) break;
  }
  return at;
}

}  // namespace

double renew_ties(Model& model, const State& state) {
  std::vector<Neighbours> neighbours;
  for (const std::vector<int>& sheet : model.tie_sheets) neighbours.emplace_back(model.mesh, sheet);
  double furthest = 0;
  for (NormalTie& tie : model.normal_ties) {
    const auto sheet = static_cast<std::size_t>(tie.master_sheet);
    if (sheet >= neighbours.size() || !neighbours[sheet].has(tie.master.triangle)) continue;
    const Vector3d before = position_of(model.mesh, state.x, tie.master);
    const Vector3d slave = position_of(model.mesh, state.x, tie.slave);
    tie.master = nearest(model.mesh, state.x, neighbours[sheet], slave, tie.master);
    furthest = std::max(furthest, (position_of(model.mesh, state.x, tie.master) - before).norm());
  }
  return furthest;
}

SurfacePoint nearest_point(const ShellMesh& mesh, const Eigen::Matrix3Xd& x,
                           const std::vector<int>& sheet, const Eigen::Vector3d& target) {
  SurfacePoint best{sheet.at(0), 1.0 / 3, 1.0 / 3};
  double nearest_so_far = std::numeric_limits<double>::infinity();
  for (const int t : sheet) {
    const double distance = (position_of(mesh, x, {t, 1.0 / 3, 1.0 / 3}) - target).norm();
    if (distance >= nearest_so_far) continue;
    nearest_so_far = distance;
    best.triangle = t;
  }
  return nearest(mesh, x, Neighbours(mesh, sheet), target, best);
}

}  // namespace totebench
