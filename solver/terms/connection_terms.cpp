// Energies that connect two material points: stitches, ties along a normal, tethers.
#include <Eigen/Geometry>
#include <algorithm>
#include <map>
#include <utility>

#include "solver/mesh/quadrature.hpp"
#include "solver/shell/normal_form.hpp"
#include "solver/terms/make_terms.hpp"
#include "solver/terms/soft_onset.hpp"

namespace totebench::solver {
namespace {

using Eigen::Matrix3d;
using Eigen::Vector3d;
using Vector6d = Eigen::Matrix<double, 6, 1>;

// Two material points and their shared list of unknowns (a node may belong to both triangles).
struct PointPair {
  std::vector<int> nodes;      // distinct
  std::vector<double> a, b;    // shape function of each node at a, at b
  std::vector<double> b1, b2;  // derivatives at b
  std::vector<int> unknowns;

  PointPair(const ShellMesh& mesh, const SurfacePoint& pa, const SurfacePoint& pb) {
    const Vector6d na = shape(pa.xi, pa.eta);
    const Vector6d nb = shape(pb.xi, pb.eta);
    const Eigen::Matrix<double, 6, 2> db = shape_gradient(pb.xi, pb.eta);
    for (int n = 0; n < 6; ++n) {
      const std::size_t i = index_of(mesh.triangles[pa.triangle].node[n]);
      a[i] += na[n];
    }
    for (int n = 0; n < 6; ++n) {
      const std::size_t i = index_of(mesh.triangles[pb.triangle].node[n]);
      b[i] += nb[n];
      b1[i] += db(n, 0);
      b2[i] += db(n, 1);
    }
    for (const int node : nodes) {
      for (int c = 0; c < 3; ++c) unknowns.push_back(3 * node + c);
    }
  }
  [[nodiscard]] Vector3d difference(const State& state) const {
    Vector3d d = Vector3d::Zero();
    for (std::size_t i = 0; i < nodes.size(); ++i) d += (a[i] - b[i]) * state.x.col(nodes[i]);
    return d;
  }

 private:
  std::size_t index_of(int node) {
    const auto found = std::find(nodes.begin(), nodes.end(), node);
    if (found != nodes.end()) return static_cast<std::size_t>(found - nodes.begin());
    nodes.push_back(node);
    for (auto* values : {&a, &b, &b1, &b2}) values->push_back(0);
    return nodes.size() - 1;
  }
};

// One block a pair of triangles: all stitch points between them act on the same unknowns, and the
// Hessian never changes.
class StitchTerm final : public EnergyTerm {
 public:
  StitchTerm(const ShellMesh& mesh, const std::vector<Stitch>& stitches) {
    std::map<std::pair<int, int>, std::size_t> known;
    for (const Stitch& stitch : stitches) {
      for (const StitchPoint& point : points_of(stitch)) {
        const PointPair pair(mesh, point.a, point.b);
        const auto [entry, is_new] =
            known.try_emplace({point.a.triangle, point.b.triangle}, blocks_.size());
        if (is_new) blocks_.push_back({pair.nodes, pair.unknowns, {}, {}, {}});
        Block& block = blocks_[entry->second];
        Eigen::VectorXd weight(static_cast<Eigen::Index>(pair.nodes.size()));
        for (std::size_t i = 0; i < pair.nodes.size(); ++i) {
          weight[static_cast<Eigen::Index>(i)] = pair.a[i] - pair.b[i];
        }
        const double stiffness = point.share * stitch.stiffness_N_per_m;
        if (is_new) block.hessian = Eigen::MatrixXd::Zero(weight.size(), weight.size());
        block.hessian += stiffness * weight * weight.transpose();
        block.weight.push_back(weight);
        block.stiffness.push_back(stiffness);
      }
    }
  }
  [[nodiscard]] std::string_view name() const override { return "stitches"; }
  [[nodiscard]] int n_blocks() const override { return static_cast<int>(blocks_.size()); }
  [[nodiscard]] std::span<const int> unknowns(int block) const override {
    return blocks_[block].unknowns;
  }
  [[nodiscard]] double energy(const State& state, int block) const override {
    return energy_and_pull(state, blocks_[block], nullptr);
  }
  double derivatives(const State& state, int block, HessianPart /*part*/, double* gradient,
                     double* hessian) const override {
    const Block& b = blocks_[block];
    const auto n = static_cast<Eigen::Index>(b.nodes.size());
    Eigen::Map<Eigen::Matrix3Xd> pull(gradient, 3, n);
    pull.setZero();
    const double energy = energy_and_pull(state, b, &pull);
    if (hessian != nullptr) {
      Eigen::Map<Eigen::MatrixXd> h(hessian, 3 * n, 3 * n);
      h.setZero();
      for (Eigen::Index j = 0; j < n; ++j) {
        for (Eigen::Index i = 0; i < n; ++i) {
          h.block<3, 3>(3 * i, 3 * j).diagonal().setConstant(b.hessian(i, j));
        }
      }
    }
    return energy;
  }

