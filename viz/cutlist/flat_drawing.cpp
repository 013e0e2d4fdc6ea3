#include "totebench/viz/flat_drawing.hpp"

#include <fmt/format.h>

#include "totebench/viz/svg_chart.hpp"

namespace totebench::viz {
namespace {

constexpr double kLetterShare = 0.62;

std::string number(double mm) {
  std::string text = fmt::format("{:.3f}", mm);
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text == "-0" ? "0" : text;
}

std::string colour(Rgb rgb) { return fmt::format("#{:06x}", rgb); }

std::string path_text(const FlatPath& path) {
  std::string d;
  for (const std::vector<Mm>& run : path.runs) {
    char command = 'M';
    for (const Mm& p : run) {
      d += fmt::format("{}{}{},{}", d.empty() ? "" : " ", command, number(p.x), number(p.y));
      command = 'L';
    }
    if (path.closed) d += " Z";
  }
  std::string dash;
  for (const double mm : path.dash_mm) dash += (dash.empty() ? "" : " ") + number(mm);
  if (!dash.empty()) dash = fmt::format(" stroke-dasharray=\"{}\"", dash);
  return fmt::format(
      "<path class=\"{}\" d=\"{}\" fill=\"{}\" stroke=\"{}\" stroke-width=\"{}\"{}/>\n", path.role,
      d, path.fill ? colour(*path.fill) : "none", colour(path.ink), number(path.width_mm), dash);
}

std::string words_text(const FlatWords& words) {
  const char* anchors[] = {"", " text-anchor=\"middle\"", " text-anchor=\"end\""};
  return fmt::format("<text x=\"{}\" y=\"{}\" font-size=\"{}\" fill=\"{}\"{}{}>{}</text>\n",
                     number(words.at.x), number(words.at.y), number(words.size_mm),
                     colour(words.ink), anchors[words.anchor + 1],
                     words.bold ? " font-weight=\"600\"" : "", escaped(words.text));
}

}  // namespace

MmBox box_of(const FlatWords& words) {
  const double length = kLetterShare * words.size_mm * static_cast<double>(words.text.size());
  const double left = words.at.x - 0.5 * (words.anchor + 1) * length;
  return {{left, words.at.y - words.size_mm}, {left + length, words.at.y + 0.3 * words.size_mm}};
}

FlatPath flat_rectangle(const std::string& role, Mm corner, double width_mm, double height_mm) {
  FlatPath path;
  path.role = role;
  path.closed = true;
  const double x = corner.x + width_mm, y = corner.y + height_mm;
  path.runs = {{corner, {x, corner.y}, {x, y}, {corner.x, y}}};
  return path;
}

std::string svg_elements(const FlatDrawing& drawing) {
  std::string svg;
  for (const FlatPath& path : drawing.paths) svg += path_text(path);
  for (const FlatWords& words : drawing.words) svg += words_text(words);
  return svg;
}

std::string svg_text(const FlatDrawing& drawing) {
  std::string svg = fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0}mm\" height=\"{1}mm\" "
      "viewBox=\"0 0 {0} {1}\" font-family=\"'DejaVu Sans', Verdana, sans-serif\">\n"
      "<title>{2}</title>\n<rect width=\"{0}\" height=\"{1}\" fill=\"#fff\"/>\n",
      number(drawing.width_mm), number(drawing.height_mm), escaped(drawing.title));
  return svg + svg_elements(drawing) + "</svg>\n";
}

}  // namespace totebench::viz
