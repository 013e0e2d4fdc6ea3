#include "totebench/viz/front_chart.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "viz/charts/svg_parts.hpp"

namespace totebench::viz {
namespace {

constexpr double kFrontWidth = 640, kFrontHeight = 430, kFrontLeft = 72, kFrontRight = 24,
                 kFrontTop = 44, kFrontBottom = 104;
constexpr const char* kFrontInk = svg::kSeries[0];
constexpr const char* kChosenInk = svg::kSeries[1];

// A range with round ends that holds all values with room to spare.
struct Axis {
  double low = 0, high = 1, step = 1;
  void hold(double least, double most, bool from_zero, bool inches = false) {
    if (!(most > least)) most = least + std::max(std::abs(least), 1e-3);
    const double room = 0.06 * (most - least);
    step = svg::tick_step(most - (from_zero ? 0 : least), inches);
    low = from_zero && least >= 0 ? 0 : step * std::floor((least - room) / step + 1e-9);
    high = step * std::ceil((most + room) / step - 1e-9);
  }
};

std::string circle(double x, double y, double r, const char* fill, const char* ink, double width) {
  return fmt::format(
      "<circle cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"{:g}\" fill=\"{}\" stroke=\"{}\" "
      "stroke-width=\"{:g}\"/>\n",
      x, y, r, fill, ink, width);
}

std::string mark_svg(FrontMark mark, double x, double y) {
  switch (mark) {
    case FrontMark::kMisses:
      return svg::line(x - 4, y - 4, x + 4, y + 4, svg::kSoftText, 1.3) +
             svg::line(x - 4, y + 4, x + 4, y - 4, svg::kSoftText, 1.3);
    case FrontMark::kBeaten:
      return circle(x, y, 4, "#ffffff", svg::kSoftText, 1.3);
    case FrontMark::kFront:
      return circle(x, y, 5, kFrontInk, kFrontInk, 1);
    case FrontMark::kChosen:
      return circle(x, y, 9, "none", kChosenInk, 2.4) + circle(x, y, 5, kFrontInk, kFrontInk, 1);
  }
  return "";
}

bool on_front(const FrontPoint& point) {
  return point.mark == FrontMark::kFront || point.mark == FrontMark::kChosen;
}

struct Tag {
  double x = 0, y = 0;
  std::string words;
  bool front = false;
};

// Marks that lie on each other share one: "5, 15".
void add_tag(std::vector<Tag>& tags, const Tag& tag) {
  constexpr double kTogether = 15;
  if (tag.words.empty()) return;
  const auto there = std::find_if(tags.begin(), tags.end(), [&](const Tag& other) {
    return std::hypot(other.x - tag.x, other.y - tag.y) < kTogether;
  });
  if (there == tags.end()) {
    tags.push_back(tag);
  } else {
    there->words += ", " + tag.words;
  }
}

std::string legend(const FrontChart& chart) {
  const std::pair<FrontMark, std::string> entries[] = {{FrontMark::kChosen, "chosen"},
                                                       {FrontMark::kFront, chart.front_text},
                                                       {FrontMark::kBeaten, chart.beaten_text},
                                                       {FrontMark::kMisses, chart.misses_text}};
  std::string out;
  double x = kFrontLeft;
  double y = kFrontHeight - 36;
  for (const auto& [mark, words] : entries) {
    const bool any = std::any_of(chart.points.begin(), chart.points.end(),
                                 [m = mark](const FrontPoint& p) { return p.mark == m; });
    if (!any) continue;
    const double wide = 40 + 7.0 * static_cast<double>(words.size());
    if (x > kFrontLeft && x + wide > kFrontWidth) {
      x = kFrontLeft;
      y += 24;
    }
    out += mark_svg(mark, x + 8, y - 5) + svg::text(x + 24, y, words, "start", 13);
    x += wide;
  }
  return out;
}

}  // namespace

std::string front_chart_svg(const FrontChart& chart) {
  Axis across;
  Axis up;
  if (!chart.points.empty()) {
    const auto [west, east] =
        std::minmax_element(chart.points.begin(), chart.points.end(),
                            [](const auto& a, const auto& b) { return a.x < b.x; });
    const auto [south, north] =
        std::minmax_element(chart.points.begin(), chart.points.end(),
                            [](const auto& a, const auto& b) { return a.y < b.y; });
    across.hold(west->x, east->x, false);
    up.hold(std::fmin(south->y, chart.y_limit), std::fmax(north->y, chart.y_limit), true,
            chart.y_inches);
  }
  const auto px = [&](double x) {
    return kFrontLeft +
           (kFrontWidth - kFrontLeft - kFrontRight) * (x - across.low) / (across.high - across.low);
  };
  const auto py = [&](double y) {
    return kFrontHeight - kFrontBottom -
           (kFrontHeight - kFrontTop - kFrontBottom) * (y - up.low) / (up.high - up.low);
  };
  std::string out = svg::begin(kFrontWidth, kFrontHeight, chart.title);
  out += svg::text(0, 18, chart.title, "start", 16, svg::kInkText, true);
  for (double y = up.low; y <= up.high + 0.01 * up.step; y += up.step) {
    out += svg::line(kFrontLeft, py(y), kFrontWidth - kFrontRight, py(y), svg::kGridInk, 1);
    out += svg::text(kFrontLeft - 8, py(y) + 5, svg::tick_text(y, up.step, chart.y_inches), "end",
                     13, svg::kSoftText);
  }
  for (double x = across.low; x <= across.high + 0.01 * across.step; x += across.step) {
    out += svg::line(px(x), kFrontHeight - kFrontBottom, px(x), kFrontHeight - kFrontBottom + 5,
                     svg::kInkText, 1);
    out += svg::text(px(x), kFrontHeight - kFrontBottom + 21, svg::tick_text(x, across.step),
                     "middle", 13, svg::kSoftText);
  }
  out += svg::line(kFrontLeft, kFrontHeight - kFrontBottom, kFrontWidth - kFrontRight,
                   kFrontHeight - kFrontBottom, svg::kInkText, 1.4);
  out += svg::text(0.5 * (kFrontLeft + kFrontWidth - kFrontRight), kFrontHeight - kFrontBottom + 42,
                   chart.x_title, "middle");
  out += svg::upright(16, 0.5 * (kFrontTop + kFrontHeight - kFrontBottom), chart.y_title);
  if (std::isfinite(chart.y_limit)) {
    out += svg::line(kFrontLeft, py(chart.y_limit), kFrontWidth - kFrontRight, py(chart.y_limit),
                     kChosenInk, 1.6, "9 5");
    out += svg::text(kFrontWidth - kFrontRight - 4, py(chart.y_limit) - 6, chart.limit_label, "end",
                     13, kChosenInk, true);
  }
  std::string stair;
  double last_y = 0;
  for (const FrontPoint& point : chart.points) {  // by x
    if (!on_front(point)) continue;
    if (!stair.empty()) stair += fmt::format("{:.1f},{:.1f} ", px(point.x), last_y);
    last_y = py(point.y);
    stair += fmt::format("{:.1f},{:.1f} ", px(point.x), last_y);
  }
  if (!stair.empty()) {
    out += fmt::format(
        "<polyline points=\"{}\" fill=\"none\" stroke=\"{}\" stroke-width=\"1.4\" "
        "stroke-opacity=\"0.6\"/>\n",
        stair, kFrontInk);
  }
  for (const bool front : {false, true}) {  // on top of the others
    for (const FrontPoint& point : chart.points) {
      if (on_front(point) == front) out += mark_svg(point.mark, px(point.x), py(point.y));
    }
  }
  std::vector<Tag> tags;
  for (const bool front : {true, false}) {
    for (const FrontPoint& point : chart.points) {
      if (on_front(point) == front) add_tag(tags, {px(point.x), py(point.y), point.label, front});
    }
  }
  for (const Tag& tag : tags) {
    const double aside = tag.front ? 9 : 6;
    const bool left = tag.x + aside + 8.5 * static_cast<double>(tag.words.size()) > kFrontWidth;
    out +=
        svg::text(tag.x + (left ? -aside : aside), tag.y - aside, tag.words, left ? "end" : "start",
                  tag.front ? 13 : 11, tag.front ? kFrontInk : svg::kSoftText, tag.front);
  }
  return out + legend(chart) + "</svg>\n";
}

}  // namespace totebench::viz
