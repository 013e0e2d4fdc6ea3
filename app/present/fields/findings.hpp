// What is written of a hanging bag or sheet, and tables of it that other files share.
#pragma once

#include "app/present/fields/fields.hpp"
#include "totebench/studies/hang.hpp"

namespace totebench::app {

// "schema_version", "kind" (unless that is empty) and "name", with which every result begins.
template <class T, class GetName>
[[nodiscard]] Fields<T> result_fields(const std::string& table, const std::string& doc,
                                      const std::string& kind, GetName name) {
  Fields<T> fields(table, doc);
  fields.constant("schema_version", 1, "Version of this format.");
  if (!kind.empty()) fields.constant("kind", kind, "What this file tells of.");
  fields.value("name", name, "Name of what was tested.");
  return fields;
}

[[nodiscard]] const Fields<scenes::Utilisation>& utilisation_fields();

struct ToteFindings {
  const scenes::Scene& scene;
  const studies::HangResult& result;
  [[nodiscard]] const scenes::Findings& found() const { return result.findings; }
  [[nodiscard]] bool at_rest() const { return found().converged(); }
};
[[nodiscard]] const Fields<ToteFindings>& tote_fields();

struct SheetFindings {
  const scenes::Scene& scene;
  const studies::SheetHangResult& result;
};
[[nodiscard]] const Fields<SheetFindings>& sheet_fields();

// Shared by both: how it was solved, and what the scene expects.
struct Solve {
  const solver::SolveReport& report;
  const studies::HangEffort& effort;
  bool stable;
  bool interrupted;
};
[[nodiscard]] const Fields<Solve>& solve_fields();

[[nodiscard]] const Fields<solver::Jump>& jump_fields();

struct Mesh {
  int triangles, vertices, degrees_of_freedom;
};
[[nodiscard]] const Fields<Mesh>& mesh_fields();

struct Expected {
  const scenes::Expectation& expectation;
  double value;  // NaN = there is no such result
};
[[nodiscard]] const Fields<Expected>& expected_fields();

}  // namespace totebench::app
