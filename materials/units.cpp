#include "materials/units.hpp"

#include <map>

namespace totebench {
namespace {

constexpr double kGramForce_N = 9.80665e-3;
constexpr double kPoundForce_N = 4.4482216152605;
constexpr double kDegree_rad = 3.14159265358979323846 / 180.0;
constexpr double kInch_m = 0.0254;
constexpr double kYard_m = 0.9144;
constexpr double kOunce_kg = 0.028349523125;

const std::map<std::string_view, SiUnit>& units() {
  static const std::map<std::string_view, SiUnit> table = {
      {"1", {1, "1"}},
      {"1/m", {1, "1/m"}},
      {"m", {1, "m"}},
      {"mm", {1e-3, "m"}},
      {"in", {kInch_m, "m"}},
      {"kg/m2", {1, "kg/m2"}},
      {"g/m2", {1e-3, "kg/m2"}},
      {"oz/yd2", {kOunce_kg / (kYard_m * kYard_m), "kg/m2"}},
      {"kg/m3", {1, "kg/m3"}},
      {"g/cm3", {1e3, "kg/m3"}},
      {"N", {1, "N"}},
      {"cN", {1e-2, "N"}},
      {"lbf", {kPoundForce_N, "N"}},
      {"N/m", {1, "N/m"}},
      {"kN/m", {1e3, "N/m"}},
      {"N/5cm", {20, "N/m"}},
      {"lbf/in", {kPoundForce_N / kInch_m, "N/m"}},
      {"gf/cm", {kGramForce_N / 1e-2, "N/m"}},
      {"gf/(cm.deg)", {kGramForce_N / 1e-2 / kDegree_rad, "N/m"}},
      {"mN.m/m", {1e-3, "N"}},  // moment per width: bending hysteresis
      {"gf.cm/cm", {kGramForce_N, "N"}},
      {"N.m", {1, "N m"}},  // bending rigidity per width
      {"mN.m", {1e-3, "N m"}},
      {"uN.m", {1e-6, "N m"}},
      {"gf.cm2/cm", {kGramForce_N * 1e-2, "N m"}},
      {"Pa", {1, "Pa"}},
      {"kPa", {1e3, "Pa"}},
      {"MPa", {1e6, "Pa"}},
      {"GPa", {1e9, "Pa"}},
      {"N/tex", {1e6, "N m/kg"}},
  };
  return table;
}

}  // namespace

const SiUnit* find_unit(std::string_view unit) {
  const auto found = units().find(unit);
  return found == units().end() ? nullptr : &found->second;
}

}  // namespace totebench
