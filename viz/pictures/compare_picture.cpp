#include "totebench/viz/compare_picture.hpp"

#include <algorithm>
#include <cmath>

#include "totebench/scenes/unit_text.hpp"
#include "totebench/viz/drawn_bag.hpp"
#include "viz/pictures/drafting.hpp"

namespace totebench::viz {
namespace {

// In pixels: margins, gaps and lettering, which do not scale with the bags.
constexpr double kLeft = 70, kRight = 340, kBagGap = 70, kTop = 40, kFoot = 80;
constexpr double kCaption = 150;  // between a bag and its cut
constexpr double kBelowCut = 70;  // between one row of bags and the next
constexpr double kLetter = 13.5;  // mean width of a letter of the labels
constexpr int kMostInARow = 4;

struct Column {
  DrawnBag bag;
  Cuts cut;
  Box bag_box, cut_box;
};

std::size_t columns_for(std::size_t n) {
  if (n <= kMostInARow) return n;
  return n <= 6 ? 3 : kMostInARow;
}

}  // namespace

std::string wrapped(const std::string& text, std::size_t width, std::size_t most) {
  std::vector<std::string> lines;
  std::string rest = text;
  while (rest.size() > width && lines.size() + 1 < most) {
    std::size_t at = rest[width] == ' ' ? width : rest.find_last_of(" -", width - 1);
    if (at == std::string::npos || at == 0) at = width - 1;
    lines.push_back(rest.substr(0, rest[at] == ' ' ? at : at + 1));
    rest = rest.substr(at + 1);
  }
  if (rest.size() > width) rest = rest.substr(0, width > 3 ? width - 3 : 0) + "...";
  std::string out;
  for (const std::string& line : lines) out += line + "\n";
  return out + rest;
}

Picture compare_picture(const std::vector<ComparedView>& views, const std::string& units) {
  const scenes::ShownUnit force = scenes::line_force_unit(units);
  Picture picture;
  picture.view = bag_view();
  const View& view = picture.view;

  std::vector<Column> columns;
  double largest = 0;
  for (const ComparedView& one : views) {
    const DrawnParts parts(one.tote.model.mesh);
    const CornerValues value = shown_membrane_force(one.tote, one.loaded_fields, force.per_SI);
    picture.bar.high = std::max(columns.empty() ? 0 : picture.bar.high,
                                bar_top(one.tote, value, parts.cloth, largest));
    const DrawnBag empty = draw_bag(one.tote, parts, one.empty_x_m, nullptr);
    Column column;
    column.bag = draw_bag(one.tote, parts, one.loaded_x_m, &value);
    const Eigen::Vector3d middle =
        0.5 * (empty.cloth.points.rowwise().minCoeff() + empty.cloth.points.rowwise().maxCoeff());
    column.cut = cut_both(empty, column.bag, Eigen::Vector3d::UnitY(), -Eigen::Vector3d::UnitX(),
                          middle.y(), view);
    column.bag_box = column.bag.box(view);
    column.cut_box = column.cut.box(view);
    columns.push_back(std::move(column));
  }

  const std::size_t n_across = columns_for(columns.size());
  const std::size_t n_rows = (columns.size() + n_across - 1) / n_across;
  double widest = 0, tallest_bag = 0, tallest_cut = 0;
  for (const Column& column : columns) {
    widest = std::max({widest, column.bag_box.width(), column.cut_box.width()});
    tallest_bag = std::max(tallest_bag, column.bag_box.height());
    tallest_cut = std::max(tallest_cut, column.cut_box.height());
  }
  // Few bags are not blown up beyond what is easy to look at.
  const double n = static_cast<double>(n_across);
  const double room = (picture.width_px - kLeft - kRight - (n - 1) * kBagGap) / n;
  const double column_px = std::min(room, 520.0);
  picture.width_px = static_cast<int>(kLeft + kRight + n * column_px + (n - 1) * kBagGap);
  const double mpp = widest / column_px;
  const double row_m = tallest_bag + tallest_cut + (kCaption + kBelowCut) * mpp;
  picture.low_m = {0, 0};
  picture.high_m = {picture.width_px * mpp,
                    static_cast<double>(n_rows) * row_m + (kTop + kFoot) * mpp};
  Drafting pen(picture);

  for (std::size_t i = 0; i < columns.size(); ++i) {
    Column& column = columns[i];
    const double across = static_cast<double>(i % n_across);
    const double centre = (kLeft + 0.5 * column_px + across * (column_px + kBagGap)) * mpp;
    const double top = picture.high_m.y() - kTop * mpp - static_cast<double>(i / n_across) * row_m;
    // All bags of a row hang from one level.
    column.bag.move((centre - 0.5 * (column.bag_box.low.x() + column.bag_box.high.x())) *
                        view.right +
                    (top - column.bag_box.high.y()) * view.up);
    add_bag(picture, column.bag);
    const double caption = top - tallest_bag - 22 * mpp;
    const auto letters = static_cast<std::size_t>((column_px + 0.8 * kBagGap) / kLetter);
    const std::string label = wrapped(views[i].label, letters, 2);
    pen.text({centre, caption}, label, 23, 0, 1, true);
    const double below =
        caption - (label.find('\n') == std::string::npos ? 38 : 68) * mpp;  // one line or two
    if (views[i].converged) {
      pen.text({centre, below}, "bottom sag " + scenes::length_text(views[i].bottom_sag_m, units),
               21, 0, 1);
    } else {
      pen.text({centre, below}, "not in equilibrium:\nlast good state", 21, 0, 1, true,
               kForceColour);
    }
    column.cut.move((centre - 0.5 * (column.cut_box.low.x() + column.cut_box.high.x())) *
                        view.right +
                    (top - tallest_bag - kCaption * mpp - column.cut_box.high.y()) * view.up);
    add_cuts(picture, column.cut);
  }

  ColourBar& bar = picture.bar;
  if (!(bar.high > 0)) bar.high = 1;
  bar.low = 0;
  bar.more_above = largest > bar.high;
  bar.title = "hardest\npull in\nthe cloth,\n" + force.name;
  bar.size_m = {26 * mpp, std::min(0.8 * tallest_bag, 420 * mpp)};
  bar.corner_m = {picture.high_m.x() - (kRight - 60) * mpp,
                  picture.high_m.y() - (kTop + 20) * mpp - bar.size_m.y()};
  bar.shown = true;
  pen.label_colour_bar();

  const double foot = 34 * mpp;
  pen.scale_bar({kLeft * mpp, foot}, 150, units);
  pen.text({(kLeft + 330) * mpp, foot}, "below: cut along the width, empty dashed, loaded full", 20,
           -1, 0, false, kSoftInk);
  return picture;
}

}  // namespace totebench::viz
