#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "solver/energy_term.hpp"
#include "solver/normal_form.hpp"
#include "solver/quadrature.hpp"

namespace totebench {
namespace {

using Eigen::Matrix3d;
using Eigen::Vector3d;
using Vector6d = Eigen::Matrix<double, 6, 1>;

class ShellTerm final : public EnergyTerm {
 public:
  ShellTerm(const Model& model, const Topology& topology) : model_(model), topology_(topology) {
    const ShellMesh& mesh = model.mesh;
    rest_.reserve(mesh.triangles.size());
    unknowns_.resize(mesh.triangles.size());
    for (int t = 0; t < mesh.n_triangles(); ++t) {
      rest_.push_back(make_shell_rest(mesh.rest[t], mesh.warp[t]));
      for (int n = 0; n < 6; ++n) {
        for (int c = 0; c < 3; ++c) unknowns_[t][3 * n + c] = 3 * mesh.triangles[t].node[n] + c;
      }
      for (int e = 0; e < 6; ++e) {
        unknowns_[t][18 + e] = 3 * mesh.n_nodes() + topology.edge_uses[t][e / 2].director[e % 2];
      }
    }
  }
  [[nodiscard]] int n_blocks() const override { return model_.mesh.n_triangles(); }
  [[nodiscard]] std::span<const int> unknowns(int block) const override { return unknowns_[block]; }
  [[nodiscard]] double energy(const State& state, int block) const override {
    return shell_energy(rest_[block], section(block), input(state, block));
  }
  double derivatives(const State& state, int block, Curving curving, double* gradient,
                     double* hessian) const override {
    Vector24d g;
    if (hessian == nullptr) {
      const double energy =
          shell_derivatives(rest_[block], section(block), input(state, block), curving, g, nullptr);
      Eigen::Map<Vector24d>{gradient} = g;
      return energy;
    }
    Matrix24d h;
    const double energy =
        shell_derivatives(rest_[block], section(block), input(state, block), curving, g, &h,
                          predicted_.empty() ? nullptr : &predicted_[block]);
    Eigen::Map<Vector24d>{gradient} = g;
    Eigen::Map<Matrix24d>{hessian} = h;
    return energy;
  }
  void predict(const State* state, const Eigen::VectorXd& step) override {
    if (state == nullptr) {
      predicted_.clear();
      return;
    }
    predicted_.resize(rest_.size());
#pragma omp parallel for schedule(static)
    for (int t = 0; t < n_blocks(); ++t) {
      const ShellInput in = input(*state, t);
      const ShellStrainGradient by = shell_strain_gradient(rest_[t], in);
      Vector24d local;
      for (int i = 0; i < 24; ++i) local[i] = step[unknowns_[t][i]];
      predicted_[t] = shell_strain(rest_[t], in);
      predicted_[t].membrane += by.membrane * local;
      predicted_[t].curvature += by.curvature * local;
    }
  }

 private:
  [[nodiscard]] const Section& section(int block) const {
    return model_.sections[model_.mesh.triangles[block].section];
  }
  [[nodiscard]] ShellInput input(const State& state, int block) const {
    return shell_input(model_.mesh, topology_, state, block);
  }
  const Model& model_;
  const Topology& topology_;
  std::vector<ShellRest> rest_;
  std::vector<std::array<int, 24>> unknowns_;
  std::vector<ShellStrain> predicted_;
};

// E = k/2 (angle from first to second director - rest)^2; both turn with the edge, so only their
// own turns change it.
class HingeTerm final : public EnergyTerm {
 public:
  explicit HingeTerm(const Topology& topology) : topology_(topology) {
    for (const HingePair& hinge : topology.hinges) {
      unknowns_.push_back(
          {3 * topology.n_nodes + hinge.first, 3 * topology.n_nodes + hinge.second});
    }
  }
  [[nodiscard]] int n_blocks() const override { return static_cast<int>(unknowns_.size()); }
  [[nodiscard]] std::span<const int> unknowns(int block) const override { return unknowns_[block]; }
  [[nodiscard]] double energy(const State& state, int block) const override {
    const double a = angle(state, block);
    return 0.5 * topology_.hinges[block].stiffness_N_m * a * a;
  }
  double derivatives(const State& state, int block, Curving /*curving*/, double* gradient,
                     double* hessian) const override {
    const double k = topology_.hinges[block].stiffness_N_m;
    const double a = angle(state, block);
    gradient[0] = -k * a;
    gradient[1] = k * a;
    if (hessian != nullptr) {
      hessian[0] = hessian[3] = k;
      hessian[1] = hessian[2] = -k;
    }
    return 0.5 * k * a * a;
  }

