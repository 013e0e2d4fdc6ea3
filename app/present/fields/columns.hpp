// Columns of tables for people. They are told beside the keys of a struct (fields.hpp):
//
//   .value("peak_stitch_N", &E::peak_stitch_N, "Largest force on a stitch.")
//   .shown("peak stitch")
//
// heads a column "peak stitch, lb" for a reader in inches, whose cells hold what the key holds.
#pragma once

#include <functional>
#include <optional>
#include <string>

#include "app/present/fields/json_value.hpp"

namespace totebench::app {

template <class T>
struct Column {
  std::string heading;
  std::string unit;  // SI, where the heading names it
  std::function<std::string(const T&, const std::string& units)> cell;
};

// The SI unit that ends a key: "N/m" for "peak_N_per_m"; empty where none does.
[[nodiscard]] std::string unit_of_key(const std::string& key);

// "peak stitch, lb"; the heading alone where there is no unit.
[[nodiscard]] std::string heading_text(const std::string& heading, const std::string& si_unit,
                                       const std::string& units);

// A number with about three digits in the unit that a person reads; a text as it is; empty where
// the key is left out.
[[nodiscard]] std::string cell_text(const std::optional<Json>& value, const std::string& si_unit,
                                    const std::string& units);
// "12.3 cm".
[[nodiscard]] std::string cell_with_unit(const std::optional<Json>& value,
                                         const std::string& si_unit, const std::string& units);

}  // namespace totebench::app
