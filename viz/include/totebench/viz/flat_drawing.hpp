// A flat drawing in millimetres, apart from the format it is written in: svg_text() and the pages
// of a PDF (totebench/viz/pdf_module.hpp) show the same paths and words.
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace totebench::viz {

struct Mm {
  double x = 0, y = 0;  // from the upper left corner, y downwards
};

using Rgb = unsigned;  // 0xRRGGBB

struct FlatPath {
  std::string role;                   // what it is; its class in SVG
  std::vector<std::vector<Mm>> runs;  // each a polyline
  bool closed = false;                // every run back to its first point
  double width_mm = 0.4;
  std::vector<double> dash_mm;  // on, off; empty = full
  Rgb ink = 0x222225;
  std::optional<Rgb> fill;
};

struct FlatWords {
  Mm at;  // on the line of writing
  std::string text;
  double size_mm = 4;
  bool bold = false;
  int anchor = -1;  // -1: begins at the place, 0: is centred on it, 1: ends there
  Rgb ink = 0x222225;
};

// Paths are drawn in order, words above them.
struct FlatDrawing {
  double width_mm = 0, height_mm = 0;
  std::string title;
  std::vector<FlatPath> paths;
  std::vector<FlatWords> words;
};

// Where words stand, on the safe side: letters are taken as 0.62 of their size wide.
struct MmBox {
  Mm low, high;
};
[[nodiscard]] MmBox box_of(const FlatWords& words);

// A closed rectangle.
[[nodiscard]] FlatPath flat_rectangle(const std::string& role, Mm corner, double width_mm,
                                      double height_mm);

// One SVG whose unit is the millimetre; lengths to a thousandth of it.
[[nodiscard]] std::string svg_text(const FlatDrawing& drawing);
// The elements of that alone, for an SVG with a frame of its own.
[[nodiscard]] std::string svg_elements(const FlatDrawing& drawing);

}  // namespace totebench::viz