 private:
  [[nodiscard]] double angle(const State& state, int block) const {
    const HingePair& hinge = topology_.hinges[block];
    const Vector3d axis = site_tangent(topology_.sites[hinge.first], state.x).normalized();
    return std::remainder(
        angle_about(axis, state.director.col(hinge.first), state.director.col(hinge.second)) -
            hinge.rest_angle,
        2 * M_PI);
  }
  const Topology& topology_;
  std::vector<std::array<int, 2>> unknowns_;
};

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
  [[nodiscard]] int n_blocks() const override { return static_cast<int>(blocks_.size()); }
  [[nodiscard]] std::span<const int> unknowns(int block) const override {
    return blocks_[block].unknowns;
  }
  [[nodiscard]] double energy(const State& state, int block) const override {
    return energy_and_pull(state, blocks_[block], nullptr);
  }
  double derivatives(const State& state, int block, Curving /*curving*/, double* gradient,
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
  [[nodiscard]] int n_blocks() const override { return static_cast<int>(pairs_.size()); }
  [[nodiscard]] std::span<const int> unknowns(int block) const override {
    return pairs_[block].unknowns;
  }
  [[nodiscard]] double energy(const State& state, int block) const override {
    const double gap =
        normal(state, block).n.dot(pairs_[block].difference(state)) - ties_[block].gap_m;
    return resistance(ties_[block], gap).energy;
  }
  double derivatives(const State& state, int block, Curving curving, double* gradient,
                     double* hessian) const override {
    const PointPair& pair = pairs_[block];
    const NormalForm form = normal(state, block);
    const Vector3d d = pair.difference(state);
    const Resistance r = resistance(ties_[block], form.n.dot(d) - ties_[block].gap_m);
    const Matrix3d by = form.gradient(d);
    const auto n = static_cast<Eigen::Index>(pair.nodes.size());
    Eigen::Map<Eigen::VectorXd> g(gradient, 3 * n);
    for (Eigen::Index i = 0; i < n; ++i) g.segment<3>(3 * i) = by * coefficients(pair, i);
    if (hessian != nullptr) {
      Eigen::Map<Eigen::MatrixXd> h(hessian, 3 * n, 3 * n);
      h = r.stiffness * g * g.transpose();
      if (curving == Curving::kFull) add_curving(pair, r.force * form.hessian(d), h);
    }
    g *= r.force;
    return r.energy;
  }

 private:
  // Energy of a tie by its gap, and its first and second derivatives.
  struct Resistance {
    double energy = 0;
    double force = 0;
    double stiffness = 0;
  };
  static Resistance resistance(const NormalTie& tie, double gap) {
    const double k = tie.stiffness_N_per_m;
    if (!tie.one_sided) return {0.5 * k * gap * gap, k * gap, k};
    if (gap <= 0) return {};
    const double s = tie.soften_m;
    if (gap < s) return {k * gap * gap * gap / (6 * s), k * gap * gap / (2 * s), k * gap / s};
    const double beyond = gap - 0.5 * s;
    return {0.5 * k * beyond * beyond + k * s * s / 24, k * beyond, k};
  }
  // How (g1, g2, difference) depend on node i.
  static Vector3d coefficients(const PointPair& pair, Eigen::Index i) {
    const auto k = static_cast<std::size_t>(i);
    return {pair.b1[k], pair.b2[k], pair.a[k] - pair.b[k]};
  }
  static void add_curving(const PointPair& pair, const Eigen::Matrix<double, 9, 9>& k,
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

}  // namespace

ShellInput shell_input(const ShellMesh& mesh, const Topology& topology, const State& state,
                       int triangle) {
  ShellInput input;
  for (int n = 0; n < 6; ++n) input.x.col(n) = state.x.col(mesh.triangles[triangle].node[n]);
  for (int e = 0; e < 6; ++e) {
    const EdgeUse& use = topology.edge_uses[triangle][e / 2];
    input.director.col(e) = state.director.col(use.director[e % 2]);
    input.sign[e] = use.sign;
    input.rest_angle[e] = use.rest_angle[e % 2];
  }
  return input;
}

std::unique_ptr<EnergyTerm> make_shell_term(const Model& model, const Topology& topology) {
  return std::make_unique<ShellTerm>(model, topology);
}
std::unique_ptr<EnergyTerm> make_hinge_term(const Topology& topology) {
  return std::make_unique<HingeTerm>(topology);
}
std::unique_ptr<EnergyTerm> make_stitch_term(const ShellMesh& mesh,
                                             const std::vector<Stitch>& stitches) {
  return std::make_unique<StitchTerm>(mesh, stitches);
}
std::unique_ptr<EnergyTerm> make_normal_tie_term(const ShellMesh& mesh,
                                                 const std::vector<NormalTie>& ties) {
  return std::make_unique<NormalTieTerm>(mesh, ties);
}

}  // namespace totebench
