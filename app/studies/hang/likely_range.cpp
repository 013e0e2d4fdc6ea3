#include "totebench/studies/likely_range.hpp"

#include <algorithm>
#include <cmath>

namespace totebench::studies {

const scenes::Findings* mesh_before(const HangResult& hung) {
  if (hung.coarser) return &*hung.coarser;
  const auto& coarse = hung.coarse_findings;
  return coarse && coarse->triangles < hung.findings.triangles ? &*coarse : nullptr;
}

std::optional<double> mesh_change(const HangResult& hung, std::size_t headline) {
  const scenes::Findings* before = mesh_before(hung);
  // Forces at seams say nothing on a mesh that is not refined there.
  if (before == nullptr || (!hung.coarser && headline >= kHeadlineLengths)) return std::nullopt;
  const auto value = kHeadlines[headline].value;
  return std::abs(value(hung.findings) - value(*before));
}

std::optional<Range> likely_range(const HangResult& hung, std::size_t headline) {
  const double found = kHeadlines[headline].value(hung.findings);
  const double by_mesh = mesh_change(hung, headline).value_or(0);
  if (headline == kHeadlineStitch && hung.stitch_band) {
    return Range{std::max(0.0, hung.stitch_band->low_N - by_mesh),
                 hung.stitch_band->high_N + by_mesh};
  }
  if (headline >= kHeadlineLengths || !hung.data_scatter) return std::nullopt;
  double down = 0, up = 0;
  for (const DataScatter::Moves& moves : hung.data_scatter->moves) {
    const auto [least, most] =
        std::minmax({0.0, moves.at_low_m[headline], moves.at_high_m[headline]});
    down += least * least;
    up += most * most;
  }
  return Range{found - by_mesh - std::sqrt(down), found + by_mesh + std::sqrt(up)};
}

std::vector<Driver> drivers(const DataScatter& scatter, std::size_t headline) {
  std::vector<Driver> list;
  double total = 0;
  for (const DataScatter::Moves& moves : scatter.moves) {
    const double half = (moves.at_high_m[headline] - moves.at_low_m[headline]) / 2;
    list.push_back({moves.input, half * half});
    total += half * half;
  }
  for (Driver& driver : list) driver.share = total > 0 ? driver.share / total : 0;
  return list;
}

}  // namespace totebench::studies
