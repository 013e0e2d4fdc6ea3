// What the picture and the tables of a sweep are drawn from: one number a bag.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "totebench/scenes/unit_text.hpp"
#include "totebench/studies/sweep.hpp"

namespace totebench::app {

struct SweepAxis {
  std::string name;
  scenes::Dimension dimension = scenes::Dimension::kNone;
  std::vector<double> values;  // one a bag, SI; NaN where it is not at rest
  bool figure = false;
};
[[nodiscard]] SweepAxis axis_of(const studies::SweepResult& result, const scenes::Figure& figure);

// What the picture has from left to right: a figure; a factor, where all bags have the same figure;
// or the number of the bag, where that factor is a word.
[[nodiscard]] SweepAxis across_axis(const studies::SweepResult& result);
// What it has from bottom to top.
[[nodiscard]] SweepAxis up_axis(const studies::SweepResult& result);

// The figure of this key, which there is.
[[nodiscard]] const scenes::Figure& figure_named(const std::string& key);

// The unit in which all its values read best, and the name with it: "mass of the bag, oz".
[[nodiscard]] scenes::ShownUnit axis_unit(const SweepAxis& axis, const std::string& units);
[[nodiscard]] std::string axis_title(const SweepAxis& axis, const scenes::ShownUnit& unit);
// "3/8 in"
[[nodiscard]] std::string axis_text(double value, const SweepAxis& axis, const std::string& units);

// Bags, from 0, with the least and the largest value; the number of bags where no value is known.
[[nodiscard]] std::pair<std::size_t, std::size_t> ends_of(const SweepAxis& axis);

// Bags, from 0, of which no other has less of both figures of the picture, by the one across; empty
// where that shows no figure.
[[nodiscard]] std::vector<int> unbeaten_bags(const studies::SweepResult& result);

}  // namespace totebench::app
