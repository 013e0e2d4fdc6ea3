#include "solver/assembly/potential.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

namespace totebench::solver {
namespace {

// Sum with the rounding errors carried along (Neumaier), so that line searches can see energy
// changes far below the total.
class CompensatedSum {
 public:
  void add(double value) {
    const double t = sum_ + value;
    correction_ += std::abs(sum_) >= std::abs(value) ? (sum_ - t) + value : (value - t) + sum_;
    sum_ = t;
  }
  [[nodiscard]] double total() const { return sum_ + correction_; }

 private:
  double sum_ = 0;
  double correction_ = 0;
};

Eigen::VectorXd flattened(const Eigen::Matrix3Xd& force, int n_nodes, int n_unknowns) {
  Eigen::VectorXd all = Eigen::VectorXd::Zero(n_unknowns);
  if (force.size() > 0) {
    all.head(3 * n_nodes) = Eigen::Map<const Eigen::VectorXd>(force.data(), force.size());
  }
  return all;
}

}  // namespace

Potential::Potential(const Model& model)
    : model_(model),
      topology_(make_topology(model)),
      dofs_(dof_map(topology_, model.bodies.size())),
      terms_(make_terms(model_, topology_)) {
  permanent_ = flattened(model_.permanent_force_N, dofs_.n_nodes, dofs_.size());
  payload_ = flattened(model_.payload_force_N, dofs_.n_nodes, dofs_.size());
  for (const DirectorLoad& load : topology_.moments) {
    payload_[dofs_.director(load.director)] += load.moment_N_m;
  }
  find_free();
  list_blocks();
  pattern_.update_hessian(free_index_, n_free());
  set_load_factor(1);
}

void Potential::find_free() {
  free_index_.assign(dofs_.size(), 0);
  for (const FixedDof& fixed : model_.fixed) free_index_[dofs_.node(fixed.node) + fixed.axis] = -1;
  for (const int director : topology_.clamped) free_index_[dofs_.director(director)] = -1;
  // A node that no triangle uses has no stiffness; hold it.
  std::vector<bool> used(dofs_.n_nodes, false);
  for (const Triangle& t : model_.mesh.triangles) {
    for (const int node : t.node) used[node] = true;
  }
  for (int i = 0; i < dofs_.n_nodes; ++i) {
    for (int c = 0; c < 3 && !used[i]; ++c) free_index_[dofs_.node(i) + c] = -1;
  }
  for (int b = 0; b < dofs_.n_bodies; ++b) {
    if (!model_.bodies[static_cast<std::size_t>(b)].fixed) continue;
    std::fill_n(free_index_.begin() + dofs_.body(b), DofMap::kPerBody, -1);
  }
  for (int i = 0; i < dofs_.size(); ++i) {
    if (free_index_[i] == -1) continue;
    free_index_[i] = static_cast<int>(free_.size());
    free_.push_back(i);
  }
}

void Potential::add(std::unique_ptr<EnergyTerm> term) {
  term->set_load_factor(factor_);
  terms_.push_back(std::move(term));
  try {
    list_blocks();
  } catch (const std::invalid_argument&) {
    terms_.pop_back();
    list_blocks();
    throw;
  }
  pattern_.update_hessian(free_index_, n_free());
}

std::vector<int> Potential::term_versions() const {
  std::vector<int> versions;
  versions.reserve(terms_.size());
  for (const auto& term : terms_) versions.push_back(term->pattern_version());
  return versions;
}

void Potential::list_blocks() {
  std::vector<const EnergyTerm*> terms;
  terms.reserve(terms_.size());
  for (const auto& term : terms_) terms.push_back(term.get());
  pattern_.list(terms, dofs_.size());
  versions_ = term_versions();
}

void Potential::keep_in_pattern(const Eigen::SparseMatrix<double>& lower) {
  pattern_.keep(lower);
  pattern_.update_hessian(free_index_, n_free());
}

void Potential::set_load_factor(double factor) {
  factor_ = factor;
  for (const auto& term : terms_) term->set_load_factor(factor);
  update_dead_load();
}

void Potential::update_dead_load() {
  Eigen::VectorXd lagged = Eigen::VectorXd::Zero(dofs_.size());
  for (const auto& term : terms_) term->add_lagged_force(lagged);
  dead_load_ = permanent_ + factor_ * payload_ + lagged;
}

bool Potential::is_lagged() const {
  return std::any_of(terms_.begin(), terms_.end(),
                     [](const auto& term) { return term->is_lagged(); });
}

void Potential::renew_lagged(const State& state) {
  for (const auto& term : terms_) term->renew_lagged(state);
  if (term_versions() != versions_) list_blocks();
  update_dead_load();
}

void Potential::begin(const State& state) {
  prepare(state);
  for (const auto& term : terms_) term->begin(state);
  if (term_versions() != versions_) list_blocks();
}

SolveFailure Potential::obstacle() const {
  for (const auto& term : terms_) {
    if (term->obstacle() != SolveFailure::kNone) return term->obstacle();
  }
  return SolveFailure::kNone;
}

void Potential::prepare(const State& state) {
  for (const auto& term : terms_) term->prepare(state);
  if (term_versions() != versions_) list_blocks();
}

double Potential::largest_step(const State& state, const Eigen::VectorXd& step) const {
  double share = 1;
  for (const auto& term : terms_) share = std::min(share, term->largest_step(state, step));
  return share;
}

template <typename Wanted>
std::vector<double> Potential::block_energies(const State& state, Wanted wanted) const {
  const std::vector<BlockPattern::Entry>& entries = pattern_.entries();
  std::vector<double> energies(entries.size());
#pragma omp parallel for schedule(static)
  for (std::size_t e = 0; e < entries.size(); ++e) {
    if (wanted(*entries[e].term)) energies[e] = entries[e].term->energy(state, entries[e].block);
  }
  return energies;
}

double Potential::inner_energy(const State& state) const {
  const auto is_inner = [](const EnergyTerm& term) { return !term.is_outer(); };
  CompensatedSum sum;
  for (const double value : block_energies(state, is_inner)) sum.add(value);
  for (const auto& term : terms_) {
    if (is_inner(*term)) sum.add(term->whole_energy());
  }
  return sum.total();
}

double Potential::energy(const State& state) const {
  CompensatedSum sum;
  for (const double value : block_energies(state, [](const EnergyTerm&) { return true; })) {
    sum.add(value);
  }
  for (Eigen::Index i = 0; i < state.x.size(); ++i) {
    sum.add(-dead_load_[i] * state.x.data()[i]);
  }
  for (Eigen::Index i = 0; i < state.turn.size(); ++i) {
    sum.add(-dead_load_[state.x.size() + i] * state.turn[i]);
  }
  for (const auto& term : terms_) sum.add(term->whole_energy());
  if (quadratic_.diagonal.size() > 0) sum.add(quadratic_energy(state));
  return sum.total();
}

Eigen::VectorXd Potential::gradient(const State& state) const {
  return pattern_.gradient(state) - dead_load_ + quadratic_gradient(state);
}

Eigen::VectorXd Potential::assemble(const State& state, HessianPart part) {
  Eigen::VectorXd diagonal;
  if (quadratic_.diagonal.size() > 0) diagonal = restrict_to_free(quadratic_.diagonal);
  return pattern_.assemble(state, part, free_index_, n_free(), diagonal, quadratic_.coupled) -
         dead_load_ + quadratic_gradient(state);
}

Eigen::VectorXd Potential::round_off(const State& state) const {
  constexpr double kUnitRoundOff = 0.5 * std::numeric_limits<double>::epsilon();
  Eigen::VectorXd y = Eigen::VectorXd::Ones(dofs_.size());
  y.head(state.x.size()) = Eigen::Map<const Eigen::VectorXd>(state.x.data(), state.x.size());
  for (int b = 0; b < dofs_.n_bodies; ++b) {
    y.segment<3>(dofs_.body(b)) = state.bodies[static_cast<std::size_t>(b)].position;
  }
  return kUnitRoundOff * pattern_.magnitude(y);
}

Eigen::VectorXd Potential::support_step(const State& state) const {
  Eigen::VectorXd step = Eigen::VectorXd::Zero(dofs_.size());
  if (model_.support_move_m.size() == 0) return step;
  for (const auto& [node, axis] : model_.fixed) {
    step[dofs_.node(node) + axis] = model_.mesh.position(axis, node) +
                                    factor_ * model_.support_move_m(axis, node) -
                                    state.x(axis, node);
  }
  return step;
}

void Potential::predict(const State& state, const Eigen::VectorXd& step) {
  for (const auto& term : terms_) term->predict(&state, step);
}

void Potential::forget_prediction() {
  for (const auto& term : terms_) term->predict(nullptr, {});
}

std::vector<RankOne> Potential::low_rank(const State& state) const {
  std::vector<RankOne> parts;
  for (const auto& term : terms_) term->add_low_rank(state, dofs_.size(), parts);
  for (RankOne& part : parts) part.v = restrict_to_free(part.v);
  return parts;
}

Eigen::VectorXd Potential::restrict_to_free(const Eigen::VectorXd& all) const {
  Eigen::VectorXd out(n_free());
  for (int i = 0; i < n_free(); ++i) out[i] = all[free_[i]];
  return out;
}

Eigen::VectorXd Potential::expand(const Eigen::VectorXd& free_values) const {
  Eigen::VectorXd all = Eigen::VectorXd::Zero(dofs_.size());
  for (int i = 0; i < n_free(); ++i) all[free_[i]] = free_values[i];
  return all;
}

double Potential::quadratic_energy(const State& state) const {
  const Eigen::VectorXd y = coordinates(state);
  // Half the gradient times the distance, for each of the two centres.
  double energy = 0.5 * quadratic_.diagonal.dot((y - quadratic_.centre).cwiseAbs2());
  if (quadratic_.coupled.size() > 0) {
    const Eigen::VectorXd z = restrict_to_free(y) - quadratic_.coupled_centre;
    energy += 0.5 * z.dot(coupled_product(z));
  }
  return energy;
}

Eigen::VectorXd Potential::quadratic_gradient(const State& state) const {
  if (quadratic_.diagonal.size() == 0) return Eigen::VectorXd::Zero(dofs_.size());
  const Eigen::VectorXd y = coordinates(state);
  Eigen::VectorXd gradient = quadratic_.diagonal.cwiseProduct(y - quadratic_.centre);
  if (quadratic_.coupled.size() > 0) {
    gradient += expand(coupled_product(restrict_to_free(y) - quadratic_.coupled_centre));
  }
  return gradient;
}

Eigen::VectorXd Potential::coupled_product(const Eigen::VectorXd& z) const {
  const Eigen::SparseMatrix<double>& kept = pattern_.kept();
  const Eigen::Map<const Eigen::SparseMatrix<double>> matrix(
      kept.rows(), kept.cols(), kept.nonZeros(), kept.outerIndexPtr(), kept.innerIndexPtr(),
      quadratic_.coupled.data());
  return matrix.selfadjointView<Eigen::Lower>() * z;
}

Eigen::VectorXd Potential::applied_loads(const State& state) const {
  Eigen::VectorXd loads = dead_load_;
  double gradient[EnergyTerm::kLargestBlock];
  for (const BlockPattern::Entry& entry : pattern_.entries()) {
    if (!entry.term->is_outer()) continue;
    entry.term->derivatives(state, entry.block, HessianPart::kExact, gradient, nullptr);
    for (std::size_t i = 0; i < entry.unknowns.size(); ++i) {
      loads[entry.unknowns[i]] -= gradient[i];
    }
  }
  return loads;
}

Eigen::Vector3d Potential::applied_force(const State& state) const {
  const Eigen::VectorXd loads = applied_loads(state);
  Eigen::Vector3d total = Eigen::Vector3d::Zero();
  for (int i = 0; i < dofs_.n_nodes; ++i) total += loads.segment<3>(dofs_.node(i));
  for (int i = 0; i < dofs_.n_bodies; ++i) total += loads.segment<3>(dofs_.body(i));
  return total;
}

double Potential::load_scale(double length_m) const {
  double scale =
      dead_load_.segment(dofs_.director(0), dofs_.n_directors).cwiseAbs().sum() / length_m;
  for (int i = 0; i < dofs_.n_nodes; ++i) scale += dead_load_.segment<3>(dofs_.node(i)).norm();
  for (const auto& term : terms_) scale += term->load_scale();
  return scale;
}

double Potential::support_scale(const State& state, const Eigen::VectorXd& gradient,
                                double least_move_m, bool all_supports) const {
  Eigen::Matrix3Xd force = Eigen::Matrix3Xd::Zero(3, dofs_.n_nodes);
  for (const FixedDof& fixed : model_.fixed) {
    const double moved =
        state.x(fixed.axis, fixed.node) - model_.mesh.position(fixed.axis, fixed.node);
    if (all_supports || std::abs(moved) > least_move_m) {
      force(fixed.axis, fixed.node) = gradient[dofs_.node(fixed.node) + fixed.axis];
    }
  }
  return force.colwise().norm().sum();
}

}  // namespace totebench::solver
