#include "totebench/materials/ageing.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "totebench/materials/strength.hpp"

namespace totebench::materials {
namespace {

constexpr double kShortTest_s = 60;

void scale(Quantity& quantity, double by) {
  quantity.value *= by;
  quantity.low *= by;
  quantity.high *= by;
}

bool is_stiffness(std::string_view property) {
  constexpr std::array<std::string_view, 6> kStarts = {"tensile_stiffness", "shear_stiffness",
                                                       "bending_rigidity",  "axial_stiffness_EA",
                                                       "youngs_modulus",    "shear_modulus"};
  if (property == "youngs_modulus_short") return false;  // what a test said stays
  return std::any_of(kStarts.begin(), kStarts.end(),
                     [&](std::string_view start) { return property.starts_with(start); });
}

}  // namespace

double cycles_to_failure(double peak_share, double slope_b) {
  if (peak_share <= 0) return std::numeric_limits<double>::infinity();
  return std::pow(10.0, std::max(0.0, 1 - peak_share) / slope_b);
}

double uses_to_failure(const std::vector<CyclesAtPeak>& each_use, double slope_b) {
  double used_up = 0;
  for (const CyclesAtPeak& cycles : each_use) {
    // A peak beyond the strength breaks at once.
    if (cycles.n > 0 && cycles.peak_share >= 1) return 0;
    used_up += cycles.n / cycles_to_failure(cycles.peak_share, slope_b);
  }
  return 1 / used_up;
}

double stiffness_kept(const MaterialLibrary& library, double loaded_s) {
  const double decades = std::log10(std::max(1.0, loaded_s / kShortTest_s));
  return std::max(0.1, 1 - library.rule("relaxation_per_decade").value * decades);
}

bool creeps(const Material& material) {
  return material.has("youngs_modulus") &&
         (material.has("creep_modulus_1000h_over_short") ||
          (material.has("creep_modulus_0.5h") && material.has("creep_power_law_exponent")));
}

MaterialLibrary under_load(const MaterialLibrary& library, double loaded_s) {
  MaterialLibrary later = library;
  for (Material material : library.materials()) {
    if (!creeps(material)) continue;
    const Quantity now = modulus_under_load(material, loaded_s);
    material.properties.try_emplace("youngs_modulus_short", material.get("youngs_modulus"));
    material.properties["youngs_modulus"] = now;
    later.add(std::move(material));
  }
  return later;
}

void creep_in_proportion(Material& material, const Material& like) {
  const Quantity* was = like.find("youngs_modulus");
  const Quantity* now = material.find("youngs_modulus");
  if (was == nullptr || now == nullptr) return;
  const double share = now->value / was->value;
  for (auto& [name, q] : material.properties) {
    const Quantity* its = like.find(name);
    if (!name.starts_with("creep_modulus") || q.unit != "Pa") continue;
    if (its != nullptr && its->value == q.value) scale(q, share);
  }
}

MaterialLibrary aged(const MaterialLibrary& library, double loaded_s) {
  MaterialLibrary later = library;
  const double kept = stiffness_kept(library, loaded_s);
  for (Material material : library.materials()) {
    // What hangs for a while each time (under_load) is never stiffer for having aged.
    const double by = creeps(material) ? std::min(1.0, creep_modulus(material, loaded_s) /
                                                           material.get("youngs_modulus").value)
                                       : kept;
    for (auto& [name, quantity] : material.properties) {
      if (is_stiffness(name)) scale(quantity, by);
    }
    later.add(std::move(material));
  }
  return later;
}

MaterialLibrary softened(const MaterialLibrary& library, double share) {
  MaterialLibrary later = library;
  for (Material material : library.materials()) {
    if (material.category != "stabilizer") continue;
    for (auto& [name, quantity] : material.properties) {
      if (name.starts_with("bending_rigidity") || name.starts_with("youngs_modulus")) {
        scale(quantity, share);
      }
    }
    later.add(std::move(material));
  }
  return later;
}

}  // namespace totebench::materials
