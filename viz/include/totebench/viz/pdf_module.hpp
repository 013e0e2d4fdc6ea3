// Pages as a PDF. Cairo, which writes it, lives in a module of its own, loaded only for this: it
// brings windowing libraries that would slow every start of the program (see
// totebench/viz/vtk_module.hpp).
#pragma once

#include <string>
#include <vector>

#include "totebench/viz/print_tiles.hpp"

namespace totebench::viz {

// The pages in order, each with its part of `drawing`. Returns an empty text or what went wrong.
// Written in place; callers take care of temporary names.
using WritePdf = std::string (*)(const FlatDrawing& drawing, const std::vector<PrintPage>& pages,
                                 const std::string& path);

// Loads the module once. On failure the result is null and `error` says why and what to do.
[[nodiscard]] WritePdf pdf_module(std::string& error);

}  // namespace totebench::viz

// The one symbol the module exports.
extern "C" totebench::viz::WritePdf totebench_pdf_module();
