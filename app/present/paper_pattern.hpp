// The pattern of a bag on paper: pages to print true to scale and glue, of the pieces that need
// one.
#pragma once

#include <string>
#include <vector>

#include "totebench/materials/library.hpp"
#include "totebench/scenes/cutlist.hpp"
#include "totebench/viz/print_tiles.hpp"

namespace totebench::app {

// The pieces that a ruler does not draw.
[[nodiscard]] std::vector<scenes::CutPiece> pieces_for_paper(std::vector<scenes::CutPiece> pieces);

struct PaperPattern {
  viz::Paper paper;
  viz::FlatDrawing drawing;           // what the pages are parts of
  std::vector<viz::PrintPage> pages;  // none where there are no pieces
};
// `paper` is "a4", "letter", or "" for the one that goes with the units. Throws
// std::invalid_argument for others.
[[nodiscard]] PaperPattern paper_pattern(const scenes::Scene& scene,
                                         const std::vector<scenes::CutPiece>& pieces,
                                         const materials::MaterialLibrary& library,
                                         const std::string& units, const std::string& paper);

}  // namespace totebench::app
