#include "totebench/scenes/units.hpp"

#include <fmt/format.h>

#include <cmath>
#include <limits>
#include <locale>
#include <sstream>

#include "totebench/scenes/nearest.hpp"

namespace totebench::scenes {
namespace {

constexpr double kPound = 0.45359237;  // kg, international avoirdupois pound, exact
constexpr double kPoundForce = kPound * kStandardGravity;

const std::vector<Unit> kLengthUnits = {{"in", 254, 10000},      {"cm", 1, 100},
                                        {"mm", 1, 1000},         {"m", 1, 1},
                                        {"ft", 3048, 10000},     {"yd", 9144, 10000},
                                        {"um", 1, 1e6},          {"inch", 254, 10000},
                                        {"inches", 254, 10000},  {"\"", 254, 10000},
                                        {"″", 254, 10000},       {"foot", 3048, 10000},
                                        {"feet", 3048, 10000},   {"yard", 9144, 10000},
                                        {"yards", 9144, 10000},  {"µm", 1, 1e6},
                                        {"millimetre", 1, 1000}, {"millimetres", 1, 1000},
                                        {"centimetre", 1, 100},  {"centimetres", 1, 100},
                                        {"metre", 1, 1},         {"metres", 1, 1},
                                        {"meter", 1, 1},         {"meters", 1, 1}};

const std::vector<Unit> kMassUnits = {
    {"kg", 1, 1},           {"lb", kPound, 1},    {"g", 1, 1000},        {"oz", kPound, 16},
    {"lbs", kPound, 1},     {"pound", kPound, 1}, {"pounds", kPound, 1}, {"ounce", kPound, 16},
    {"ounces", kPound, 16}, {"gram", 1, 1000},    {"grams", 1, 1000},    {"kilogram", 1, 1},
    {"kilograms", 1, 1}};

const std::vector<Unit> kAngleUnits = {
    {"deg", M_PI, 180},     {"rad", 1, 1},    {"°", M_PI, 180}, {"degree", M_PI, 180},
    {"degrees", M_PI, 180}, {"radian", 1, 1}, {"radians", 1, 1}};

const std::vector<Unit> kTimeUnits = {
    {"min", 60, 1},    {"h", 3600, 1},     {"s", 1, 1},      {"minute", 60, 1}, {"minutes", 60, 1},
    {"hour", 3600, 1}, {"hours", 3600, 1}, {"second", 1, 1}, {"seconds", 1, 1}, {"hr", 3600, 1},
    {"hrs", 3600, 1},  {"mins", 60, 1},    {"sec", 1, 1}};

constexpr double kSquareYard = 0.9144 * 0.9144;  // m2
const std::vector<Unit> kArealMassUnits = {
    {"g/m2", 1, 1000},  {"oz/yd2", kPound, 16 * kSquareYard},  {"kg/m2", 1, 1},
    {"g/m^2", 1, 1000}, {"oz/yd^2", kPound, 16 * kSquareYard}, {"kg/m^2", 1, 1},
    {"g/m²", 1, 1000},  {"oz/yd²", kPound, 16 * kSquareYard},  {"kg/m²", 1, 1},
    {"gsm", 1, 1000}};

constexpr double kCubicFoot = 0.3048 * 0.3048 * 0.3048;  // m3
const std::vector<Unit> kDensityUnits = {{"kg/m3", 1, 1},
                                         {"g/cm3", 1000, 1},
                                         {"lb/ft3", kPound, kCubicFoot},
                                         {"kg/l", 1000, 1},
                                         {"kg/m^3", 1, 1},
                                         {"g/cm^3", 1000, 1},
                                         {"lb/ft^3", kPound, kCubicFoot},
                                         {"kg/m³", 1, 1},
                                         {"g/cm³", 1000, 1},
                                         {"lb/ft³", kPound, kCubicFoot},
                                         {"kg/L", 1000, 1}};

constexpr double kSquareInch = 0.0254 * 0.0254;  // m2
const std::vector<Unit> kPressureUnits = {{"MPa", 1e6, 1},
                                          {"GPa", 1e9, 1},
                                          {"kPa", 1e3, 1},
                                          {"Pa", 1, 1},
                                          {"psi", kPoundForce, kSquareInch},
                                          {"N/mm2", 1e6, 1},
                                          {"N/m2", 1, 1},
                                          {"ksi", 1000 * kPoundForce, kSquareInch},
                                          {"N/mm^2", 1e6, 1},
                                          {"N/mm²", 1e6, 1},
                                          {"N/m^2", 1, 1},
                                          {"N/m²", 1, 1}};

const std::vector<Unit> kForceUnits = {{"N", 1, 1},
                                       {"kN", 1000, 1},
                                       {"mN", 1, 1000},
                                       {"lbf", kPoundForce, 1},
                                       {"kgf", kStandardGravity, 1},
                                       {"gf", kStandardGravity, 1000}};

const std::vector<Unit> kForcePerLengthUnits = {{"N/m", 1, 1},
                                                {"N/mm", 1000, 1},
                                                {"kN/m", 1000, 1},
                                                {"N/cm", 100, 1},
                                                {"lbf/in", kPoundForce, 0.0254},
                                                {"gf/cm", kStandardGravity, 10},
                                                {"mN/m", 1, 1000}};

const std::vector<Unit> kMomentPerLengthUnits = {{"N", 1, 1},
                                                 {"mN", 1, 1000},
                                                 {"uN", 1, 1e6},
                                                 {"N m/m", 1, 1},
                                                 {"mN m/m", 1, 1000},
                                                 {"N mm/mm", 1, 1},
                                                 {"lbf in/in", kPoundForce, 1},
                                                 {"µN", 1, 1e6}};

// 1 gf cm2/cm = 1e-3 kgf x 1e-2 m x 9.80665 (the unit of low-stress bending testers)
const std::vector<Unit> kBendingUnits = {{"mN m", 1, 1000},
                                         {"uN m", 1, 1e6},
                                         {"N m", 1, 1},
                                         {"N mm", 1, 1000},
                                         {"gf cm2/cm", kStandardGravity, 1e5},
                                         {"µN m", 1, 1e6},
                                         {"gf cm^2/cm", kStandardGravity, 1e5},
                                         {"gf cm²/cm", kStandardGravity, 1e5}};

const std::vector<Unit> kNoUnits = {};

constexpr Dimension kAllDimensions[] = {Dimension::kLength,         Dimension::kMass,
                                        Dimension::kAngle,          Dimension::kTime,
                                        Dimension::kArealMass,      Dimension::kDensity,
                                        Dimension::kPressure,       Dimension::kForce,
                                        Dimension::kForcePerLength, Dimension::kMomentPerLength,
                                        Dimension::kBendingRigidity};

bool is_space(char c) { return c == ' ' || c == '\t'; }
bool is_digit(char c) { return c >= '0' && c <= '9'; }

void skip_spaces(std::string_view& rest) {
  while (!rest.empty() && is_space(rest.front())) rest.remove_prefix(1);
}

// Decimal digits with an optional point and exponent, taken off the front of `rest`.
std::optional<double> take_decimal(std::string_view& rest) {
  std::size_t n = 0;
  std::size_t digits = 0;
  while (n < rest.size() && is_digit(rest[n])) ++n, ++digits;
  if (n < rest.size() && rest[n] == '.') {
    ++n;
    while (n < rest.size() && is_digit(rest[n])) ++n, ++digits;
  }
  if (digits == 0 || n > 60) return std::nullopt;
  if (n < rest.size() && (rest[n] == 'e' || rest[n] == 'E')) {
    std::size_t m = n + 1;
    if (m < rest.size() && (rest[m] == '+' || rest[m] == '-')) ++m;
    const std::size_t first = m;
    while (m < rest.size() && is_digit(rest[m])) ++m;
    if (m > first && m - first <= 9) n = m;
  }
  // strtod would follow the user's locale, from_chars for double is missing on some targets.
  std::istringstream in{std::string(rest.substr(0, n))};
  in.imbue(std::locale::classic());
  double value = 0;
  // Out of range, the stream gives the largest number there is, or nothing for one that is too
  // small.
  if (!(in >> value) && value != 0) value = std::numeric_limits<double>::infinity();
  rest.remove_prefix(n);
  return value;
}

struct Fraction {
  double numerator = 0;
  double denominator = 1;
};

std::optional<Fraction> take_vulgar(std::string_view& rest) {
  static constexpr struct {
    std::string_view sign;
    double numerator, denominator;
  } kSigns[] = {{"½", 1, 2}, {"¼", 1, 4}, {"¾", 3, 4}, {"⅛", 1, 8}, {"⅜", 3, 8},
                {"⅝", 5, 8}, {"⅞", 7, 8}, {"⅓", 1, 3}, {"⅔", 2, 3}};
  for (const auto& s : kSigns) {
    if (rest.substr(0, s.sign.size()) != s.sign) continue;
    rest.remove_prefix(s.sign.size());
    return Fraction{s.numerator, s.denominator};
  }
  return std::nullopt;
}

// "n/d", only when both are plain digits; leaves `rest` alone otherwise.
std::optional<Fraction> take_slash_fraction(std::string_view& rest) {
  std::string_view copy = rest;
  std::size_t n = 0;
  while (n < copy.size() && is_digit(copy[n])) ++n;
  if (n == 0 || n > 6 || n >= copy.size() || copy[n] != '/') return std::nullopt;
  std::size_t m = n + 1;
  while (m < copy.size() && is_digit(copy[m])) ++m;
  if (m == n + 1 || m - n > 7) return std::nullopt;
  const auto numerator = take_decimal(copy);
  copy.remove_prefix(1);
  const auto denominator = take_decimal(copy);
  if (!numerator || !denominator) return std::nullopt;
  rest = copy;
  return Fraction{*numerator, *denominator};
}

// A number as written at a cutting table: decimal, fraction or both.
std::optional<Fraction> take_number(std::string_view& rest) {
  double sign = 1;
  if (!rest.empty() && (rest.front() == '-' || rest.front() == '+')) {
    sign = rest.front() == '-' ? -1 : 1;
    rest.remove_prefix(1);
    skip_spaces(rest);
  }
  std::optional<Fraction> fraction = take_vulgar(rest);
  if (!fraction) fraction = take_slash_fraction(rest);
  if (fraction) return Fraction{sign * fraction->numerator, fraction->denominator};
  const auto whole = take_decimal(rest);
  if (!whole) return std::nullopt;
  std::string_view after = rest;
  skip_spaces(after);
  if (!after.empty() && after.front() == '-') after.remove_prefix(1);
  fraction = take_vulgar(after);
  if (!fraction) fraction = take_slash_fraction(after);
  if (!fraction) return Fraction{sign * *whole, 1};
  rest = after;
  return Fraction{sign * (*whole * fraction->denominator + fraction->numerator),
                  fraction->denominator};
}

// "mN·m", "mN*m", "mN.m" and "mN  m" are all "mN m".
std::string tidy_unit(std::string_view text) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const bool dot = text.substr(i, 2) == "·";
    if (dot) ++i;
    const bool gap = dot || text[i] == '*' || text[i] == '.' || is_space(text[i]);
    if (!gap) {
      out += text[i];
    } else if (!out.empty() && out.back() != ' ') {
      out += ' ';
    }
  }
  while (!out.empty() && out.back() == ' ') out.pop_back();
  return out;
}

