// A bag that changes, moment by moment: pictures from one place, at one scale, with one colour bar.
#pragma once

#include <string>
#include <vector>

#include "totebench/viz/bag_field.hpp"
#include "totebench/viz/drawn_bag.hpp"
#include "totebench/viz/results.hpp"

namespace totebench::viz {

struct BagMoment {
  Eigen::Matrix3Xd x_m;  // node positions
  CornerValues colour;   // ShownField::values in the units of the picture
  std::string caption;   // "with 4 kg"
};

// `n` moments (two or more) spread evenly from no load to all of it; straight lines between the
// load steps, of which there must be one at least. `units` as in ToteView.
[[nodiscard]] std::vector<BagMoment> load_rising(const scenes::Tote& tote,
                                                 const std::vector<solver::LoadStep>& steps,
                                                 double mass_kg, BagField field,
                                                 const std::string& units, int n);

// `bar_title` as in ShownField.
[[nodiscard]] std::vector<Picture> bag_frames(const scenes::Tote& tote,
                                              const std::vector<BagMoment>& moments,
                                              const std::string& bar_title,
                                              const std::string& units);

}  // namespace totebench::viz
