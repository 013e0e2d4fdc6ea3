// The JSON Schema of scene files, for editors; made from the key tables.
#pragma once

#include <string>

namespace totebench::scenes {

// Draft-07 JSON Schema. scenes/scene.schema.json is this text; a test compares the two, and
// `totebench explain --schema` prints it.
[[nodiscard]] std::string scene_schema_json();

}  // namespace totebench::scenes
