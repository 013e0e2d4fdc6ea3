#include "scenes/reader.hpp"

#include <fmt/format.h>

#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>
#include <system_error>

#include "scenes/check_scene.hpp"
#include "scenes/resolve.hpp"
#include "scenes/scene_report.hpp"
#include "scenes/value_reader.hpp"
#include "scenes/variants.hpp"

namespace totebench {
namespace {

using nlohmann::json;

constexpr std::size_t kLargestFile = 1 << 20;  // bytes
constexpr int kDeepestNesting = 64;

ReadResult refuse(const std::string& file, Place place, std::string message, std::string hint) {
  ReadResult result;
  result.diagnostics.push_back(
      {Severity::kError, file, place.line, place.column, "", std::move(message), std::move(hint)});
  return result;
}

// Common slips of people who write JSON by hand, told from the text just around the fault.
std::string syntax_cure(std::string_view text, std::size_t byte) {
  const std::string_view blanks = " \t\r\n";
  const std::string_view before = text.substr(0, byte);
  const auto last = before.find_last_not_of(blanks);
  const char found = byte < text.size() ? text[byte] : '\0';
  const char previous = last == std::string_view::npos ? '\0' : before[last];
  if (byte >= text.size()) {
    return "the file ends too early: a quote, bracket or brace is not closed";
  }
  if ((found == '}' || found == ']') && previous == ',') {
    return "take out the comma before the closing bracket";
  }
  if (found == '/' || found == '#') return "JSON has no comments; use the key \"note\"";
  if (found == '\'') return "use double quotes";
  const bool after_value =
      previous == '"' || previous == '}' || previous == ']' || (previous >= '0' && previous <= '9');
  if (found == '"' && after_value) {
    return "a comma is missing before this";
  }
  if (found == '\n' || found == '\r') return "a quote is not closed on this line";
  if (previous == '{' || previous == ',' || previous == ':') {
    return "keys and texts need double quotes around them";
  }
  return "";
}

// From the closing quote of a text, where the parser stops, to its opening quote.
std::size_t start_of_string(std::string_view text, std::size_t closing) {
  for (std::size_t i = closing; i-- > 0;) {
    const bool escaped = i > 0 && text[i - 1] == '\\';
    if (text[i] == '"' && !escaped) return i;
  }
  return closing;
}

ReadResult syntax_error(std::string_view text, const std::string& name,
                        const json::parse_error& error) {
  // The parser counts from 1 and points at the last byte it looked at.
  std::size_t byte = error.byte == 0 ? 0 : error.byte - 1;
  std::string what = error.what();
  const auto from = what.find("syntax error");
  what = from == std::string::npos ? what : what.substr(from);
  if (what.find("unexpected string literal") != std::string::npos) {
    byte = start_of_string(text, byte);
  }
  const auto detail = what.find(" - ");
  if (detail != std::string::npos) what = what.substr(detail + 3);
  if (what.size() > 160) what = what.substr(0, 160) + " ...";
  return refuse(name, place_of_byte(text, byte), "this is not valid JSON: " + what,
                syntax_cure(text, byte));
}

std::vector<std::string> own_material_ids(const json& root) {
  std::vector<std::string> ids;
  const auto materials = root.find("materials");
  if (materials == root.end() || !materials->is_object()) return ids;
  for (const auto& item : materials->items()) ids.push_back(item.key());
  return ids;
}

void report_duplicates(SceneReport& report) {
  // Copied, because reporting needs the report as a whole.
  const std::vector<DuplicateKey> duplicates = report.places().duplicates();
  for (const DuplicateKey& d : duplicates) {
    const auto slash = d.pointer.rfind('/');
    report.error_at(d.again, d.pointer,
                    fmt::format("the key \"{}\" is here twice", d.pointer.substr(slash + 1, 60)),
                    fmt::format("the first one is at line {}, column {}; take one out",
                                d.first.line, d.first.column));
  }
}

// A mesh file is named relative to the scene that uses it.
void anchor_file(SheetGeometry& geometry, const std::filesystem::path& folder) {
  if (geometry.file.empty()) return;
  const std::filesystem::path file(geometry.file);
  if (file.is_relative()) {
    geometry.file = std::filesystem::absolute(folder / file).lexically_normal().string();
  }
}

Scene read_one(const json& root, const std::filesystem::path& folder,
               const MaterialLibrary& library, SceneReport& report) {
  Scene scene;
  ValueReader reader(library, report);
  reader.set_own_materials(own_material_ids(root));
  reader.read(root, scene_keys(), "", &scene);
  anchor_file(scene.sheet.geometry, folder);
  // Without a kind there is no telling which parts should be there.
  const bool kind_known = root.contains("kind") && root["kind"].is_string() &&
                          (root["kind"] == "tote" || root["kind"] == "sheet");
  if (kind_known) {
    fill_derived(scene);
    check_scene(scene, library_of(scene, library), report);
  }
  return scene;
}

ReadResult read_text(std::string_view text, const std::string& name,
                     const std::filesystem::path& folder, const MaterialLibrary& library) {
  if (text.size() > kLargestFile) {
    return refuse(name, {0, 0}, "the file is larger than 1 MiB", "this is not a scene file");
  }
  if (nesting_depth(text, kDeepestNesting) > kDeepestNesting) {
    return refuse(name, {0, 0}, fmt::format("brackets are nested deeper than {}", kDeepestNesting),
                  "this is not a scene file");
  }
  json root;
  try {
    root = json::parse(text);
  } catch (const json::parse_error& error) {
    return syntax_error(text, name, error);
  } catch (const json::exception& error) {  // numbers beyond the range of a double
    return refuse(name, {0, 0}, fmt::format("this is not valid JSON: {}", error.what()), "");
  }
  SceneReport report(name, SourceMap::of(text));
  if (!root.is_object()) {
    report.error("", "a scene file should be one object in curly braces",
                 "begin with { \"schema_version\": 1, \"kind\": \"tote\", ... }");
    return {std::nullopt, report.take(), {}};
  }
  report_duplicates(report);
  const ReadRoot read_root = [&](const json& one, SceneReport& its_report) {
    return read_one(one, folder, library, its_report);
  };
  Scene scene = read_root(root, report);
  std::vector<Scene> variants = read_variants(root, name, read_root, report);
  ReadResult result;
  if (!report.has_errors()) {
    result.scene = std::move(scene);
    result.variants = std::move(variants);
  }
  result.diagnostics = report.take();
  return result;
}

}  // namespace

ReadResult read_scene_text(std::string_view text, const std::string& name,
                           const MaterialLibrary& library) {
  return read_text(text, name, std::filesystem::path(), library);
}

ReadResult read_scene(const std::filesystem::path& file, const MaterialLibrary& library) {
  const std::string name = file.string();
  std::error_code error;
  const auto status = std::filesystem::status(file, error);
  if (!std::filesystem::exists(status)) {
    return refuse(name, {0, 0}, "there is no such file", "check the path and the spelling");
  }
  if (std::filesystem::is_directory(status)) {
    return refuse(name, {0, 0}, "this is a folder", "name a scene file in it");
  }
  std::ifstream in(file, std::ios::binary);
  if (!in) {
    return refuse(name, {0, 0}, "the file cannot be opened", "check that you may read it");
  }
  // One byte more than allowed is enough to know that a file (or a device) is too large.
  std::string text(kLargestFile + 1, '\0');
  in.read(text.data(), static_cast<std::streamsize>(text.size()));
  text.resize(static_cast<std::size_t>(in.gcount()));
  if (text.empty()) return refuse(name, {1, 1}, "the file is empty", "");
  return read_text(text, name, file.parent_path(), library);
}

MaterialLibrary library_of(const Scene& scene, const MaterialLibrary& library) {
  MaterialLibrary all = library;
  for (const Material& material : scene.own_materials) all.add(material);
  return all;
}

}  // namespace totebench