const Unit* find_unit(std::string_view name, Dimension dimension) {
  for (const Unit& unit : units_of(dimension)) {
    if (unit.name == name) return &unit;
  }
  return nullptr;
}

// Units that may stand here, the first few spellings.
std::string some_units(Dimension dimension) {
  std::string out;
  int n = 0;
  for (const Unit& unit : units_of(dimension)) {
    if (++n > 4) break;
    out += (n > 1 ? ", " : "") + std::string(unit.name);
  }
  return out;
}

QuantityResult unknown_unit(const std::string& name, std::string_view number_text,
                            Dimension dimension) {
  for (const Dimension other : kAllDimensions) {
    if (other == dimension || find_unit(name, other) == nullptr) continue;
    return {std::nullopt,
            fmt::format("\"{}\" is a unit of {}, but this is {}", name,
                        dimension_name(other).substr(2), dimension_name(dimension)),
            fmt::format("use one of {}", some_units(dimension))};
  }
  std::vector<std::string> names;
  for (const Unit& unit : units_of(dimension)) names.emplace_back(unit.name);
  const std::string near = nearest(name, names);
  return {std::nullopt, fmt::format("unknown unit \"{}\"", name),
          near.empty() ? fmt::format("use one of {}", some_units(dimension))
                       : fmt::format("did you mean \"{} {}\"?", number_text, near)};
}

}  // namespace

