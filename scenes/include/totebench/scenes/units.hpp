// Quantities as a person writes them: a number, then a unit ("1 1/4 in", "240 g/m2", "5 mN m").
// Everything is turned into SI here and nowhere else.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace totebench::scenes {

inline constexpr double kStandardGravity = 9.80665;  // m/s2, exact by definition

enum class Dimension {
  kNone,             // a plain number
  kLength,           // m
  kMass,             // kg
  kAngle,            // rad
  kTime,             // s
  kArealMass,        // kg/m2
  kDensity,          // kg/m3
  kPressure,         // Pa, also elastic moduli and force per area
  kForce,            // N
  kForcePerLength,   // N/m
  kMomentPerLength,  // N (N m per m), also hinge stiffness per radian
  kBendingRigidity   // N m
};

struct Unit {
  std::string_view name;
  double numerator;  // SI value of one unit = numerator / denominator, both exact where possible
  double denominator;
};

// All spellings of the units of a dimension, the most usual spelling of each first.
[[nodiscard]] const std::vector<Unit>& units_of(Dimension dimension);

[[nodiscard]] std::string_view dimension_name(Dimension dimension);  // "a length"
[[nodiscard]] std::string_view si_unit(Dimension dimension);         // "m"
[[nodiscard]] std::string_view unit_examples(Dimension dimension);   // "\"15 in\" or \"38 cm\""

struct WrittenQuantity {
  double si = 0;
  double number = 0;  // as written, before the unit was applied
  std::string unit;   // as written
};

struct QuantityResult {
  std::optional<WrittenQuantity> quantity;
  std::string problem;  // what is wrong, when there is no quantity
  std::string cure;
};

// Never throws. Accepts 15 in, 15in, .5 in, 1e-3 m, 3/8 in, 1 1/4 in, 1-1/4 in, 1¼ in.
[[nodiscard]] QuantityResult parse_quantity(std::string_view text, Dimension dimension);

// Whether a unit of length or mass, as written, is of the inch and the pound.
[[nodiscard]] bool is_imperial(std::string_view unit, Dimension dimension);

// SI value of `number` in a unit of the dimension, nothing when the unit is not one of them.
[[nodiscard]] std::optional<double> to_si(double number, std::string_view unit,
                                          Dimension dimension);

[[nodiscard]] constexpr double in_mm(double metres) { return 1e3 * metres; }

// Shortest text in SI that reads back to exactly the same double: "0.381 m". Angles are given in
// degrees where that is exact.
[[nodiscard]] std::string quantity_text(double si, Dimension dimension);

// For people: rounded to four digits in the given unit ("15.75 in").
[[nodiscard]] std::string quantity_in(double si, std::string_view unit, Dimension dimension);

}  // namespace totebench::scenes
