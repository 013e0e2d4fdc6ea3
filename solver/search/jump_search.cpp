#include "solver/search/jump_search.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace totebench::solver {
namespace {

// Of two neighbouring parts of the way, one on which the shape moves more than so many times as
// fast as on the other is looked into.
constexpr double kOutOfProportion = 2;
// Where less than this is left of a move in its larger half, again and again, it was a smooth one.
constexpr double kSmoothShare = 0.4;
// A limp sheet hangs down under a small part of any load, and slowly: jumps within this part of the
// first step are not looked for. What the way begins with need not even be at rest.
constexpr double kFirstPart = 1.0 / 8;
constexpr double kNoDrop = 1e-9;  // share of the energy that is no drop

double moved(const State& a, const State& b) {
  return std::sqrt((b.x - a.x).colwise().squaredNorm().maxCoeff());
}

bool converged(const SolvedStep& step) { return step.report.status == SolveStatus::kConverged; }

}  // namespace

double JumpSearch::energy_drop(const LoadStep& a, const LoadStep& b) const {
  const double before = energy_(a.load_factor, a.state);
  const double after = energy_(a.load_factor, b.state);
  const double drop = before - after;
  return drop > kNoDrop * std::max(std::abs(before), std::abs(after)) ? drop : 0;
}

bool JumpSearch::is_suspect(const LoadStep& a, const LoadStep& b) const {
  if (rate_ < 0) return true;
  const double in_proportion = rate_ * std::abs(b.load_factor - a.load_factor);
  return moved(a.state, b.state) > kOutOfProportion * in_proportion || energy_drop(a, b) > 0;
}

void JumpSearch::note_rate(const LoadStep& a, const LoadStep& b) {
  const double way = std::abs(b.load_factor - a.load_factor);
  if (way > 0) rate_ = moved(a.state, b.state) / way;
}

SolvedStep JumpSearch::from(const LoadStep& a, double load_factor) const {
  SolvedStep step{{load_factor, a.state}, {}};
  step.report = solve_(step.load_factor, step.state);
  return step;
}

std::optional<JumpSearch::Found> JumpSearch::find(const LoadStep& a, SolvedStep& b) {
  if (!energy_ || !(width_ > 0) || a.load_factor == b.load_factor) return std::nullopt;
  const bool is_first = rate_ < 0;
  const bool suspect = is_suspect(a, b);
  note_rate(a, b);
  if (!suspect) return std::nullopt;

  LoadStep low = a;
  if (is_first) {
    SolvedStep first = from(a, a.load_factor + kFirstPart * (b.load_factor - a.load_factor));
    if (!converged(first)) return std::nullopt;
    low = std::move(first);
  }
  SolvedStep high = b;
  const double whole = moved(low.state, high.state);
  bool leapt = is_first;  // to `high` from before `low`
  while (std::abs(high.load_factor - low.load_factor) > width_) {
    SolvedStep middle = from(low, 0.5 * (low.load_factor + high.load_factor));
    if (!converged(middle)) break;
    const double first = moved(low.state, middle.state), second = moved(middle.state, high.state);
    const double larger = std::max(first, second), smaller = std::min(first, second);
    const bool smooth = larger <= kOutOfProportion * smaller || larger < kSmoothShare * whole;
    if (smooth && !(energy_drop(low, high) > 0)) return std::nullopt;
    const bool is_in_first =
        energy_drop(low, middle) > 0 || (!(energy_drop(middle, high) > 0) && first > second);
    leapt = !is_in_first;
    if (is_in_first) {
      high = std::move(middle);
    } else {
      low = std::move(middle);
    }
  }
  if (leapt) {
    SolvedStep reached = from(low, high.load_factor);
    if (converged(reached)) {
      // Off the way, where the load does not lead?
      const bool off =
          moved(low.state, reached.state) < kSmoothShare * moved(low.state, high.state);
      if (off) b = reached;
      high = std::move(reached);
    }
  }
  const double drop = energy_drop(low, high);
  if (!(drop > 0)) return std::nullopt;
  b = std::move(high);
  note_rate(a, low);
  const Jump jump = {low.load_factor, b.load_factor, moved(low.state, b.state), drop};
  return Found{jump, std::move(low)};
}

}  // namespace totebench::solver
