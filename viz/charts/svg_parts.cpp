#include "viz/charts/svg_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "totebench/scenes/unit_text.hpp"
#include "totebench/viz/svg_chart.hpp"
#include "viz/pictures/drafting.hpp"

namespace totebench::viz::svg {

std::string text(double x, double y, const std::string& words, const char* anchor, double size,
                 const char* colour, bool bold) {
  return fmt::format(
      "<text x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"{}\" font-size=\"{:g}\" fill=\"{}\"{}>{}"
      "</text>\n",
      x, y, anchor, size, colour, bold ? " font-weight=\"600\"" : "", escaped(words));
}

std::string line(double x0, double y0, double x1, double y1, const char* colour, double width,
                 const char* dash) {
  const std::string dashed =
      std::string(dash) == "none" ? "" : fmt::format(" stroke-dasharray=\"{}\"", dash);
  return fmt::format(
      "<line x1=\"{:.1f}\" y1=\"{:.1f}\" x2=\"{:.1f}\" y2=\"{:.1f}\" stroke=\"{}\" "
      "stroke-width=\"{:g}\"{}/>\n",
      x0, y0, x1, y1, colour, width, dashed);
}

std::string upright(double x, double y, const std::string& words) {
  return fmt::format(
      "<text transform=\"translate({:g} {:.1f}) rotate(-90)\" text-anchor=\"middle\" "
      "font-size=\"14\" fill=\"{}\">{}</text>\n",
      x, y, kInkText, escaped(words));
}

std::string begin(double width, double height, const std::string& title) {
  return fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {:g} {:g}\" width=\"{:g}\" "
      "height=\"{:g}\" role=\"img\" font-family=\"'DejaVu Sans', Verdana, sans-serif\">\n"
      "<title>{}</title>\n",
      width, height, width, height, escaped(title));
}

double tick_step(double span, bool inches) {
  constexpr double kFinestMark_in = 1.0 / 32;
  const double most = span / 4;
  if (inches && most < 1) {
    return most > kFinestMark_in ? std::exp2(std::floor(std::log2(most))) : kFinestMark_in;
  }
  const double step = round_below(most);
  return step > 0 ? step : 1;
}

std::string tick_text(double value, double step, bool inches) {
  if (std::abs(value) < 1e-12) value = 0;
  if (inches) return scenes::inches_text(value);
  const int decimals = std::max(0, -static_cast<int>(std::floor(std::log10(step) + 1e-9)));
  return fmt::format("{:.{}f}", value, decimals);
}

}  // namespace totebench::viz::svg
