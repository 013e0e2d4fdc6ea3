// Pieces that charts are drawn of; included by chart sources only.
#pragma once

#include <string>

namespace totebench::viz::svg {

// Dark enough on white for lettering beside them, and told apart in grey as well.
inline constexpr const char* kSeries[] = {"#1d4e6b", "#c2732a", "#5b8a3c", "#7a4a8c"};
inline constexpr const char* kDash[] = {"none", "9 5", "3 4", "12 4 3 4"};
inline constexpr const char* kInkText = "#222225";
inline constexpr const char* kSoftText = "#56565c";
inline constexpr const char* kGridInk = "#d9d7d2";

// Sizes and places in pixels.
[[nodiscard]] std::string text(double x, double y, const std::string& words, const char* anchor,
                               double size = 14, const char* colour = kInkText, bool bold = false);
[[nodiscard]] std::string line(double x0, double y0, double x1, double y1, const char* colour,
                               double width, const char* dash = "none");
// A title along the left edge, read from below.
[[nodiscard]] std::string upright(double x, double y, const std::string& words);
[[nodiscard]] std::string begin(double width, double height, const std::string& title);

// A round step that gives four to eight ticks over the span; of inches, one that a ruler has.
[[nodiscard]] double tick_step(double span, bool inches = false);
[[nodiscard]] std::string tick_text(double value, double step, bool inches = false);

}  // namespace totebench::viz::svg
