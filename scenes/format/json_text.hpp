// A JSON text written by a person, as far as it has to be right before any key is looked at. What
// is wrong gets its place and cure.
#pragma once

#include <filesystem>
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <string_view>

#include "scenes/format/scene_report.hpp"
#include "totebench/scenes/diagnostics.hpp"

namespace totebench::scenes {

// What kind of file it should be, for the words of an error.
struct JsonKind {
  std::string name;  // "scene"
  std::string
      begin;  // how such a file begins: "{ \"schema_version\": 1, \"kind\": \"tote\", ... }"
};

// The text of a file; nothing, and `problem` filled, where it cannot be had. At most one byte more
// than object_of_text takes is read, however large the file (or device) is.
[[nodiscard]] std::optional<std::string> text_of_file(const std::filesystem::path& file,
                                                      const JsonKind& kind, Diagnostic& problem);

// The object the text holds; nothing, and `problem` filled, where it is not valid JSON, not one
// object, larger than 1 MiB or nested deeper than 64. `name` stands for the file. Never throws.
[[nodiscard]] std::optional<nlohmann::json> object_of_text(std::string_view text,
                                                           const std::string& name,
                                                           const JsonKind& kind,
                                                           Diagnostic& problem);

// What `key` of an object holds; null where it is not there, or `object` is none.
[[nodiscard]] const nlohmann::json* value_at(const nlohmann::json& object, const std::string& key);

// The text with its comments (from // to the end of the line, from /* to */) taken out and what is
// left where it stood: same lines, same columns.
[[nodiscard]] std::string without_comments(std::string_view text);

// Keys that are there twice, of which the parser keeps one without a word.
void report_duplicates(SceneReport& report);

}  // namespace totebench::scenes
