#include "totebench/scenes/diagnostics.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "totebench/scenes/json_trees.hpp"

namespace totebench::scenes {
namespace {

// Texts quoted from a file must not steer the terminal they are printed on.
std::string printable(std::string text) {
  for (char& c : text) {
    if (static_cast<unsigned char>(c) < 32 || c == 127) c = '?';
  }
  return text;
}

}  // namespace

int count(const std::vector<Diagnostic>& diagnostics, Severity severity) {
  return static_cast<int>(
      std::count_if(diagnostics.begin(), diagnostics.end(),
                    [&](const Diagnostic& d) { return d.severity == severity; }));
}

bool has_errors(const std::vector<Diagnostic>& diagnostics) {
  return count(diagnostics, Severity::kError) > 0;
}

std::string to_text(const Diagnostic& d) {
  std::string out = d.file;
  if (d.line > 0) out += fmt::format(":{}:{}", d.line, d.column);
  out += fmt::format(": {}: {}", d.severity == Severity::kError ? "error" : "warning", d.message);
  if (!d.pointer.empty()) out += fmt::format(" ({})", d.pointer);
  out = printable(std::move(out)) + '\n';
  if (!d.hint.empty()) out += "    " + printable(d.hint) + '\n';
  return out;
}

nlohmann::ordered_json diagnostics_tree(const std::vector<Diagnostic>& diagnostics) {
  auto out = nlohmann::ordered_json::array();
  for (const Diagnostic& d : diagnostics) {
    out.push_back({{"severity", d.severity == Severity::kError ? "error" : "warning"},
                   {"file", d.file},
                   {"line", d.line},
                   {"column", d.column},
                   {"pointer", d.pointer},
                   {"message", d.message},
                   {"hint", d.hint}});
  }
  return out;
}

std::string to_json(const std::vector<Diagnostic>& diagnostics) {
  // A text may have been cut within a character.
  return diagnostics_tree(diagnostics)
             .dump(2, ' ', false, nlohmann::ordered_json::error_handler_t::replace) +
         "\n";
}

std::string to_text(const std::vector<Diagnostic>& diagnostics) {
  if (diagnostics.empty()) return "";
  std::string out;
  for (const Diagnostic& d : diagnostics) out += to_text(d);
  const int errors = count(diagnostics, Severity::kError);
  const int warnings = count(diagnostics, Severity::kWarning);
  if (errors > 0) out += fmt::format("{} error{}", errors, errors == 1 ? "" : "s");
  if (errors > 0 && warnings > 0) out += ", ";
  if (warnings > 0) out += fmt::format("{} warning{}", warnings, warnings == 1 ? "" : "s");
  return out + ".\n";
}

}  // namespace totebench::scenes
