#include "viz/pictures/drafting.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "totebench/scenes/unit_text.hpp"

namespace totebench::viz {

double round_below(double value) {
  const double power = std::pow(10.0, std::floor(std::log10(value)));
  for (const double step : {5.0, 2.0}) {
    if (value >= step * power * (1 - 1e-12)) return step * power;
  }
  return power;
}

void Drafting::line(const std::vector<Eigen::Vector2d>& places, const Colour& colour,
                    double width_px, bool on_top) {
  Eigen::Matrix3Xd points(3, static_cast<Eigen::Index>(places.size()));
  for (std::size_t i = 0; i < places.size(); ++i) {
    points.col(static_cast<Eigen::Index>(i)) = picture_.view.space(places[i].x(), places[i].y());
  }
  picture_.lines.push_back({{points}, colour, width_px, on_top});
}

void Drafting::text(const Eigen::Vector2d& at, const std::string& words, int size_px,
                    int horizontal, int vertical, bool bold, const Colour& colour) {
  picture_.texts.push_back(
      {picture_.view.space(at.x(), at.y()), words, size_px, horizontal, vertical, bold, colour});
}

void Drafting::question(const Eigen::Vector2d& at, const Colour& colour) {
  constexpr int kCorners = 24;
  std::vector<Eigen::Vector2d> ring;
  for (int i = 0; i <= kCorners; ++i) {
    const double turn = 2 * std::numbers::pi * i / kCorners;
    ring.push_back(at + px(16) * Eigen::Vector2d(std::cos(turn), std::sin(turn)));
  }
  line(ring, colour, 2.6);
  text(at, "?", 24, 0, 0, true, colour);
}

void Drafting::arrow_head(const Eigen::Vector2d& tip, double direction) {
  const double length = px(11), half = px(4);
  DrawnSurface head;
  head.points.resize(3, 3);
  const View& view = picture_.view;
  const Eigen::Vector3d near = 5 * view.towards_viewer;  // in front of everything
  head.points.col(0) = view.space(tip.x(), tip.y()) + near;
  head.points.col(1) = view.space(tip.x() - half, tip.y() - direction * length) + near;
  head.points.col(2) = view.space(tip.x() + half, tip.y() - direction * length) + near;
  head.triangles = {{0, 1, 2}};
  head.colour = kInk;
  picture_.surfaces.push_back(head);
}

void Drafting::vertical_dimension(double u, double low, double high, double from_u,
                                  const std::string& words, bool bold) {
  const double side = u >= from_u ? 1 : -1;
  for (const double v : {low, high}) {
    line({{from_u, v}, {u + side * px(8), v}}, kSoftInk, 1.2);
  }
  const bool fits = high - low > px(34);
  if (fits) {
    line({{u, low}, {u, high}}, kInk, 1.6);
    arrow_head({u, high}, 1);
    arrow_head({u, low}, -1);
  } else {  // too small for the arrows: they point inwards from outside
    line({{u, high + px(26)}, {u, low - px(26)}}, kInk, 1.6);
    arrow_head({u, high}, -1);
    arrow_head({u, low}, 1);
  }
  text({u + side * px(16), 0.5 * (low + high)}, words, 22, side > 0 ? -1 : 1, 0, bold);
}

void Drafting::scale_bar(const Eigen::Vector2d& at, double wanted_px, const std::string& units) {
  const scenes::ShownUnit unit = scenes::length_unit(units);
  const double shown = round_below(px(wanted_px) * unit.per_SI * 1.4);
  const double length = shown / unit.per_SI;
  line({at, at + Eigen::Vector2d(length, 0)}, kInk, 3);
  for (const double u : {at.x(), at.x() + length}) {
    line({{u, at.y() - px(6)}, {u, at.y() + px(6)}}, kInk, 2);
  }
  text({at.x() + length + px(14), at.y()}, fmt::format("{:g} {}", shown, unit.name), 20, -1, 0);
}

void Drafting::label_colour_bar() {
  const ColourBar& bar = picture_.bar;
  const double right = bar.corner_m.x() + bar.size_m.x();
  const double top = bar.corner_m.y() + bar.size_m.y();
  const double span = bar.high - bar.low;
  // The smallest round step whose ticks stand at least two lines of letters apart.
  double step = round_below(span / 20);
  while (step / span * bar.size_m.y() < px(36)) step = round_below(2.6 * step);
  const int decimals = std::max(0, -static_cast<int>(std::floor(std::log10(step))));
  const int first = static_cast<int>(std::ceil(bar.low / step - 1e-9));
  const int last = static_cast<int>(std::floor(bar.high / step + 1e-9));
  for (int tick = first; tick <= last; ++tick) {
    const double value = tick * step;
    const double v = bar.corner_m.y() + bar.size_m.y() * (value - bar.low) / span;
    line({{right, v}, {right + px(7), v}}, kInk, 1.6);
    text({right + px(13), v}, fmt::format("{:.{}f}", value, decimals), 20, -1, 0);
  }
  const double left = bar.corner_m.x(), low = bar.corner_m.y();
  line({{left, low}, {right, low}, {right, top}, {left, top}, {left, low}}, kSoftInk, 1.2);
  if (bar.more_above) text({right + px(13), top + px(8)}, "and more", 18, -1, -1, false, kSoftInk);
  text({right + px(84), 0.5 * (low + top)}, bar.title, 20, -1, 0);
}

}  // namespace totebench::viz