const std::vector<Unit>& units_of(Dimension dimension) {
  switch (dimension) {
    case Dimension::kNone:
      return kNoUnits;
    case Dimension::kLength:
      return kLengthUnits;
    case Dimension::kMass:
      return kMassUnits;
    case Dimension::kAngle:
      return kAngleUnits;
    case Dimension::kTime:
      return kTimeUnits;
    case Dimension::kArealMass:
      return kArealMassUnits;
    case Dimension::kDensity:
      return kDensityUnits;
    case Dimension::kPressure:
      return kPressureUnits;
    case Dimension::kForce:
      return kForceUnits;
    case Dimension::kForcePerLength:
      return kForcePerLengthUnits;
    case Dimension::kMomentPerLength:
      return kMomentPerLengthUnits;
    case Dimension::kBendingRigidity:
      return kBendingUnits;
  }
  return kNoUnits;
}

std::string_view dimension_name(Dimension dimension) {
  switch (dimension) {
    case Dimension::kNone:
      return "a plain number";
    case Dimension::kLength:
      return "a length";
    case Dimension::kMass:
      return "a mass";
    case Dimension::kAngle:
      return "an angle";
    case Dimension::kTime:
      return "a time";
    case Dimension::kArealMass:
      return "a mass per area";
    case Dimension::kDensity:
      return "a density";
    case Dimension::kPressure:
      return "a pressure or modulus";
    case Dimension::kForce:
      return "a force";
    case Dimension::kForcePerLength:
      return "a force per length";
    case Dimension::kMomentPerLength:
      return "a moment per length";
    case Dimension::kBendingRigidity:
      return "a bending rigidity";
  }
  return "a value";
}

