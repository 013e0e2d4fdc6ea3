#include "totebench/studies/likely_range.hpp"

#include <algorithm>
#include <cmath>

#include "app/studies/hang/moves_in_squares.hpp"

namespace totebench::studies {
const scenes::Findings* mesh_before(const HangResult& hung) {
  if (hung.coarser) return &*hung.coarser;
  const auto& coarse = hung.coarse_findings;
  return coarse && coarse->triangles < hung.findings.triangles ? &*coarse : nullptr;
}

std::optional<double> mesh_change(const HangResult& hung, const scenes::Figure& figure) {
  const scenes::Findings* before = mesh_before(hung);
  // Forces at seams say nothing on a mesh that is not refined there.
  const bool on_coarse = figure.likely_from == scenes::LikelyFrom::kMaterials;
  if (before == nullptr || (!hung.coarser && !on_coarse)) return std::nullopt;
  return std::abs(figure.value(hung.findings) - figure.value(*before));
}

std::optional<Range> likely_range(const HangResult& hung, const scenes::Figure& figure) {
  const double found = figure.value(hung.findings);
  const double by_mesh = mesh_change(hung, figure).value_or(0);
  if (figure.likely_from == scenes::LikelyFrom::kStitches && hung.stitch_band) {
    return Range{std::max(0.0, hung.stitch_band->low_N - by_mesh),
                 hung.stitch_band->high_N + by_mesh};
  }
  if (figure.likely_from != scenes::LikelyFrom::kMaterials || !hung.data_scatter) {
    return std::nullopt;
  }
  const std::size_t k = place_of(figure);
  MovesInSquares all;
  for (const DataScatter::Moves& moves : hung.data_scatter->moves) {
    all.add(moves.at_low[k], moves.at_high[k]);
  }
  return Range{found - by_mesh - all.down(), found + by_mesh + all.up()};
}

std::vector<Driver> drivers(const DataScatter& scatter, const scenes::Figure& figure) {
  const std::size_t k = place_of(figure);
  std::vector<Driver> list;
  double total = 0;
  for (const DataScatter::Moves& moves : scatter.moves) {
    const double half = (moves.at_high[k] - moves.at_low[k]) / 2;
    list.push_back({moves.input, half * half});
    total += half * half;
  }
  for (Driver& driver : list) driver.share = total > 0 ? driver.share / total : 0;
  return list;
}

}  // namespace totebench::studies
