// Lengths in sentences for a person, in the units of their scene: "in", "cm" or "si". Below a
// centimetre they are given in millimetres, except in inches. Inches are told as a ruler has them,
// in sixteenths or, below one inch, thirty-seconds; what is below the first mark in decimals.
#pragma once

#include <string>

namespace totebench::scenes {

// To the nearest mark, or four digits: "15 3/4 in", "0.0118 in", "3 mm".
[[nodiscard]] std::string told_length(double metres, const std::string& units);
// To a mark, or three digits, rounded so that what they say is still allowed.
[[nodiscard]] std::string told_at_most(double metres, const std::string& units);
[[nodiscard]] std::string told_at_least(double metres, const std::string& units);

}  // namespace totebench::scenes