std::string_view si_unit(Dimension dimension) {
  switch (dimension) {
    case Dimension::kNone:
      return "";
    case Dimension::kLength:
      return "m";
    case Dimension::kMass:
      return "kg";
    case Dimension::kAngle:
      return "rad";
    case Dimension::kTime:
      return "s";
    case Dimension::kArealMass:
      return "kg/m2";
    case Dimension::kDensity:
      return "kg/m3";
    case Dimension::kPressure:
      return "Pa";
    case Dimension::kForce:
      return "N";
    case Dimension::kForcePerLength:
      return "N/m";
    case Dimension::kMomentPerLength:
      return "N";
    case Dimension::kBendingRigidity:
      return "N m";
  }
  return "";
}

std::string_view unit_examples(Dimension dimension) {
  switch (dimension) {
    case Dimension::kNone:
      return "4";
    case Dimension::kLength:
      return "\"15 in\" or \"38 cm\"";
    case Dimension::kMass:
      return "\"9 kg\" or \"20 lb\"";
    case Dimension::kAngle:
      return "\"35 deg\"";
    case Dimension::kTime:
      return "\"30 min\" or \"2 h\"";
    case Dimension::kArealMass:
      return "\"240 g/m2\" or \"8 oz/yd2\"";
    case Dimension::kDensity:
      return "\"600 kg/m3\"";
    case Dimension::kPressure:
      return "\"2 MPa\"";
    case Dimension::kForce:
      return "\"20 N\"";
    case Dimension::kForcePerLength:
      return "\"40 N/m\"";
    case Dimension::kMomentPerLength:
      return "\"2 mN\" (mN m per m)";
    case Dimension::kBendingRigidity:
      return "\"5 mN m\"";
  }
  return "";
}

