#include "scenes/format/keys/keys.hpp"

#include <fmt/format.h>

#include <stdexcept>

#include "scenes/format/keys/build.hpp"

namespace totebench::scenes {

const Key* KeyTable::find(const std::string& key) const {
  for (const Key& k : keys) {
    if (k.name == key) return &k;
  }
  return nullptr;
}

std::vector<std::string> KeyTable::names() const {
  std::vector<std::string> out;
  for (const Key& k : keys) out.push_back(k.name);
  return out;
}

const std::vector<ExpectKey>& expect_keys() {
  static const std::vector<ExpectKey> keys = {
      {"bottom_sag", "bottom_sag_m", Dimension::kLength, "sag of the base below its outline"},
      {"overall_lengthening", "overall_lengthening_m", Dimension::kLength,
       "how much lower the lowest point hangs, loaded against empty"},
      {"strap_drop_empty", "strap_drop_empty_m", Dimension::kLength, "strap drop of the empty bag"},
      {"strap_drop_loaded", "strap_drop_loaded_m", Dimension::kLength,
       "strap drop of the loaded bag"},
      {"strap_drop_lengthening", "strap_drop_lengthening_m", Dimension::kLength,
       "strap drop, loaded less empty"},
      {"peak_stitch", "peak_stitch_N", Dimension::kForce,
       "largest force on one stitch of any strap end"},
      {"peak_strap_seam", "peak_N_per_m", Dimension::kForcePerLength,
       "largest line force on the stitching of any strap end"},
      {"peak_panel_force", "peak_panel_force_N_per_m", Dimension::kForcePerLength,
       "largest principal membrane force in the cloth"},
      {"base_sheet_stress", "base_sheet_stress_Pa", Dimension::kPressure,
       "largest bending stress in the base sheet"},
      {"fill_level", "fill_level_m", Dimension::kLength, "depth of loose contents"}};
  return keys;
}

namespace keys {

Range Build::range(const std::string& low, const std::string& high) const {
  Range out;
  out.text = low + " to " + high;
  const auto value = [&](const std::string& text) {
    if (dimension == Dimension::kNone) return std::stod(text);
    const QuantityResult parsed = parse_quantity(text, dimension);
    if (!parsed.quantity) {
      throw std::logic_error(fmt::format("key table, {}: {}", name, parsed.problem));
    }
    return parsed.quantity->si;
  };
  out.low = value(low);
  out.high = value(high);
  return out;
}

}  // namespace keys
}  // namespace totebench::scenes
