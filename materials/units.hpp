// Units a library file may use and what they are in SI.
#pragma once

#include <string_view>

namespace totebench::materials {

struct SiUnit {
  double factor = 1;    // value in SI = value in the unit * factor
  std::string_view si;  // the SI unit's name
};

// nullptr for an unknown unit. Knows among others "g/m2", "oz/yd2", "mm", "N/m", "uN.m", "MPa",
// "kPa", "N/tex" and those of the Kawabata instruments: "gf.cm2/cm" (bending rigidity) and
// "gf/(cm.deg)" (shear stiffness, force per width and radian in SI).
[[nodiscard]] const SiUnit* find_unit(std::string_view unit);

}  // namespace totebench::materials
