#include "viz/cutlist_drawing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "viz/svg_chart.hpp"

namespace totebench {
namespace {

constexpr double kMargin = 15, kGap = 14, kLabel = 5, kLine = 7;  // mm

std::string number(double mm) {
  std::string text = fmt::format("{:.3f}", mm);
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text == "-0" ? "0" : text;
}

std::string path(const std::vector<Eigen::Vector2d>& outline, const Eigen::Vector2d& low_m,
                 double x_mm, double y_mm, double height_mm) {
  std::string d;
  for (const Eigen::Vector2d& p : outline) {
    d += fmt::format("{}{},{} ", d.empty() ? "M" : "L", number(x_mm + 1e3 * (p.x() - low_m.x())),
                     number(y_mm + height_mm - 1e3 * (p.y() - low_m.y())));
  }
  return d + "Z";
}

std::string words(double x, double y, const std::string& text, double size, bool bold = false) {
  return fmt::format("<text x=\"{}\" y=\"{}\" font-size=\"{}\"{}>{}</text>\n", number(x), number(y),
                     number(size), bold ? " font-weight=\"600\"" : "", escaped(text));
}

struct Placed {
  const CutPiece* piece;
  double x, y, width, height;  // mm, of the cut outline
};

double label_width(const CutPiece& piece) {
  return std::max(40.0, 0.62 * kLabel * static_cast<double>(piece.name.size() + 6));
}

std::vector<Placed> in_rows(const std::vector<CutPiece>& pieces, double strip_mm, double top_mm,
                            double& bottom_mm) {
  std::vector<const CutPiece*> order;
  for (const CutPiece& piece : pieces) order.push_back(&piece);
  std::stable_sort(order.begin(), order.end(), [](const CutPiece* a, const CutPiece* b) {
    return a->height_m() > b->height_m();
  });
  std::vector<Placed> placed;
  double x = kMargin, y = top_mm, tallest = 0;
  for (const CutPiece* piece : order) {
    const double width = 1e3 * piece->width_m(), height = 1e3 * piece->height_m();
    const double room = std::max(width, label_width(*piece));
    if (x > kMargin && x + room > strip_mm - kMargin) {
      y += tallest + 3 * kLine + kGap;
      x = kMargin;
      tallest = 0;
    }
    placed.push_back({piece, x, y, width, height});
    x += room + kGap;
    tallest = std::max(tallest, height);
  }
  bottom_mm = y + tallest + 3 * kLine + kGap;
  return placed;
}

}  // namespace

std::string ruler_text(double length_m, const std::string& units) {
  if (units != "in") return fmt::format("{:.2f} cm", 100 * length_m);
  const double inches = length_m / 0.0254;
  const long sixteenths = std::lround(16 * inches);
  if (std::abs(length_m - 0.0254 * static_cast<double>(sixteenths) / 16) > 0.05e-3) {
    return fmt::format("{:.3f} in", inches);
  }
  const long whole = sixteenths / 16;
  long above = sixteenths % 16, below = 16;
  while (above > 0 && above % 2 == 0) {
    above /= 2;
    below /= 2;
  }
  if (above == 0) return fmt::format("{} in", whole);
  return whole == 0 ? fmt::format("{}/{} in", above, below)
                    : fmt::format("{} {}/{} in", whole, above, below);
}

std::string cutlist_svg(const std::vector<CutPiece>& pieces, const MaterialLibrary& library,
                        const std::string& units, double width_m) {
  const bool inch = units == "in";
  const double square = inch ? 101.6 : 100;
  double strip = 1e3 * width_m;
  for (const CutPiece& piece : pieces) {
    strip = std::max(strip, 2 * kMargin + std::max(1e3 * piece.width_m(), label_width(piece)));
  }
  const double top = kMargin + square + kGap;
  double bottom = top;
  const std::vector<Placed> placed = in_rows(pieces, strip, top, bottom);
  std::string svg = fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0}mm\" height=\"{1}mm\" "
      "viewBox=\"0 0 {0} {1}\" font-family=\"'DejaVu Sans', Verdana, sans-serif\" "
      "fill=\"#222225\">\n<title>Pieces to cut, true to scale</title>\n"
      "<rect width=\"{0}\" height=\"{1}\" fill=\"#fff\"/>\n",
      number(strip), number(bottom));
  svg += fmt::format(
      "<rect id=\"test-square\" x=\"{0}\" y=\"{0}\" width=\"{1}\" height=\"{1}\" fill=\"none\" "
      "stroke=\"#222225\" stroke-width=\"0.4\"/>\n",
      number(kMargin), number(square));
  svg += words(kMargin + 5, kMargin + 12, inch ? "4 in by 4 in" : "10 cm by 10 cm", kLabel, true);
  svg += words(kMargin + 5, kMargin + 20, "Measure this square before cutting:", 4);
  svg += words(kMargin + 5, kMargin + 26, "print at 100 %, not fitted to a page.", 4);
  svg += words(kMargin + 5, kMargin + 38, "full line: cut      dashed: sew", 4);
  svg += words(kMargin + 5, kMargin + 44, "arrow: along the warp", 4);
  for (const Placed& at : placed) {
    const CutPiece& piece = *at.piece;
    Eigen::Vector2d low = piece.cut_m.front();
    for (const Eigen::Vector2d& p : piece.cut_m) low = low.cwiseMin(p);
    svg += fmt::format(
        "<path class=\"cut\" d=\"{}\" fill=\"#faf7f0\" stroke=\"#222225\" stroke-width=\"0.5\"/>\n",
        path(piece.cut_m, low, at.x, at.y, at.height));
    if (!piece.sewn_m.empty()) {
      svg += fmt::format(
          "<path class=\"sew\" d=\"{}\" fill=\"none\" stroke=\"#9c3d1e\" stroke-width=\"0.4\" "
          "stroke-dasharray=\"4 2.5\"/>\n",
          path(piece.sewn_m, low, at.x, at.y, at.height));
    }
    const double reach = 0.3 * std::min(at.width, at.height);
    if (piece.has_grain && reach > 4) {
      const double u = reach * std::cos(piece.grain_rad), v = -reach * std::sin(piece.grain_rad);
      const double x = at.x + 0.5 * at.width, y = at.y + 0.5 * at.height;
      const double size = std::hypot(u, v), ux = u / size, uy = v / size;
      svg += fmt::format(
          "<path d=\"M{},{} L{},{} M{},{} L{},{} L{},{}\" fill=\"none\" stroke=\"#4c4c52\" "
          "stroke-width=\"0.6\"/>\n",
          number(x - u), number(y - v), number(x + u), number(y + v),
          number(x + u - 5 * ux + 2.5 * uy), number(y + v - 5 * uy - 2.5 * ux), number(x + u),
          number(y + v), number(x + u - 5 * ux - 2.5 * uy), number(y + v - 5 * uy + 2.5 * ux));
    }
    const Material* material = library.find(piece.material);
    const double below = at.y + at.height;
    svg +=
        words(at.x, below + kLine, fmt::format("{} x {}", piece.count, piece.name), kLabel, true);
    svg += words(at.x, below + 2 * kLine - 1,
                 fmt::format("{} by {}", ruler_text(piece.width_m(), units),
                             ruler_text(piece.height_m(), units)),
                 4);
    svg += words(at.x, below + 3 * kLine - 2, material == nullptr ? piece.material : material->name,
                 4);
  }
  return svg + "</svg>\n";
}

}  // namespace totebench
