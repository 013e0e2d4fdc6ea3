// What is wrong with a file, where, and what to do about it.
#pragma once

#include <string>
#include <vector>

namespace totebench::scenes {

enum class Severity { kError, kWarning };

struct Diagnostic {
  Severity severity = Severity::kError;
  std::string file;
  int line = 0;         // from 1; 0 = the file as a whole
  int column = 0;       // from 1, in characters
  std::string pointer;  // JSON pointer (RFC 6901), "" = the whole document
  std::string message;
  std::string hint;  // the cure, may be empty
};

[[nodiscard]] bool has_errors(const std::vector<Diagnostic>& diagnostics);
[[nodiscard]] int count(const std::vector<Diagnostic>& diagnostics, Severity severity);

// "demo.json:14:7: error: unknown key \"hight\" (/bag/hight)\n    did you mean \"height\"?\n"
[[nodiscard]] std::string to_text(const Diagnostic& diagnostic);

// Array of {severity, file, line, column, pointer, message, hint}.
[[nodiscard]] std::string to_json(const std::vector<Diagnostic>& diagnostics);

// All of them, then "2 errors, 1 warning." (nothing when there are none)
[[nodiscard]] std::string to_text(const std::vector<Diagnostic>& diagnostics);

}  // namespace totebench::scenes
