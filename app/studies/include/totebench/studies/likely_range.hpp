// What is told beside a headline of how well it is known.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "totebench/studies/hang.hpp"
#include "totebench/studies/rate_scatter.hpp"

namespace totebench::studies {

// The mesh to compare with: that with longer edges where it was asked for, else the coarse one;
// null where there is none.
[[nodiscard]] const scenes::Findings* mesh_before(const HangResult& hung);

// By how much a figure (a line of kFigures) of `hung` moves between its mesh and the one before, in
// SI. Empty where there is none to compare with.
[[nodiscard]] std::optional<double> mesh_change(const HangResult& hung,
                                                const scenes::Figure& figure);

struct Range {  // SI
  double low = 0;
  double high = 0;
};
// By Figure::likely_from where nine in ten bags have it by the scatter of the data, or the band of
// the stitches; on top, either way, what the mesh changes. Empty where the scatter, or the band,
// was not asked for, and for a figure that has neither.
[[nodiscard]] std::optional<Range> likely_range(const HangResult& hung,
                                                const scenes::Figure& figure);

// What the scatter of a figure comes from.
[[nodiscard]] std::vector<Driver> drivers(const DataScatter& scatter, const scenes::Figure& figure);

}  // namespace totebench::studies
