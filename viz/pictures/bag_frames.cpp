#include "totebench/viz/bag_frames.hpp"

#include <algorithm>

#include "totebench/scenes/unit_text.hpp"
#include "viz/pictures/drafting.hpp"

namespace totebench::viz {
namespace {

// In pixels. Sides are even, as encoders of films want them.
constexpr int kFrameWidth = 1280, kFrameHeight = 720;
constexpr double kFrameMargin = 40, kBar = 260, kBarHeight = 400, kFrameFoot = 100;

CornerValues between(const CornerValues& a, const CornerValues& b, double share) {
  CornerValues out = a;
  for (std::size_t t = 0; t < a.size(); ++t) {
    for (std::size_t c = 0; c < 3; ++c) out[t][c] += share * (b[t][c] - a[t][c]);
  }
  return out;
}

}  // namespace

std::vector<BagMoment> load_rising(const scenes::Tote& tote,
                                   const std::vector<solver::LoadStep>& steps, double mass_kg,
                                   BagField field, const std::string& units, int n) {
  std::vector<CornerValues> colour;
  colour.reserve(steps.size());
  for (const solver::LoadStep& step : steps) {
    colour.push_back(shown_field(field, tote, step.state,
                                 solver::shell_fields(tote.model, step.state), step.load_factor,
                                 units)
                         .values);
  }
  std::vector<BagMoment> moments;
  const double last = steps.back().load_factor;
  for (int i = 0; i < n; ++i) {
    const double factor = last * i / (n - 1);
    std::size_t k = 0;
    while (k + 2 < steps.size() && steps[k + 1].load_factor < factor) ++k;
    const std::size_t next = std::min(k + 1, steps.size() - 1);
    const double span = steps[next].load_factor - steps[k].load_factor;
    const double share = span > 0 ? (factor - steps[k].load_factor) / span : 0;
    moments.push_back({steps[k].state.x + share * (steps[next].state.x - steps[k].state.x),
                       between(colour[k], colour[next], share),
                       "with " + scenes::mass_text(factor * mass_kg, units)});
  }
  return moments;
}

std::vector<Picture> bag_frames(const scenes::Tote& tote, const std::vector<BagMoment>& moments,
                                const std::string& bar_title, const std::string& units) {
  const View view = bag_view();
  const DrawnParts parts(tote.model.mesh);
  std::vector<DrawnBag> bags;
  Box box;
  double largest = 0, top = 0;
  for (const BagMoment& moment : moments) {
    top = std::max(top, bar_top(tote, moment.colour, parts.cloth, largest));
    bags.push_back(draw_bag(tote, parts, moment.x_m, &moment.colour));
    const Box its = bags.back().box(view);
    box.add(its.low);
    box.add(its.high);
  }
  const double mpp = std::max(box.width() / (kFrameWidth - 2 * kFrameMargin - kBar),
                              box.height() / (kFrameHeight - 2 * kFrameMargin - kFrameFoot));
  std::vector<Picture> frames;
  for (std::size_t i = 0; i < bags.size(); ++i) {
    Picture picture;
    picture.view = view;
    picture.width_px = kFrameWidth;
    // The bag stands in the middle of what the colour bar leaves.
    const double free = (kFrameWidth - kBar) * mpp - box.width();
    picture.low_m = {box.low.x() - 0.5 * free, box.high.y() - (kFrameHeight - kFrameMargin) * mpp};
    picture.high_m = picture.low_m + mpp * Eigen::Vector2d(kFrameWidth, kFrameHeight);
    add_bag(picture, bags[i]);
    picture.bar.low = 0;
    picture.bar.high = top > 0 ? top : 1;
    picture.bar.more_above = largest > picture.bar.high;
    picture.bar.title = bar_title;
    picture.bar.size_m = {26 * mpp, kBarHeight * mpp};
    picture.bar.corner_m = {picture.high_m.x() - kBar * mpp,
                            picture.high_m.y() - kFrameMargin * mpp - picture.bar.size_m.y()};
    picture.bar.shown = true;
    Drafting pen(picture);
    pen.label_colour_bar();
    const double foot = picture.low_m.y() + 40 * mpp;
    pen.scale_bar({picture.low_m.x() + kFrameMargin * mpp, foot}, 150, units);
    pen.text({0.5 * (box.low.x() + box.high.x()), foot + 34 * mpp}, moments[i].caption, 28, 0, 0,
             true);
    frames.push_back(std::move(picture));
  }
  return frames;
}

}  // namespace totebench::viz
