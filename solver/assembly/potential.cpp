#include "solver/assembly/potential.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <iterator>

namespace totebench::solver {
namespace {

constexpr int kLargestBlock = 36;  // unknowns of a pair of triangles

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

Eigen::Vector3d carried(const Eigen::Vector3d& from, const Eigen::Vector3d& to,
                        const Eigen::Vector3d& v) {
  // Smallest rotation that takes unit vector `from` to `to`.
  const Eigen::Vector3d axis = from.cross(to);
  const double c = from.dot(to);
  return c * v + axis.cross(v) + axis * (axis.dot(v) / (1 + c));
}

Eigen::VectorXd flattened(const Eigen::Matrix3Xd& force, int n_nodes, int n_unknowns) {
  Eigen::VectorXd all = Eigen::VectorXd::Zero(n_unknowns);
  if (force.size() > 0) {
    all.head(3 * n_nodes) = Eigen::Map<const Eigen::VectorXd>(force.data(), force.size());
  }
  return all;
}

}  // namespace

Eigen::VectorXd coordinates(const State& state) {
  Eigen::VectorXd y(state.x.size() + state.turn.size());
  y << Eigen::Map<const Eigen::VectorXd>(state.x.data(), state.x.size()), state.turn;
  return y;
}

State retract(const Topology& topology, const State& state, const Eigen::VectorXd& step) {
  State moved;
  moved.x = state.x;
  const Eigen::Index n_positions = state.x.size();
  Eigen::Map<Eigen::VectorXd>(moved.x.data(), n_positions) += step.head(n_positions);
  moved.turn = state.turn + step.tail(topology.n_directors());
  moved.director.resize(3, topology.n_directors());
#pragma omp parallel for schedule(static)
  for (int i = 0; i < topology.n_directors(); ++i) {
    const DirectorSite& site = topology.sites[i];
    const Eigen::Vector3d from = site_tangent(site, state.x).normalized();
    const Eigen::Vector3d to = site_tangent(site, moved.x).normalized();
    const Eigen::Vector3d d = carried(from, to, state.director.col(i));
    const double turn = step[n_positions + i];
    Eigen::Vector3d turned = std::cos(turn) * d + std::sin(turn) * to.cross(d);
    turned -= to.dot(turned) * to;  // keeps round-off from adding up
    moved.director.col(i) = turned.normalized();
  }
  return moved;
}

Potential::Potential(const Model& model) : model_(model), topology_(make_topology(model)) {
  terms_.push_back(make_shell_term(model_, topology_));
  if (!topology_.hinges.empty()) terms_.push_back(make_hinge_term(topology_));
  if (!model_.stitches.empty()) terms_.push_back(make_stitch_term(model_.mesh, model_.stitches));
  if (!model_.weak_springs.empty()) {
    terms_.push_back(make_stitch_term(model_.mesh, model_.weak_springs));
  }
  if (!model_.normal_ties.empty()) {
    terms_.push_back(make_normal_tie_term(model_.mesh, model_.normal_ties));
  }
  if (!model_.tethers.empty()) terms_.push_back(make_tether_term(model_.mesh, model_.tethers));
  if (model_.payload_pressure_Pa.size() > 0) {
    terms_.push_back(make_pressure_term(model_.mesh, model_.payload_pressure_Pa));
  }
  if (model_.fill.active()) {
    auto fill = std::make_unique<FillTerm>(model_.mesh, model_.fill, model_.gravity_m_per_s2);
    fill_ = fill.get();
    terms_.push_back(std::move(fill));
  }
  if (model_.floor.active()) {
    auto floor = std::make_unique<FloorTerm>(model_.mesh, model_.floor);
    floor_ = floor.get();
    terms_.push_back(std::move(floor));
  }

  const int n = topology_.n_unknowns();
  permanent_ = flattened(model_.permanent_force_N, topology_.n_nodes, n);
  payload_ = flattened(model_.payload_force_N, topology_.n_nodes, n);
  for (const DirectorLoad& load : topology_.moments) {
    payload_[3 * topology_.n_nodes + load.director] += load.moment_N_m;
  }
  heap_ = Eigen::VectorXd::Zero(n);

  free_index_.assign(n, 0);
  for (const FixedDof& fixed : model_.fixed) free_index_[3 * fixed.node + fixed.axis] = -1;
  for (const int director : topology_.clamped) free_index_[3 * topology_.n_nodes + director] = -1;
  // A node that no triangle uses has no stiffness; hold it.
  std::vector<bool> used(topology_.n_nodes, false);
  for (const Triangle& t : model_.mesh.triangles) {
    for (const int node : t.node) used[node] = true;
  }
  for (int i = 0; i < topology_.n_nodes; ++i) {
    for (int c = 0; c < 3 && !used[i]; ++c) free_index_[3 * i + c] = -1;
  }
  for (int i = 0; i < n; ++i) {
    if (free_index_[i] == -1) continue;
    free_index_[i] = static_cast<int>(free_.size());
    free_.push_back(i);
  }
  build_pattern();
  set_load_factor(1);
}

void Potential::build_pattern() {
  std::size_t n_local = 0;
  std::size_t n_gradient = 0;
  for (const auto& term : terms_) {
    for (int b = 0; b < term->n_blocks(); ++b) {
      const std::span<const int> unknowns = term->unknowns(b);
      entries_.push_back({term.get(), b, n_local, unknowns});
      gradient_first_.push_back(n_gradient);
      n_local += unknowns.size() * (unknowns.size() + 1) / 2;
      n_gradient += unknowns.size();
    }
  }
  local_.resize(n_local);
  gradients_.resize(n_gradient);

  // Every entry of a block in its column of the lower triangle, in the order of the blocks ...
  struct Item {
    int row;
    int position;  // in local_
  };
  const auto for_each_item = [&](auto&& visit) {
    for (const Entry& entry : entries_) {
      std::size_t position = entry.first;
      const std::size_t n = entry.unknowns.size();
      for (std::size_t j = 0; j < n; ++j) {
        const int fj = free_index_[entry.unknowns[j]];
        for (std::size_t i = j; i < n; ++i, ++position) {
          const int fi = free_index_[entry.unknowns[i]];
          if (fi >= 0 && fj >= 0) {
            visit(std::min(fi, fj), Item{std::max(fi, fj), static_cast<int>(position)});
          }
        }
      }
    }
  };
  std::vector<int> item_start(n_free() + 1, 0);
  for_each_item([&](int column, const Item&) { ++item_start[column + 1]; });
  for (int c = 0; c < n_free(); ++c) item_start[c + 1] += item_start[c];
  std::vector<Item> items(item_start.back());
  std::vector<int> place(item_start.begin(), item_start.end() - 1);
  for_each_item([&](int column, const Item& item) { items[place[column]++] = item; });

  // ... sorted by row, those of one row to be added up, gives the compressed lower triangle.
  std::vector<int> rows;
  std::vector<int> column_start(n_free() + 1, 0);
  gather_.reserve(items.size());
  for (int c = 0; c < n_free(); ++c) {
    const auto begin = items.begin() + item_start[c];
    const auto end = items.begin() + item_start[c + 1];
    std::sort(begin, end, [](const Item& a, const Item& b) {
      return a.row != b.row ? a.row < b.row : a.position < b.position;
    });
    for (auto item = begin; item != end; ++item) {
      if (item == begin || item->row != std::prev(item)->row) {
        gather_start_.push_back(static_cast<int>(gather_.size()));
        rows.push_back(item->row);
      }
      gather_.push_back(item->position);
    }
    column_start[c + 1] = static_cast<int>(rows.size());
  }
  gather_start_.push_back(static_cast<int>(gather_.size()));
  hessian_.resize(n_free(), n_free());
  hessian_.resizeNonZeros(static_cast<Eigen::Index>(rows.size()));
  std::copy(column_start.begin(), column_start.end(), hessian_.outerIndexPtr());
  std::copy(rows.begin(), rows.end(), hessian_.innerIndexPtr());
  std::fill_n(hessian_.valuePtr(), rows.size(), 0.0);

  std::vector<int> gradient_count(topology_.n_unknowns() + 1, 0);
  for (const Entry& entry : entries_) {
    for (const int unknown : entry.unknowns) ++gradient_count[unknown + 1];
  }
  for (int i = 0; i < topology_.n_unknowns(); ++i) gradient_count[i + 1] += gradient_count[i];
  gradient_gather_start_ = gradient_count;
  gradient_gather_.resize(n_gradient);
  std::vector<int> next(gradient_count.begin(), gradient_count.end() - 1);
  for (std::size_t e = 0; e < entries_.size(); ++e) {
    for (std::size_t i = 0; i < entries_[e].unknowns.size(); ++i) {
      gradient_gather_[next[entries_[e].unknowns[i]]++] = static_cast<int>(gradient_first_[e] + i);
    }
  }
}

void Potential::set_load_factor(double factor) {
  factor_ = factor;
  for (const auto& term : terms_) term->set_load_factor(factor);
  update_dead_load();
}

void Potential::set_heap_forces(const Eigen::Matrix3Xd& force) {
  heap_ = flattened(force, topology_.n_nodes, topology_.n_unknowns());
  update_dead_load();
}

void Potential::update_dead_load() { dead_load_ = permanent_ + factor_ * payload_ + heap_; }

void Potential::prepare(const State& state) {
  if (fill_ != nullptr) fill_->find_level(state);
}

double Potential::energy(const State& state) const {
  std::vector<double> block_energy(entries_.size());
#pragma omp parallel for schedule(static)
  for (std::size_t e = 0; e < entries_.size(); ++e) {
    block_energy[e] = entries_[e].term->energy(state, entries_[e].block);
  }
  CompensatedSum sum;
  for (const double value : block_energy) sum.add(value);
  for (Eigen::Index i = 0; i < state.x.size(); ++i) {
    sum.add(-dead_load_[i] * state.x.data()[i]);
  }
  for (Eigen::Index i = 0; i < state.turn.size(); ++i) {
    sum.add(-dead_load_[state.x.size() + i] * state.turn[i]);
  }
  if (fill_ != nullptr) sum.add(fill_->level_energy());
  if (quadratic_.diagonal.size() > 0) sum.add(quadratic_energy(state));
  return sum.total();
}

namespace {

Eigen::VectorXd gathered(const std::vector<double>& values, const std::vector<int>& start,
                         const std::vector<int>& positions) {
  Eigen::VectorXd sum(static_cast<Eigen::Index>(start.size()) - 1);
#pragma omp parallel for schedule(static)
  for (Eigen::Index i = 0; i < sum.size(); ++i) {
    double s = 0;
    for (int k = start[i]; k < start[i + 1]; ++k) s += values[positions[k]];
    sum[i] = s;
  }
  return sum;
}

}  // namespace

Eigen::VectorXd Potential::gradient(const State& state) const {
  std::vector<double> gradients(gradients_.size());
#pragma omp parallel for schedule(static)
  for (std::size_t e = 0; e < entries_.size(); ++e) {
    entries_[e].term->derivatives(state, entries_[e].block, Curving::kFull,
                                  &gradients[gradient_first_[e]], nullptr);
  }
  return gathered(gradients, gradient_gather_start_, gradient_gather_) - dead_load_ +
         quadratic_gradient(state);
}

Eigen::VectorXd Potential::assemble(const State& state, Curving curving) {
#pragma omp parallel for schedule(static)
  for (std::size_t e = 0; e < entries_.size(); ++e) {
    const Entry& entry = entries_[e];
    alignas(32) double block[kLargestBlock * kLargestBlock];
    entry.term->derivatives(state, entry.block, curving, &gradients_[gradient_first_[e]], block);
    const std::size_t n = entry.unknowns.size();
    double* out = &local_[entry.first];
    for (std::size_t j = 0; j < n; ++j) {
      for (std::size_t i = j; i < n; ++i) *out++ = block[j * n + i];
    }
  }
  double* values = hessian_.valuePtr();
  const Eigen::Index n_values = hessian_.nonZeros();
#pragma omp parallel for schedule(static)
  for (Eigen::Index k = 0; k < n_values; ++k) {
    double sum = 0;
    for (int g = gather_start_[k]; g < gather_start_[k + 1]; ++g) sum += local_[gather_[g]];
    values[k] = sum;
  }
  if (quadratic_.diagonal.size() > 0) {
    for (int c = 0; c < n_free(); ++c) {
      values[hessian_.outerIndexPtr()[c]] += quadratic_.diagonal[free_[c]];
    }
    Eigen::Map<Eigen::VectorXd> all(values, n_values);
    if (quadratic_.coupled.size() > 0) all += quadratic_.coupled;
  }
  return gathered(gradients_, gradient_gather_start_, gradient_gather_) - dead_load_ +
         quadratic_gradient(state);
}

void Potential::predict(const State& state, const Eigen::VectorXd& step) {
  for (const auto& term : terms_) term->predict(&state, step);
}

void Potential::forget_prediction() {
  for (const auto& term : terms_) term->predict(nullptr, {});
}

double Potential::level_coupling(const State& state, Eigen::VectorXd& v_free) const {
  if (fill_ == nullptr) return 0;
  Eigen::VectorXd v(topology_.n_unknowns());
  double factor = 0;
  if (!fill_->level_coupling(state, v, factor)) return 0;
  v_free = restrict_to_free(v);
  return factor;
}

Eigen::VectorXd Potential::restrict_to_free(const Eigen::VectorXd& all) const {
  Eigen::VectorXd out(n_free());
  for (int i = 0; i < n_free(); ++i) out[i] = all[free_[i]];
  return out;
}

Eigen::VectorXd Potential::expand(const Eigen::VectorXd& free_values) const {
  Eigen::VectorXd all = Eigen::VectorXd::Zero(topology_.n_unknowns());
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
  if (quadratic_.diagonal.size() == 0) return Eigen::VectorXd::Zero(topology_.n_unknowns());
  const Eigen::VectorXd y = coordinates(state);
  Eigen::VectorXd gradient = quadratic_.diagonal.cwiseProduct(y - quadratic_.centre);
  if (quadratic_.coupled.size() > 0) {
    gradient += expand(coupled_product(restrict_to_free(y) - quadratic_.coupled_centre));
  }
  return gradient;
}

Eigen::VectorXd Potential::coupled_product(const Eigen::VectorXd& z) const {
  const Eigen::Map<const Eigen::SparseMatrix<double>> matrix(
      hessian_.rows(), hessian_.cols(), hessian_.nonZeros(), hessian_.outerIndexPtr(),
      hessian_.innerIndexPtr(), quadratic_.coupled.data());
  return matrix.selfadjointView<Eigen::Lower>() * z;
}

Eigen::VectorXd Potential::applied_loads(const State& state) const {
  Eigen::VectorXd loads = dead_load_;
  double gradient[kLargestBlock];
  for (const Entry& entry : entries_) {
    // Terms other than internal ones (shell, hinges, springs, ties) push on the outside world.
    const bool outside = entry.term == fill_ || entry.term == floor_ ||
                         (model_.payload_pressure_Pa.size() > 0 && entry.unknowns.size() == 18);
    if (!outside) continue;
    entry.term->derivatives(state, entry.block, Curving::kFull, gradient, nullptr);
    for (std::size_t i = 0; i < entry.unknowns.size(); ++i) {
      loads[entry.unknowns[i]] -= gradient[i];
    }
  }
  return loads;
}

Eigen::Vector3d Potential::applied_force(const State& state) const {
  const Eigen::VectorXd loads = applied_loads(state);
  Eigen::Vector3d total = Eigen::Vector3d::Zero();
  for (int i = 0; i < topology_.n_nodes; ++i) total += loads.segment<3>(3 * i);
  return total;
}

double Potential::load_scale(double length_m) const {
  double scale = dead_load_.tail(topology_.n_directors()).cwiseAbs().sum() / length_m;
  for (int i = 0; i < topology_.n_nodes; ++i) scale += dead_load_.segment<3>(3 * i).norm();
  if (fill_ != nullptr) scale += fill_->weight_N();
  if (model_.payload_pressure_Pa.size() > 0) {
    for (int t = 0; t < model_.mesh.n_triangles(); ++t) {
      scale += std::abs(factor_ * model_.payload_pressure_Pa[t]) * rest_area(model_.mesh, t);
    }
  }
  return scale;
}

}  // namespace totebench::solver
