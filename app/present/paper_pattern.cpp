#include "app/present/paper_pattern.hpp"

#include "totebench/viz/cutlist_drawing.hpp"

namespace totebench::app {

std::vector<scenes::CutPiece> pieces_for_paper(std::vector<scenes::CutPiece> pieces) {
  std::erase_if(pieces, [](const scenes::CutPiece& piece) { return piece.by_ruler(); });
  return pieces;
}

PaperPattern paper_pattern(const scenes::Scene& scene, const std::vector<scenes::CutPiece>& pieces,
                           const materials::MaterialLibrary& library, const std::string& units,
                           const std::string& paper) {
  PaperPattern pattern;
  pattern.paper = viz::paper_named(!paper.empty() ? paper : (units == "in" ? "letter" : "a4"));
  if (pieces.empty()) return pattern;
  pattern.drawing =
      viz::with_whole_words(viz::cutlist_drawing(pieces, library, units), pattern.paper);
  pattern.pages = viz::print_pages(pattern.drawing, pattern.paper,
                                   "pieces of " + (scene.name.empty() ? "the tote" : scene.name));
  return pattern;
}

}  // namespace totebench::app
