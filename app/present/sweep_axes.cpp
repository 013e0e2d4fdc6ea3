#include "app/present/sweep_axes.hpp"

#include <algorithm>
#include <cmath>

#include "totebench/studies/choose_search.hpp"

namespace totebench::app {
namespace {

constexpr double kSameEverywhere = 1e-6;  // share by which figures that are the same may differ

}  // namespace

const scenes::Figure& figure_named(const std::string& key) {
  return *std::find_if(scenes::kFigures.begin(), scenes::kFigures.end(),
                       [&](const scenes::Figure& figure) { return figure.key == key; });
}

SweepAxis axis_of(const studies::SweepResult& r, const scenes::Figure& figure) {
  SweepAxis axis{figure.name, figure.dimension, {}, true};
  for (const studies::SweptBag& bag : r.bags) {
    axis.values.push_back(bag.at_rest() ? bag.figures[scenes::place_of(figure)] : std::nan(""));
  }
  return axis;
}

std::string axis_text(double value, const SweepAxis& axis, const std::string& units) {
  return axis.dimension == scenes::Dimension::kNone
             ? scenes::number_text(value)
             : scenes::shown_text(value, axis.dimension, units);
}

scenes::ShownUnit axis_unit(const SweepAxis& axis, const std::string& units) {
  double largest = 0;
  for (const double value : axis.values) largest = std::fmax(largest, std::abs(value));
  if (axis.dimension == scenes::Dimension::kMass) {
    return scenes::fitting_unit(largest, axis.dimension, units);
  }
  if (axis.dimension == scenes::Dimension::kLength && units != "in") {
    return scenes::fitting_unit(largest, axis.dimension, units);
  }
  return scenes::shown_unit(axis.dimension, units);
}

std::string axis_title(const SweepAxis& axis, const scenes::ShownUnit& unit) {
  return axis.name + (unit.name.empty() ? "" : ", " + unit.name);
}

std::pair<std::size_t, std::size_t> ends_of(const SweepAxis& axis) {
  const std::vector<double>& values = axis.values;
  std::size_t least = values.size(), most = values.size();
  for (std::size_t i = 0; i < values.size(); ++i) {
    if (std::isnan(values[i])) continue;
    if (least == values.size() || values[i] < values[least]) least = i;
    if (most == values.size() || values[i] > values[most]) most = i;
  }
  return {least, most};
}

SweepAxis up_axis(const studies::SweepResult& r) { return axis_of(r, figure_named(r.spec.up)); }

SweepAxis across_axis(const studies::SweepResult& r) {
  SweepAxis axis = axis_of(r, figure_named(r.spec.across));
  const auto [least, most] = ends_of(axis);
  const bool differs =
      least < axis.values.size() &&
      axis.values[most] - axis.values[least] > kSameEverywhere * std::abs(axis.values[most]);
  if (differs || r.factors.empty()) return axis;
  const scenes::SweptFactor& first = r.factors.front();
  axis = {first.number ? first.key : "bag",
          first.number ? first.dimension : scenes::Dimension::kNone,
          {},
          false};
  for (std::size_t i = 0; i < r.bags.size(); ++i) {
    axis.values.push_back(first.number ? r.bags[i].values.front().number
                                       : static_cast<double>(i + 1));
  }
  return axis;
}

std::vector<int> unbeaten_bags(const studies::SweepResult& r) {
  const SweepAxis across = across_axis(r);
  if (!across.figure) return {};
  const SweepAxis up = up_axis(r);
  std::vector<double> x, y;
  std::vector<int> bags;
  for (std::size_t i = 0; i < r.bags.size(); ++i) {
    if (std::isnan(across.values[i]) || std::isnan(up.values[i])) continue;
    x.push_back(across.values[i]);
    y.push_back(up.values[i]);
    bags.push_back(static_cast<int>(i));
  }
  std::vector<int> front;
  for (const int k : studies::pareto_front(x, y)) {
    front.push_back(bags[static_cast<std::size_t>(k)]);
  }
  return front;
}

}  // namespace totebench::app
