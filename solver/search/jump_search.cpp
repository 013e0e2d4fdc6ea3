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

std::optional<JumpSearch::Found> JumpSearch::find(LoadStep a, LoadStep& b) {
  if (!energy_ || !(width_ > 0) || a.load_factor == b.load_factor) return std::nullopt;
  const bool is_first = rate_ < 0;
  const bool suspect = is_suspect(a, b);
  rate_ = moved(a.state, b.state) / std::abs(b.load_factor - a.load_factor);
  if (!suspect) return std::nullopt;

  LoadStep low = std::move(a), high = b;
  if (is_first) {
    low.load_factor += kFirstPart * (high.load_factor - low.load_factor);
    if (solve_(low.load_factor, low.state).status != SolveStatus::kConverged) return std::nullopt;
  }
  const double whole = moved(low.state, high.state);
  while (std::abs(high.load_factor - low.load_factor) > width_) {
    LoadStep middle{0.5 * (low.load_factor + high.load_factor), low.state};
    if (solve_(middle.load_factor, middle.state).status != SolveStatus::kConverged) break;
    const double first = moved(low.state, middle.state), second = moved(middle.state, high.state);
    const double larger = std::max(first, second), smaller = std::min(first, second);
    const bool smooth = larger <= kOutOfProportion * smaller || larger < kSmoothShare * whole;
    if (smooth && !(energy_drop(low, high) > 0)) return std::nullopt;
    (first > second ? high : low) = std::move(middle);
  }
  if (high.load_factor == b.load_factor) {
    // All but the end was reached on the old branch: does that end there?
    LoadStep again{b.load_factor, low.state};
    if (solve_(again.load_factor, again.state).status == SolveStatus::kConverged &&
        moved(low.state, again.state) < kSmoothShare * whole) {
      b = std::move(again);
      return std::nullopt;
    }
  }
  const double drop = energy_drop(low, high);
  if (!(drop > 0)) return std::nullopt;
  const Jump jump = {low.load_factor, high.load_factor, moved(low.state, high.state), drop};
  return Found{jump, std::move(low), std::move(high)};
}

}  // namespace totebench::solver
