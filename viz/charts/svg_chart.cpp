#include "totebench/viz/svg_chart.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "totebench/scenes/unit_text.hpp"
#include "viz/charts/svg_parts.hpp"

namespace totebench::viz {

using svg::begin;
using svg::kDash;
using svg::kGridInk;
using svg::kInkText;
using svg::kSeries;
using svg::kSoftText;
using svg::line;
using svg::text;
using svg::tick_step;
using svg::tick_text;

std::string escaped(const std::string& words) {
  std::string out;
  for (const char c : words) {
    switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      default:
        // Control characters are not allowed in XML.
        if (static_cast<unsigned char>(c) >= 0x20 || c == '\n' || c == '\t') out += c;
    }
  }
  return out;
}

std::string bar_chart_svg(const BarChart& chart) {
  constexpr double kWidth = 760, kBar = 17, kBetweenBars = 3, kBetweenGroups = 16, kTop = 66;
  const auto n_series = static_cast<double>(chart.series.size());
  const double group = n_series * (kBar + kBetweenBars) + kBetweenGroups;
  const double height = kTop + group * static_cast<double>(chart.groups.size()) + 34;
  double high = 0;
  std::size_t longest = 0;
  for (const BarGroup& one : chart.groups) {
    longest = std::max(longest, one.label.size());
    for (const double value : one.values) {
      if (std::isfinite(value)) high = std::max(high, value);
    }
  }
  if (!(high > 0)) high = 1;
  const double left = std::clamp(8.2 * static_cast<double>(longest) + 18, 90.0, 375.0);
  const double scale = (kWidth - left - 84) / high;
  std::string svg = begin(kWidth, height, chart.title);
  svg += text(0, 18, chart.title + ", " + chart.unit, "start", 16, kInkText, true);
  double legend = left;
  for (std::size_t s = 0; s < chart.series.size(); ++s) {
    svg += fmt::format("<rect x=\"{:.1f}\" y=\"32\" width=\"14\" height=\"14\" fill=\"{}\"/>\n",
                       legend, kSeries[s % 4]);
    svg += text(legend + 20, 44, chart.series[s], "start");
    legend += 44 + 8.4 * static_cast<double>(chart.series[s].size());
  }
  const bool inches = chart.unit == "in";
  const auto told = [&](double value) {
    return inches              ? scenes::inches_text(value)
           : chart.unit == "%" ? scenes::rough_text(value)
                               : scenes::number_text(value);
  };
  const double step = tick_step(high, inches);
  for (double tick = 0; tick <= high * 1.0001; tick += step) {
    const double x = left + tick * scale;
    svg += line(x, kTop - 6, x, height - 28, kGridInk, 1);
    svg += text(x, height - 10, tick_text(tick, step, inches), "middle", 13, kSoftText);
  }
  double y = kTop;
  for (const BarGroup& one : chart.groups) {
    const double middle = y + 0.5 * (group - kBetweenGroups);
    const std::string label = one.label.size() > 44 ? one.label.substr(0, 41) + "..." : one.label;
    svg += text(left - 10, middle + 4, label, "end");
    for (std::size_t s = 0; s < one.values.size(); ++s) {
      const double value = one.values[s];
      if (std::isfinite(value)) {
        svg += fmt::format(
            "<rect x=\"{:.1f}\" y=\"{:.1f}\" width=\"{:.1f}\" height=\"{:g}\" fill=\"{}\"/>\n",
            left, y, std::max(1.0, value * scale), kBar, kSeries[s % 4]);
      }
      svg +=
          text(left + (value > 0 ? value * scale : 0) + 6, y + kBar - 4, told(value), "start", 13);
      y += kBar + kBetweenBars;
    }
    y += kBetweenGroups;
  }
  return svg + line(left, kTop - 6, left, height - 28, kInkText, 1.4) + "</svg>\n";
}

std::string line_chart_svg(const LineChart& chart) {
  constexpr double kWidth = 560, kHeight = 340, kLeft = 66, kTop = 44, kBottom = 56;
  std::size_t longest = 0;
  for (const Line& one : chart.lines) longest = std::max(longest, one.label.size());
  const double right = std::clamp(9.2 * static_cast<double>(longest) + 22, 30.0, 260.0);
  double x_high = 0, y_low = 0, y_high = 0;
  for (const Line& one : chart.lines) {
    for (const double x : one.x) x_high = std::max(x_high, x);
    for (const double y : one.y) {
      y_low = std::min(y_low, y);
      y_high = std::max(y_high, y);
    }
  }
  if (!(x_high > 0)) x_high = 1;
  if (!(y_high > y_low)) y_high = y_low + 1;
  const double y_step = tick_step(y_high - y_low, chart.y_inches),
               x_step = tick_step(x_high, chart.x_inches);
  y_high = std::ceil(y_high / y_step - 1e-6) * y_step;
  y_low = std::floor(y_low / y_step + 1e-6) * y_step;
  const auto px = [&](double x) { return kLeft + (kWidth - kLeft - right) * x / x_high; };
  const auto py = [&](double y) {
    return kHeight - kBottom - (kHeight - kTop - kBottom) * (y - y_low) / (y_high - y_low);
  };
  std::string svg = begin(kWidth, kHeight, chart.title);
  svg += text(0, 18, chart.title, "start", 16, kInkText, true);
  for (double y = y_low; y <= y_high + 0.01 * y_step; y += y_step) {
    svg += line(kLeft, py(y), kWidth - right, py(y), kGridInk, 1);
    svg += text(kLeft - 8, py(y) + 5, tick_text(y, y_step, chart.y_inches), "end", 13, kSoftText);
  }
  for (double x = 0; x <= x_high * 1.0001; x += x_step) {
    svg += line(px(x), kHeight - kBottom, px(x), kHeight - kBottom + 5, kInkText, 1);
    svg += text(px(x), kHeight - kBottom + 21, tick_text(x, x_step, chart.x_inches), "middle", 13,
                kSoftText);
  }
  svg += line(kLeft, kHeight - kBottom, kWidth - right, kHeight - kBottom, kInkText, 1.4);
  svg += text(0.5 * (kLeft + kWidth - right), kHeight - 12, chart.x_title, "middle");
  svg += svg::upright(16, 0.5 * (kTop + kHeight - kBottom), chart.y_title);
  std::vector<double> label_y;
  for (std::size_t i = 0; i < chart.lines.size(); ++i) {
    const Line& one = chart.lines[i];
    if (one.x.empty()) continue;
    std::string points;
    for (std::size_t k = 0; k < one.x.size(); ++k) {
      points += fmt::format("{:.1f},{:.1f} ", px(one.x[k]), py(one.y[k]));
    }
    svg += fmt::format(
        "<polyline points=\"{}\" fill=\"none\" stroke=\"{}\" stroke-width=\"2.4\" "
        "stroke-dasharray=\"{}\"/>\n",
        points, kSeries[i % 4], kDash[i % 4]);
    for (std::size_t k = 0; k < one.x.size(); ++k) {
      svg +=
          fmt::format("<circle cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"{}\" fill=\"{}\"/>\n", px(one.x[k]),
                      py(one.y[k]), one.x.size() > 40 ? "2" : "3.2", kSeries[i % 4]);
    }
    double at = py(one.y.back()) + 5;
    for (const double taken : label_y) {
      if (std::abs(at - taken) < 17) at = taken + 17;
    }
    label_y.push_back(at);
    svg += text(kWidth - right + 10, at, one.label, "start", 14, kSeries[i % 4], true);
  }
  return svg + "</svg>\n";
}

}  // namespace totebench::viz