 private:
  struct Block {
    std::vector<int> nodes;
    std::vector<int> unknowns;
    std::vector<Eigen::VectorXd> weight;  // per point: of each node in its opening
    std::vector<double> stiffness;        // per point, N/m
    Eigen::MatrixXd hessian;              // per node, the same for x, y and z
  };
  static double energy_and_pull(const State& state, const Block& block,
                                Eigen::Map<Eigen::Matrix3Xd>* pull) {
    double energy = 0;
    for (std::size_t q = 0; q < block.weight.size(); ++q) {
      Vector3d opening = Vector3d::Zero();
      for (std::size_t i = 0; i < block.nodes.size(); ++i) {
        opening += block.weight[q][static_cast<Eigen::Index>(i)] * state.x.col(block.nodes[i]);
      }
      energy += 0.5 * block.stiffness[q] * opening.squaredNorm();
      if (pull != nullptr) *pull += block.stiffness[q] * opening * block.weight[q].transpose();
    }
    return energy;
  }
  std::vector<Block> blocks_;
};

class NormalTieTerm final : public EnergyTerm {
 public:
  NormalTieTerm(const ShellMesh& mesh, const std::vector<NormalTie>& ties) : ties_(ties) {
    for (const NormalTie& tie : ties) pairs_.emplace_back(mesh, tie.slave, tie.master);
  }
  [[nodiscard]] std::string_view name() const override { return "normal ties"; }
  [[nodiscard]] int n_blocks() const override { return static_cast<int>(pairs_.size()); }
  [[nodiscard]] std::span<const int> unknowns(int block) const override {
    return pairs_[block].unknowns;
  }
  [[nodiscard]] double energy(const State& state, int block) const override {
    const double gap =
        normal(state, block).n.dot(pairs_[block].difference(state)) - ties_[block].gap_m;
    return 0.5 * ties_[block].stiffness_N_per_m * gap * gap;
  }
  double derivatives(const State& state, int block, HessianPart part, double* gradient,
                     double* hessian) const override {
    const PointPair& pair = pairs_[block];
    const NormalForm form = normal(state, block);
    const Vector3d d = pair.difference(state);
    const double stiffness = ties_[block].stiffness_N_per_m;
    const double gap = form.n.dot(d) - ties_[block].gap_m;
    const Matrix3d by = form.gradient(d);
    const auto n = static_cast<Eigen::Index>(pair.nodes.size());
    Eigen::Map<Eigen::VectorXd> g(gradient, 3 * n);
    for (Eigen::Index i = 0; i < n; ++i) g.segment<3>(3 * i) = by * coefficients(pair, i);
    if (hessian != nullptr) {
      Eigen::Map<Eigen::MatrixXd> h(hessian, 3 * n, 3 * n);
      h = stiffness * g * g.transpose();
      if (part == HessianPart::kExact)
        add_second_derivative(pair, stiffness * gap * form.hessian(d), h);
    }
    g *= stiffness * gap;
    return 0.5 * stiffness * gap * gap;
  }

