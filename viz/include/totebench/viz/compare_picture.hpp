// Several totes side by side, each loaded, at one scale and one colour scale, with the cut along
// the width below each.
#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

#include "totebench/scenes/build.hpp"
#include "totebench/viz/picture.hpp"

namespace totebench::viz {

// Positions and fields belong to tote.model. All members must outlive the call.
struct ComparedView {
  std::string label;
  const scenes::Tote& tote;
  const Eigen::Matrix3Xd& empty_x_m;
  const Eigen::Matrix3Xd& loaded_x_m;
  const solver::ShellFields& loaded_fields;
  double bottom_sag_m = 0;  // as in Findings, for the caption
  double overall_lengthening_m = 0;
  bool converged = true;  // otherwise the picture says so
};

// `views` must not be empty.
[[nodiscard]] Picture compare_picture(const std::vector<ComparedView>& views,
                                      const std::string& units);

// Broken at spaces and dashes into lines of at most `width` characters where that is possible; at
// most `most` lines, the last one shortened.
[[nodiscard]] std::string wrapped(const std::string& text, std::size_t width, std::size_t most);

}  // namespace totebench::viz
