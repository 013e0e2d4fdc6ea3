#include "totebench/viz/seam_plan.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "viz/charts/svg_parts.hpp"

namespace totebench::viz {
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
constexpr double kPlanWidth = 420, kPlanMargin = 30, kPlanTop = 64, kTallest = 1100;
constexpr double kRoomForNumber = 15;  // px of a fastening's own

}  // namespace

std::string seam_plan_svg(const SeamPlan& plan) {
  double longest = 0;
  for (const auto& p : plan.points_m) longest = std::max(longest, p.x());
  const double tall_m = plan.top_offset_m + longest + 0.15 * plan.strap_width_m;
  const double scale = std::min((kPlanWidth - 2 * kPlanMargin) / plan.strap_width_m,
                                kTallest / std::max(tall_m, 1e-6));
  double apart = 1e9;
  for (std::size_t i = 0; i < plan.points_m.size(); ++i) {
    for (std::size_t k = 0; k < i; ++k) {
      apart = std::min(apart, (plan.points_m[i] - plan.points_m[k]).norm());
    }
  }
  // Where lines of stitching cross, two fastenings nearly lie on each other.
  const double radius = std::clamp(0.5 * apart * scale, 4.0, 13.0);
  const double height = kPlanTop + tall_m * scale + 40;
  const double centre = kPlanWidth / 2;
  const double top = kPlanTop;
  std::string drawn = svg::begin(kPlanWidth, std::round(height), plan.title);
  drawn += svg::text(0, 18, plan.title, "start", 16, svg::kInkText, true);
  drawn += svg::text(0, 40, "1 goes first, pale early, dark late", "start", 13, svg::kSoftText);
  const double half = 0.5 * plan.strap_width_m * scale;
  drawn += fmt::format(
      "<rect x=\"{:.1f}\" y=\"{:.1f}\" width=\"{:.1f}\" height=\"{:.1f}\" fill=\"#eceae6\" "
      "stroke=\"#56565c\"/>\n",
      centre - half, top, 2 * half, tall_m * scale);
  drawn += svg::line(4, top, kPlanWidth - 4, top, svg::kInkText, 2.5);
  drawn += svg::text(kPlanWidth - 6, top - 5, "top edge", "end", 12, svg::kSoftText);
  int n = 1;
  for (const int order : plan.order) n = std::max(n, order);
  std::vector<std::size_t> last_first(plan.points_m.size());  // late ones below
  for (std::size_t i = 0; i < last_first.size(); ++i) last_first[i] = i;
  std::stable_sort(last_first.begin(), last_first.end(),
                   [&](std::size_t a, std::size_t b) { return plan.order[a] > plan.order[b]; });
  for (const std::size_t i : last_first) {
    const int order = plan.order[i];
    const double x = centre + plan.points_m[i].y() * scale;
    const double y = top + (plan.top_offset_m + plan.points_m[i].x()) * scale;
    const Shade shade = order == 0 ? Shade{"#ffffff", "#222225"} : kShades[5 * (order - 1) / n];
    drawn += fmt::format(
        "<circle cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"{:.1f}\" fill=\"{}\" stroke=\"#222225\" "
        "stroke-width=\"0.8\"/>\n",
        x, y, radius, shade.fill);
    if (order == 0 || 2 * radius < kRoomForNumber) continue;
    drawn += svg::text(x, y + 0.36 * radius, std::to_string(order), "middle",
                       order > 99 ? 0.8 * radius : radius, shade.ink);
  }
  return drawn + "</svg>\n";
}

}  // namespace totebench::viz
