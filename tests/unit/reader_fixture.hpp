// One good tote, small enough to see at a glance, that tests spoil one thing at a time.
#pragma once

#include <stdexcept>
#include <string>

#include "scenes/reader.hpp"

namespace totebench::test {

inline const MaterialLibrary& library() {
  static const MaterialLibrary loaded = MaterialLibrary::load();
  return loaded;
}

inline ReadResult read(const std::string& text) {
  return read_scene_text(text, "trial.json", library());
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

}  // namespace totebench::test
