#include "viz/charts/svg_page.hpp"

#include <fmt/format.h>

#include <cmath>
#include <sstream>
#include <utility>

#include "totebench/viz/svg_chart.hpp"

namespace totebench::viz {
namespace {

constexpr double kRow = 9;            // mm, high enough to write in
constexpr double kMeanLetter = 0.56;  // mean width of a letter over its size, on the safe side

const char* stroke(Pen pen) {
  switch (pen) {
    case Pen::kThin:
      return "stroke=\"#222225\" stroke-width=\"0.35\"";
    case Pen::kDashed:
      return "stroke=\"#4c4c52\" stroke-width=\"0.35\" stroke-dasharray=\"2 1.5\"";
    case Pen::kThick:
      return "stroke=\"#222225\" stroke-width=\"0.9\"";
  }
  return "";
}

}  // namespace

SvgPage::SvgPage(double width_mm, double height_mm, const std::string& title)
    : body_(fmt::format(
          "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0:.1f}mm\" height=\"{1:.1f}mm\" "
          "viewBox=\"0 0 {0:.1f} {1:.1f}\" font-family=\"'DejaVu Sans', Verdana, sans-serif\" "
          "fill=\"#222225\">\n<title>{2}</title>\n"
          "<rect width=\"{0:.1f}\" height=\"{1:.1f}\" fill=\"#fff\"/>\n",
          width_mm, height_mm, escaped(title))) {}

void SvgPage::line(Mm from, Mm to, Pen pen) {
  body_ += fmt::format("<line x1=\"{:.2f}\" y1=\"{:.2f}\" x2=\"{:.2f}\" y2=\"{:.2f}\" {}/>\n",
                       from.x, from.y, to.x, to.y, stroke(pen));
}

void SvgPage::path(const std::string& path, Pen pen, const std::string& fill) {
  body_ += fmt::format("<path d=\"{}\" fill=\"{}\" {}/>\n", path, fill, stroke(pen));
}

void SvgPage::words(Mm at, const std::string& text, double size_mm, int anchor, bool bold,
                    bool typed) {
  const char* anchors[] = {"start", "middle", "end"};
  body_ += fmt::format(
      "<text x=\"{:.2f}\" y=\"{:.2f}\" font-size=\"{:g}\" text-anchor=\"{}\"{}{}>{}</text>\n", at.x,
      at.y, size_mm, anchors[anchor + 1], bold ? " font-weight=\"600\"" : "",
      typed ? " font-family=\"'DejaVu Sans Mono', monospace\" xml:space=\"preserve\"" : "",
      escaped(text));
}

double SvgPage::paragraph(Mm at, double width_mm, const std::string& text, double size_mm) {
  const auto most = static_cast<std::size_t>(width_mm / (kMeanLetter * size_mm));
  std::istringstream in(text);
  std::string row, word;
  const auto flush = [&] {
    words(at, row, size_mm);
    at.y += 1.4 * size_mm;
    row.clear();
  };
  while (in >> word) {
    if (!row.empty() && row.size() + 1 + word.size() > most) flush();
    row += (row.empty() ? "" : " ") + word;
  }
  if (!row.empty()) flush();
  return at.y;
}

void SvgPage::dimension(Mm from, Mm to, const std::string& text) {
  const double length = std::hypot(to.x - from.x, to.y - from.y);
  const double ux = (to.x - from.x) / length, uy = (to.y - from.y) / length;
  line(from, to);
  for (const auto& [tip, sign] : {std::pair{from, 1.0}, std::pair{to, -1.0}}) {
    path(fmt::format("M{:.2f},{:.2f} L{:.2f},{:.2f} L{:.2f},{:.2f} Z", tip.x, tip.y,
                     tip.x + sign * 3 * ux + uy, tip.y + sign * 3 * uy - ux,
                     tip.x + sign * 3 * ux - uy, tip.y + sign * 3 * uy + ux),
         Pen::kThin, "#222225");
  }
  const Mm middle{0.5 * (from.x + to.x), 0.5 * (from.y + to.y)};
  const bool level = std::abs(uy) < 0.5;
  words(level ? Mm{middle.x, middle.y - 1.8} : Mm{middle.x + 2.5, middle.y + 1.5}, text, 4,
        level ? 0 : -1, true);
}

double SvgPage::blanks(Mm at, const std::vector<std::string>& heads,
                       const std::vector<std::string>& rows, double first_mm, double column_mm) {
  const double right = at.x + first_mm + column_mm * static_cast<double>(heads.size() - 1);
  const double bottom = at.y + kRow * static_cast<double>(rows.size() + 1);
  for (std::size_t r = 0; r <= rows.size() + 1; ++r) {
    const double y = at.y + kRow * static_cast<double>(r);
    line({at.x, y}, {right, y});
  }
  line({at.x, at.y}, {at.x, bottom});
  for (std::size_t c = 0; c < heads.size(); ++c) {
    const double x = at.x + first_mm + column_mm * static_cast<double>(c);
    line({x, at.y}, {x, bottom});
    const double left = c == 0 ? at.x : x - column_mm;
    words({left + 2, at.y + 6}, heads[c], 3.6, -1, true);
  }
  for (std::size_t r = 0; r < rows.size(); ++r) {
    words({at.x + 2, at.y + kRow * static_cast<double>(r + 1) + 6}, rows[r], 3.6);
  }
  return bottom;
}

}  // namespace totebench::viz
