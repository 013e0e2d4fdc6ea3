#include "scenes/diagnostics.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace totebench {

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
  out += '\n';
  if (!d.hint.empty()) out += fmt::format("    {}\n", d.hint);
  return out;
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

}  // namespace totebench
