#include "viz/seam_plan.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "viz/svg_chart.hpp"

namespace totebench {
namespace {

// Lightest first: from pale to dark along one hue, which reads in grey as well.
struct Shade {
  const char* fill;
  const char* ink;
};
constexpr Shade kShades[] = {{"#fdf0e3", "#222225"},
                             {"#f6cfa5", "#222225"},
                             {"#e39a5c", "#222225"},
                             {"#b4622b", "#ffffff"},
                             {"#73340f", "#ffffff"}};
constexpr double kWidth = 420, kMargin = 30, kTop = 64, kTallest = 1100;
constexpr double kRoomForNumber = 15;  // px of a fastening's own

}  // namespace

std::string seam_plan_svg(const SeamPlan& plan) {
  double longest = 0;
  for (const auto& p : plan.points_m) longest = std::max(longest, p.x());
  const double tall_m = plan.top_offset_m + longest + 0.15 * plan.strap_width_m;
  const double scale =
      std::min((kWidth - 2 * kMargin) / plan.strap_width_m, kTallest / std::max(tall_m, 1e-6));
  double apart = 1e9;
  for (std::size_t i = 0; i < plan.points_m.size(); ++i) {
    for (std::size_t k = 0; k < i; ++k) {
      apart = std::min(apart, (plan.points_m[i] - plan.points_m[k]).norm());
    }
  }
  // Where lines of stitching cross, two fastenings nearly lie on each other.
  const double radius = std::clamp(0.5 * apart * scale, 4.0, 13.0);
  const double height = kTop + tall_m * scale + 40;
  const double centre = kWidth / 2;
  const double top = kTop;
  std::string svg = fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {0:g} {1:.0f}\" width=\"{0:g}\" "
      "height=\"{1:.0f}\" role=\"img\" font-family=\"'DejaVu Sans', Verdana, sans-serif\">\n"
      "<title>{2}</title>\n",
      kWidth, height, escaped(plan.title));
  svg += fmt::format("<text x=\"0\" y=\"18\" font-size=\"16\" font-weight=\"600\">{}</text>\n",
                     escaped(plan.title));
  svg += fmt::format(
      "<text x=\"0\" y=\"40\" font-size=\"13\" fill=\"#56565c\">1 goes first, pale "
      "early, dark late</text>\n");
  const double half = 0.5 * plan.strap_width_m * scale;
  svg += fmt::format(
      "<rect x=\"{:.1f}\" y=\"{:.1f}\" width=\"{:.1f}\" height=\"{:.1f}\" fill=\"#eceae6\" "
      "stroke=\"#56565c\"/>\n",
      centre - half, top, 2 * half, tall_m * scale);
  svg += fmt::format(
      "<line x1=\"4\" y1=\"{0:.1f}\" x2=\"{1:.1f}\" y2=\"{0:.1f}\" stroke=\"#222225\" "
      "stroke-width=\"2.5\"/>\n",
      top, kWidth - 4);
  svg += fmt::format(
      "<text x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"end\" font-size=\"12\" "
      "fill=\"#56565c\">top edge</text>\n",
      kWidth - 6, top - 5);
  int n = 1;
  for (const int order : plan.order) n = std::max(n, order);
  std::vector<std::size_t> drawn(plan.points_m.size());  // late ones below
  for (std::size_t i = 0; i < drawn.size(); ++i) drawn[i] = i;
  std::stable_sort(drawn.begin(), drawn.end(),
                   [&](std::size_t a, std::size_t b) { return plan.order[a] > plan.order[b]; });
  for (const std::size_t i : drawn) {
    const int order = plan.order[i];
    const double x = centre + plan.points_m[i].y() * scale;
    const double y = top + (plan.top_offset_m + plan.points_m[i].x()) * scale;
    const Shade shade = order == 0 ? Shade{"#ffffff", "#222225"} : kShades[5 * (order - 1) / n];
    svg += fmt::format(
        "<circle cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"{:.1f}\" fill=\"{}\" stroke=\"#222225\" "
        "stroke-width=\"0.8\"/>\n",
        x, y, radius, shade.fill);
    if (order == 0 || 2 * radius < kRoomForNumber) continue;
    svg += fmt::format(
        "<text x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"middle\" font-size=\"{:.0f}\" "
        "fill=\"{}\">{}</text>\n",
        x, y + 0.36 * radius, order > 99 ? 0.8 * radius : radius, shade.ink, order);
  }
  return svg + "</svg>\n";
}

}  // namespace totebench
