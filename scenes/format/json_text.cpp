#include "scenes/format/json_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <fstream>
#include <nlohmann/json.hpp>
#include <system_error>
#include <vector>

#include "scenes/format/source_map.hpp"

namespace totebench::scenes {
namespace {

using nlohmann::json;

constexpr std::size_t kLargestFile = 1 << 20;  // bytes
constexpr int kDeepestNesting = 64;

Diagnostic refusal(const std::string& file, Place place, std::string message, std::string hint) {
  return {Severity::kError,   file,           place.line, place.column, "",
          std::move(message), std::move(hint)};
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
  if (found == '#') return "a comment begins with //";
  if (found == '/') return "a comment is written // to the end of the line, or /* like this */";
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

Diagnostic syntax_error(std::string_view text, const std::string& name,
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
  return refusal(name, place_of_byte(text, byte), "this is not valid JSON: " + what,
                 syntax_cure(text, byte));
}

}  // namespace

std::optional<std::string> text_of_file(const std::filesystem::path& file, const JsonKind& kind,
                                        Diagnostic& problem) {
  const std::string name = file.string();
  std::error_code error;
  const auto status = std::filesystem::status(file, error);
  if (!std::filesystem::exists(status)) {
    problem = refusal(name, {0, 0}, "there is no such file", "check the path and the spelling");
    return std::nullopt;
  }
  if (std::filesystem::is_directory(status)) {
    problem =
        refusal(name, {0, 0}, "this is a folder", fmt::format("name a {} file in it", kind.name));
    return std::nullopt;
  }
  std::ifstream in(file, std::ios::binary);
  if (!in) {
    problem = refusal(name, {0, 0}, "the file cannot be opened", "check that you may read it");
    return std::nullopt;
  }
  // One byte more than allowed is enough to know that a file (or a device) is too large.
  std::string text(kLargestFile + 1, '\0');
  in.read(text.data(), static_cast<std::streamsize>(text.size()));
  text.resize(static_cast<std::size_t>(in.gcount()));
  if (!text.empty()) return text;
  problem = refusal(name, {1, 1}, "the file is empty", "");
  return std::nullopt;
}

std::optional<json> object_of_text(std::string_view text, const std::string& name,
                                   const JsonKind& kind, Diagnostic& problem) {
  const std::string other = fmt::format("this is not a {} file", kind.name);
  if (text.size() > kLargestFile) {
    problem = refusal(name, {0, 0}, "the file is larger than 1 MiB", other);
    return std::nullopt;
  }
  if (nesting_depth(text, kDeepestNesting) > kDeepestNesting) {
    problem = refusal(name, {0, 0},
                      fmt::format("brackets are nested deeper than {}", kDeepestNesting), other);
    return std::nullopt;
  }
  json root;
  try {
    root = json::parse(text);
  } catch (const json::parse_error& error) {
    problem = syntax_error(text, name, error);
    return std::nullopt;
  } catch (const json::exception& error) {  // numbers beyond the range of a double
    problem = refusal(name, {0, 0}, fmt::format("this is not valid JSON: {}", error.what()), "");
    return std::nullopt;
  }
  if (!root.is_object()) {
    problem = refusal(name, SourceMap::of(text).value(""),
                      fmt::format("a {} file should be one object in curly braces", kind.name),
                      "begin with " + kind.begin);
    return std::nullopt;
  }
  return root;
}

const json* value_at(const json& object, const std::string& key) {
  if (!object.is_object()) return nullptr;
  const auto it = object.find(key);
  return it == object.end() ? nullptr : &*it;
}

std::string without_comments(std::string_view text) {
  std::string out(text);
  std::size_t kept = 0;
  const auto end_of_comment = [&](std::size_t at) -> std::size_t {
    if (text.substr(at, 2) == "//") return std::min(text.find_first_of("\r\n", at), text.size());
    if (text.substr(at, 2) != "/*") return at;
    const std::size_t closing = text.find("*/", at + 2);
    return closing == std::string_view::npos ? at : closing + 2;  // one left open is a fault
  };
  bool in_string = false;
  for (std::size_t i = 0; i < text.size();) {
    const std::size_t end = in_string ? i : end_of_comment(i);
    if (end > i) {
      for (; i < end; ++i) {
        const bool breaks = text[i] == '\n' || text[i] == '\r';
        // One blank a character, so that columns stay; characters go on with bytes 10xxxxxx.
        if ((static_cast<unsigned char>(text[i]) & 0xC0) != 0x80) {
          out[kept++] = breaks ? text[i] : ' ';
        }
      }
      continue;
    }
    if (text[i] == '"') in_string = !in_string;
    if (in_string && text[i] == '\\' && i + 1 < text.size()) out[kept++] = text[i++];
    if (text[i] == '\n') in_string = false;  // a quote that is not closed on its line
    out[kept++] = text[i++];
  }
  out.resize(kept);
  return out;
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

}  // namespace totebench::scenes