 private:
  // How (g1, g2, difference) depend on node i.
  static Vector3d coefficients(const PointPair& pair, Eigen::Index i) {
    const auto k = static_cast<std::size_t>(i);
    return {pair.b1[k], pair.b2[k], pair.a[k] - pair.b[k]};
  }
  static void add_second_derivative(const PointPair& pair, const Eigen::Matrix<double, 9, 9>& k,
                                    Eigen::Map<Eigen::MatrixXd>& h) {
    const auto n = static_cast<Eigen::Index>(pair.nodes.size());
    for (Eigen::Index j = 0; j < n; ++j) {
      const Vector3d cj = coefficients(pair, j);
      const Eigen::Matrix<double, 9, 3> right =
          k.leftCols<3>() * cj[0] + k.middleCols<3>(3) * cj[1] + k.rightCols<3>() * cj[2];
      for (Eigen::Index i = 0; i < n; ++i) {
        const Vector3d ci = coefficients(pair, i);
        h.block<3, 3>(3 * i, 3 * j) += ci[0] * right.topRows<3>() + ci[1] * right.middleRows<3>(3) +
                                       ci[2] * right.bottomRows<3>();
      }
    }
  }
  [[nodiscard]] NormalForm normal(const State& state, int block) const {
    const PointPair& pair = pairs_[block];
    Vector3d g1 = Vector3d::Zero();
    Vector3d g2 = Vector3d::Zero();
    for (std::size_t i = 0; i < pair.nodes.size(); ++i) {
      g1 += pair.b1[i] * state.x.col(pair.nodes[i]);
      g2 += pair.b2[i] * state.x.col(pair.nodes[i]);
    }
    return {g1, g2};
  }
  const std::vector<NormalTie>& ties_;
  std::vector<PointPair> pairs_;
};

class TetherTerm final : public EnergyTerm {
 public:
  TetherTerm(const ShellMesh& mesh, const std::vector<Tether>& tethers) : tethers_(tethers) {
    for (const Tether& tether : tethers) pairs_.emplace_back(mesh, tether.a, tether.b);
  }
  [[nodiscard]] std::string_view name() const override { return "tethers"; }
  [[nodiscard]] int n_blocks() const override { return static_cast<int>(pairs_.size()); }
  [[nodiscard]] std::span<const int> unknowns(int block) const override {
    return pairs_[block].unknowns;
  }
  [[nodiscard]] double energy(const State& state, int block) const override {
    return pull(tethers_[block], pairs_[block].difference(state).norm()).energy;
  }
  double derivatives(const State& state, int block, HessianPart /*part*/, double* gradient,
                     double* hessian) const override {
    const PointPair& pair = pairs_[block];
    const auto n = static_cast<Eigen::Index>(pair.nodes.size());
    Eigen::Map<Eigen::VectorXd> g(gradient, 3 * n);
    g.setZero();
    if (hessian != nullptr) Eigen::Map<Eigen::MatrixXd>(hessian, 3 * n, 3 * n).setZero();
    const Vector3d d = pair.difference(state);
    const double length = d.norm();
    const SoftOnset p = pull(tethers_[block], length);
    if (p.force == 0) return p.energy;
    const Vector3d along = d / length;
    Eigen::VectorXd weight(n);
    for (Eigen::Index i = 0; i < n; ++i) {
      const auto k = static_cast<std::size_t>(i);
      weight[i] = pair.a[k] - pair.b[k];
      g.segment<3>(3 * i) = weight[i] * p.force * along;
    }
    if (hessian != nullptr) {
      Eigen::Map<Eigen::MatrixXd> h(hessian, 3 * n, 3 * n);
      const Matrix3d along_twice = along * along.transpose();
      const Matrix3d by_opening =
          p.stiffness * along_twice + p.force / length * (Matrix3d::Identity() - along_twice);
      for (Eigen::Index j = 0; j < n; ++j) {
        for (Eigen::Index i = 0; i < n; ++i) {
          h.block<3, 3>(3 * i, 3 * j) = weight[i] * weight[j] * by_opening;
        }
      }
    }
    return p.energy;
  }

 private:
  // By the distance of the points.
  static SoftOnset pull(const Tether& tether, double length) {
    return soft_onset(tether.stiffness_N_per_m, tether.soften_m, length - tether.slack_m);
  }
  const std::vector<Tether>& tethers_;
  std::vector<PointPair> pairs_;
};

}  // namespace

std::unique_ptr<EnergyTerm> make_stitch_term(const ShellMesh& mesh,
                                             const std::vector<Stitch>& stitches) {
  return std::make_unique<StitchTerm>(mesh, stitches);
}
std::unique_ptr<EnergyTerm> make_normal_tie_term(const ShellMesh& mesh,
                                                 const std::vector<NormalTie>& ties) {
  return std::make_unique<NormalTieTerm>(mesh, ties);
}
std::unique_ptr<EnergyTerm> make_tether_term(const ShellMesh& mesh,
                                             const std::vector<Tether>& tethers) {
  return std::make_unique<TetherTerm>(mesh, tethers);
}

}  // namespace totebench::solver
