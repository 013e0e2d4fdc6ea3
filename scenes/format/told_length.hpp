// Lengths in sentences for a person, in the units of their scene: "in", "cm" or "si". Below a
// centimetre they are given in millimetres, except in inches.
#pragma once

#include <string>

namespace totebench::scenes {

// To four digits: "15.75 in", "3 mm".
[[nodiscard]] std::string told_length(double metres, const std::string& units);
// To three, rounded so that what they say is still allowed.
[[nodiscard]] std::string told_at_most(double metres, const std::string& units);
[[nodiscard]] std::string told_at_least(double metres, const std::string& units);

}  // namespace totebench::scenes
