#include "materials/units.hpp"

#include <map>

namespace totebench::materials {
namespace {

constexpr double kGramForceN = 9.80665e-3;
constexpr double kPoundForceN = 4.4482216152605;
constexpr double kDegreeRad = 3.14159265358979323846 / 180.0;
constexpr double kInchM = 0.0254;
constexpr double kYardM = 0.9144;
constexpr double kOunceKg = 0.028349523125;

const std::map<std::string_view, SiUnit>& units() {
  static const std::map<std::string_view, SiUnit> table = {
      {"1", {1, "1"}},
      {"1/m", {1, "1/m"}},
      {"m", {1, "m"}},
      {"mm", {1e-3, "m"}},
      {"in", {kInchM, "m"}},
      {"kg", {1, "kg"}},
      {"kg/m2", {1, "kg/m2"}},
      {"g/m2", {1e-3, "kg/m2"}},
      {"oz/yd2", {kOunceKg / (kYardM * kYardM), "kg/m2"}},
      {"kg/m3", {1, "kg/m3"}},
      {"g/cm3", {1e3, "kg/m3"}},
      {"N", {1, "N"}},
      {"cN", {1e-2, "N"}},
      {"lbf", {kPoundForceN, "N"}},
      {"N/m", {1, "N/m"}},
      {"kN/m", {1e3, "N/m"}},
      {"N/5cm", {20, "N/m"}},
      {"lbf/in", {kPoundForceN / kInchM, "N/m"}},
      {"gf/cm", {kGramForceN / 1e-2, "N/m"}},
      {"gf/(cm.deg)", {kGramForceN / 1e-2 / kDegreeRad, "N/m"}},
      {"mN.m/m", {1e-3, "N"}},  // moment per width: bending hysteresis
      {"gf.cm/cm", {kGramForceN, "N"}},
      {"N.m", {1, "N m"}},  // bending rigidity per width
      {"mN.m", {1e-3, "N m"}},
      {"uN.m", {1e-6, "N m"}},
      {"gf.cm2/cm", {kGramForceN * 1e-2, "N m"}},
      {"Pa", {1, "Pa"}},
      {"kPa", {1e3, "Pa"}},
      {"MPa", {1e6, "Pa"}},
      {"GPa", {1e9, "Pa"}},
      {"N/tex", {1e6, "N m/kg"}},
      {"s", {1, "s"}},
  };
  return table;
}

}  // namespace

const SiUnit* find_unit(std::string_view unit) {
  const auto found = units().find(unit);
  return found == units().end() ? nullptr : &found->second;
}

}  // namespace totebench::materials
