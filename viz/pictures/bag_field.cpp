#include "totebench/viz/bag_field.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "totebench/scenes/contents_pressure.hpp"
#include "totebench/scenes/unit_text.hpp"
#include "totebench/viz/drawn_bag.hpp"
#include "totebench/viz/fields.hpp"

namespace totebench::viz {
namespace {

CornerValues used_strength(const scenes::Tote& tote, const solver::ShellFields& fields,
                           bool& known) {
  const std::vector<double> used = cloth_utilisation(tote, fields);
  known = std::any_of(used.begin(), used.end(), [](double u) { return u != kNotKnown; });
  CornerValues values(used.size());
  for (std::size_t t = 0; t < used.size(); ++t) values[t].fill(std::max(0.0, used[t]));
  return values;
}

// At the interior points of each triangle, 1/m.
CornerValues largest_curvature(const solver::ShellFields& fields) {
  CornerValues values(fields.curvature.size());
  for (std::size_t t = 0; t < values.size(); ++t) {
    for (int q = 0; q < 3; ++q) {
      Eigen::Vector3d k = fields.curvature[t].col(q);
      k[2] *= 0.5;  // stored as 2 k12
      const Principal principal = principal_of(k);
      values[t][static_cast<std::size_t>(q)] =
          std::max(std::abs(principal.high), std::abs(principal.low));
    }
  }
  return values;
}

}  // namespace

const std::vector<std::string>& bag_field_names() {
  static const std::vector<std::string> names = {"strength", "force", "curvature", "pressure"};
  return names;
}

BagField usual_field(const scenes::Tote& tote) {
  const auto& warp = tote.strength_warp_N_per_m;
  const auto& weft = tote.strength_weft_N_per_m;
  for (std::size_t t = 0; t < warp.size() && t < weft.size(); ++t) {
    if (warp[t] > 0 && weft[t] > 0) return BagField::kStrength;
  }
  return BagField::kForce;
}

BagField bag_field_named(const std::string& name) {
  const auto& names = bag_field_names();
  const auto at = std::find(names.begin(), names.end(), name);
  if (at == names.end()) throw std::invalid_argument("cloth is not coloured by " + name);
  return static_cast<BagField>(at - names.begin());
}

ShownField shown_field(BagField field, const scenes::Tote& tote, const solver::State& state,
                       const solver::ShellFields& fields, double load_factor,
                       const std::string& units) {
  ShownField shown;
  CornerValues raw;
  double per_SI = 1;
  switch (field) {
    case BagField::kForce: {
      const scenes::ShownUnit unit = scenes::line_force_unit(units);
      shown.name = "hardest pull in the cloth";
      shown.unit = unit.name;
      shown.title = "hardest\npull in\nthe cloth,\n" + unit.name;
      shown.means = "colour: how hard the cloth is pulled, for each width of it";
      shown.values = shown_membrane_force(tote, fields, unit.per_SI);
      return shown;
    }
    case BagField::kStrength:
      raw = used_strength(tote, fields, shown.known);
      per_SI = 100;
      shown.name = "share of the cloth's strength";
      shown.unit = "%";
      shown.title = shown.known ? "share of\nthe cloth's\nstrength, %"
                                : "no strength\nof this cloth\nis known";
      if (shown.known)
        shown.means = "colour: share of the cloth's strength in use; it tears at 100 %";
      break;
    case BagField::kCurvature: {
      const scenes::ShownUnit length = scenes::length_unit(units);
      raw = largest_curvature(fields);
      per_SI = 1 / length.per_SI;
      shown.name = "largest curvature (1 / bend radius)";
      shown.unit = "1/" + length.name;
      shown.title = "largest\ncurvature\n(1 / bend\nradius), " + shown.unit;
      shown.means = "colour: how sharply the cloth is bent";
      break;
    }
    case BagField::kPressure: {
      const scenes::ShownUnit unit = scenes::pressure_unit(units);
      raw = scenes::contents_pressure(tote, state, load_factor);
      per_SI = unit.per_SI;
      shown.name = "pressure of the contents";
      shown.unit = unit.name;
      shown.title = (tote.model.fill.active() ? "pressure of\nthe contents\non the cloth,\n"
                                              : "pressure of\nthe contents,\nall on the\nbase, ") +
                    unit.name;
      break;
    }
  }
  shown.values = smooth_to_corners(tote.model.mesh, raw, tote.part);
  for (auto& corner : shown.values) {
    for (double& v : corner) v *= per_SI;
  }
  return shown;
}

}  // namespace totebench::viz