QuantityResult parse_quantity(std::string_view text, Dimension dimension) {
  std::string_view rest = text;
  skip_spaces(rest);
  const std::string_view number_start = rest;
  const auto number = take_number(rest);
  const std::string expected = fmt::format("write it as {}", unit_examples(dimension));
  if (!number) {
    return {std::nullopt, fmt::format("\"{}\" does not begin with a number", text.substr(0, 40)),
            expected};
  }
  const std::string number_text(number_start.substr(0, number_start.size() - rest.size()));
  if (number->denominator == 0) return {std::nullopt, "the fraction divides by zero", expected};
  if (!rest.empty() && rest.front() == ',') {
    std::string with_point(text.substr(0, 40));
    const auto comma = with_point.find(',');
    if (comma != std::string::npos) with_point[comma] = '.';
    return {std::nullopt, "a comma inside the number",
            fmt::format("use a decimal point and no thousands mark: \"{}\"", with_point)};
  }
  skip_spaces(rest);
  const std::string unit_name = tidy_unit(rest.substr(0, 60));
  if (unit_name.empty()) {
    return {std::nullopt, fmt::format("{} needs its unit", dimension_name(dimension)), expected};
  }
  const Unit* unit = find_unit(unit_name, dimension);
  if (unit == nullptr) return unknown_unit(unit_name, number_text, dimension);
  // One division at the end keeps "15 in" at exactly 0.381.
  const double si = number->numerator * unit->numerator / (number->denominator * unit->denominator);
  if (!std::isfinite(si)) return {std::nullopt, "the number is too large", expected};
  return {WrittenQuantity{si, number->numerator / number->denominator, unit_name}, "", ""};
}

bool is_imperial(std::string_view unit, Dimension dimension) {
  const std::optional<double> one = to_si(1, unit, dimension);
  if (!one || *one <= 0) return false;
  // A metric unit of length or mass is a power of ten of the SI one.
  const double digits = std::log10(*one);
  return std::abs(digits - std::round(digits)) > 1e-9;
}

std::optional<double> to_si(double number, std::string_view unit, Dimension dimension) {
  const Unit* found = find_unit(unit, dimension);
  if (found == nullptr) return std::nullopt;
  return number * found->numerator / found->denominator;
}

std::string quantity_text(double si, Dimension dimension) {
  if (dimension == Dimension::kAngle) {
    // 35 deg is what a person wrote; keep it when it comes back to the very same number.
    const double degrees = std::round(si * 180.0 / M_PI * 1e9) / 1e9;
    if (degrees * M_PI / 180.0 == si) return fmt::format("{} deg", degrees);
  }
  const std::string_view unit = si_unit(dimension);
  return unit.empty() ? fmt::format("{}", si) : fmt::format("{} {}", si, unit);
}

std::string quantity_in(double si, std::string_view unit, Dimension dimension) {
  const Unit* found = find_unit(unit, dimension);
  if (found == nullptr) return fmt::format("{:.4g} {}", si, si_unit(dimension));
  return fmt::format("{:.4g} {}", si * found->denominator / found->numerator, unit);
}

}  // namespace totebench::scenes
