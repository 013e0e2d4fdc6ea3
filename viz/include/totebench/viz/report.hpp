// The report page: one HTML file that holds everything it shows and asks the network for nothing.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "totebench/materials/library.hpp"
#include "totebench/scenes/scene.hpp"
#include "totebench/viz/report_model.hpp"

namespace totebench::viz {

struct PageTable {
  std::string caption;
  std::vector<std::string> head;
  std::vector<std::vector<std::string>> rows;
  std::vector<bool> words;  // per column: text, set to the left; the first always is
};

struct PageFigure {
  std::string svg;
  std::string caption;
};

struct PageSection {
  std::string title;
  std::vector<std::string> paragraphs;
  std::string picture_png;   // content of the file, empty = none
  std::string picture_text;  // what it shows, for those who do not see it
  std::vector<PageTable> tables;
  std::vector<PageFigure> figures;
  bool side_by_side = false;  // figures in two columns where there is room
  bool new_page = false;      // begins a page when printed
  bool first = false;  // stands before cautions and 3-D view, figures and tables before words
  std::string folded;  // preformatted text behind a heading, empty = none
  std::string folded_title;
};

struct Page {
  std::string title;                                 // of the bag
  std::string sentence;                              // the answer
  std::string under;                                 // what was computed, in one line
  std::string alarm;                                 // not converged: what that means
  std::string picture_png;                           // content of the file, empty = none
  std::vector<std::array<double, 2>> picture_parts;  // as Picture::parts
  std::string picture_text;       // what the picture shows, for those who do not see it
  std::vector<PageModel> models;  // empty = no 3-D view
  std::vector<PageSection> sections;
  std::vector<std::string> cautions;
  std::string data_id;    // "findings" or "comparison"
  std::string data_json;  // the numbers, for programs
};

[[nodiscard]] std::string page_html(const Page& page);

// The plies of a region drawn to scale, outermost at the top, with how each is joined to the one
// above it.
[[nodiscard]] std::string layers_svg(const std::string& region,
                                     const std::vector<scenes::Layer>& layers,
                                     const materials::MaterialLibrary& library,
                                     const std::string& units);

// Every property the computation reads of the materials, threads and stitches the scene names: as
// assumed, low, high, source, grade; and the list of those sources.
[[nodiscard]] std::vector<PageTable> input_tables(const std::vector<const scenes::Scene*>& scenes,
                                                  const materials::MaterialLibrary& library,
                                                  const std::string& units);

}  // namespace totebench::viz
