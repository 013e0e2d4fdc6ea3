// One good tote, small enough to see at a glance, that tests spoil one thing at a time.
#pragma once

#include <gtest/gtest.h>

#include <algorithm>
#include <stdexcept>
#include <string>

#include "scenes/format/source_map.hpp"
#include "totebench/scenes/reader.hpp"

namespace totebench::test {

inline const materials::MaterialLibrary& library() {
  static const materials::MaterialLibrary loaded = materials::MaterialLibrary::load();
  return loaded;
}

inline scenes::ReadResult read(const std::string& text) {
  return scenes::read_scene_text(text, "trial.json", library());
}

inline const std::string kTote = R"({
  "schema_version": 1,
  "kind": "tote",
  "name": "trial",
  "units": "in",
  "bag": { "shape": "boxed", "width": "16 in", "height": "14 in", "depth": "6 in" },
  "layers": {
    "upper": [
      { "material": "quilting_cotton" },
      { "material": "fusible_woven_light", "join": "fused" }
    ]
  },
  "straps": {
    "style": "two handles",
    "material": "web_cotton_25",
    "width": "1 in",
    "length": "25 in"
  },
  "contents": { "kind": "even", "mass": "8 kg" }
}
)";

inline const std::string kSheet = R"({
  "schema_version": 1,
  "kind": "sheet",
  "name": "trial strip",
  "sheet": {
    "shape": "strip", "length": "200 mm", "width": "25 mm",
    "layers": [ { "material": "quilting_cotton" } ]
  },
  "supports": [ { "where": "x0", "clamp": true } ],
  "loads": [ { "kind": "gravity" } ],
  "probes": [ { "name": "tip", "point": ["200 mm", "0 mm", "0 mm"] } ]
}
)";

// `text` with the one place that reads `old_part` changed; a test that spoils nothing is a defect.
inline std::string changed(std::string text, const std::string& old_part,
                           const std::string& new_part) {
  const auto at = text.find(old_part);
  if (at == std::string::npos) throw std::logic_error("not in the text: " + old_part);
  return text.replace(at, old_part.size(), new_part);
}

// The one diagnostic whose message has `part`, at the place where `at` begins in the text.
inline void expect_fault(const std::string& text, const std::string& part, const std::string& at,
                         const std::string& cure,
                         scenes::Severity severity = scenes::Severity::kError) {
  const scenes::ReadResult result = read(text);
  const auto it = std::find_if(
      result.diagnostics.begin(), result.diagnostics.end(),
      [&](const scenes::Diagnostic& d) { return d.message.find(part) != std::string::npos; });
  ASSERT_NE(it, result.diagnostics.end()) << part << " is not in:\n"
                                          << scenes::to_text(result.diagnostics);
  EXPECT_EQ(it->severity, severity);
  EXPECT_NE(it->hint.find(cure), std::string::npos) << it->hint;
  const auto byte = text.find(at);
  ASSERT_NE(byte, std::string::npos) << at;
  const scenes::Place place = scenes::place_of_byte(text, byte);
  EXPECT_EQ(it->line, place.line) << scenes::to_text(*it);
  EXPECT_EQ(it->column, place.column) << scenes::to_text(*it);
  EXPECT_EQ(result.scene.has_value(), severity == scenes::Severity::kWarning);
}

}  // namespace totebench::test
