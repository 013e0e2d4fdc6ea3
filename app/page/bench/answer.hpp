// What the bench answers, as JSON text; the shapes are in app/page/bench/bench.hpp.
#pragma once

#include <string>
#include <variant>

#include "totebench/materials/library.hpp"
#include "totebench/scenes/reader.hpp"
#include "totebench/studies/compare.hpp"
#include "totebench/studies/hang.hpp"

namespace totebench::app {

// What was hung last.
struct Hung {
  scenes::Scene scene;
  materials::MaterialLibrary library;  // with the scene's own materials
  std::variant<studies::HangResult, studies::SheetHangResult> result;
  bool coarse = false;  // a first look, whose mesh is too coarse for the force on one stitch
};

[[nodiscard]] std::string library_json(const materials::MaterialLibrary& library);
[[nodiscard]] std::string check_json(const scenes::ReadResult& read,
                                     const materials::MaterialLibrary& library,
                                     const std::string& units);
[[nodiscard]] std::string assembled_json(const scenes::Scene& scene,
                                         const materials::MaterialLibrary& library);
[[nodiscard]] std::string answer_json(const Hung& hung);
[[nodiscard]] std::string report_json(const Hung& hung);
[[nodiscard]] std::string comparison_answer(const studies::Comparison& comparison,
                                            const materials::MaterialLibrary& library,
                                            const std::string& units);

}  // namespace totebench::app
