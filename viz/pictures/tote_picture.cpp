#include "viz/pictures/tote_picture.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "totebench/scenes/base_shape.hpp"
#include "totebench/scenes/findings.hpp"
#include "totebench/scenes/unit_text.hpp"
#include "totebench/viz/drawn_bag.hpp"
#include "viz/pictures/drafting.hpp"
#include "viz/pictures/stitch_inset.hpp"

namespace totebench::viz {
namespace {

constexpr double kMarkLine_px = 27;   // of the words on a doubt
constexpr double kMarkApart_px = 20;  // nearer marks are one

void add_stitch_arrows(Picture& picture, const ToteView& input, const Eigen::Vector3d& by) {
  const double largest = input.stitch_forces_N.colwise().norm().maxCoeff();
  if (!(largest > 0)) return;
  const double scale = 40 * picture.metres_per_px() / largest;
  // The hardest pulled first; another so near that the arrows would pile up is left out.
  constexpr double kApart_px = 9;
  const int n = static_cast<int>(input.tote.model.stitches.size());
  std::vector<int> order(static_cast<std::size_t>(n));
  std::iota(order.begin(), order.end(), 0);
  std::stable_sort(order.begin(), order.end(), [&](int i, int k) {
    return input.stitch_forces_N.col(i).norm() > input.stitch_forces_N.col(k).norm();
  });
  std::vector<Eigen::Vector3d> tails, vectors;
  std::vector<Eigen::Vector2d> seen;
  for (const int i : order) {
    const solver::SurfacePoint& point = input.tote.model.stitches[i].b;
    const Eigen::Vector3d tail =
        solver::position_of(input.tote.model.mesh, input.loaded_x_m, point) +
        6e-3 * solver::normal_of(input.tote.model.mesh, input.loaded_x_m, point) + by;
    const Eigen::Vector2d at = picture.view.flat(tail);
    const bool near = std::any_of(seen.begin(), seen.end(), [&](const Eigen::Vector2d& other) {
      return (at - other).norm() < kApart_px * picture.metres_per_px();
    });
    if (near) continue;
    seen.push_back(at);
    tails.push_back(tail);
    vectors.emplace_back(scale * input.stitch_forces_N.col(i));
  }
  DrawnArrows arrows;
  arrows.from.resize(3, static_cast<Eigen::Index>(tails.size()));
  arrows.vector.resize(3, arrows.from.cols());
  for (Eigen::Index i = 0; i < arrows.from.cols(); ++i) {
    arrows.from.col(i) = tails[static_cast<std::size_t>(i)];
    arrows.vector.col(i) = vectors[static_cast<std::size_t>(i)];
  }
  arrows.colour = kForceColour;
  picture.arrows.push_back(arrows);
}

void add_strap_drop(Drafting& pen, const ToteView& input, const Eigen::Matrix3Xd& x,
                    const View& view, double shift, double u, double said_m) {
  const std::vector<scenes::StrapDrop> drops = scenes::strap_drops(input.tote, x);
  if (drops.empty()) return;
  const Eigen::Vector2d low = view.flat(drops.front().foot);
  const Eigen::Vector2d high = view.flat(drops.front().underside);
  pen.vertical_dimension(u, low.y(), high.y(), high.x() + shift,
                         "strap drop\n" + scenes::length_text(said_m, input.units), false);
}

// A question mark at each place, beside others where several doubts meet, and the words below one
// another from `below` down.
void add_marks(Drafting& pen, const ToteView& input, const View& view, double shift,
               const Eigen::Vector2d& below) {
  std::vector<Eigen::Vector2d> seen;
  for (std::size_t i = 0; i < input.marks.size(); ++i) {
    const PictureMark& mark = input.marks[i];
    const Eigen::Vector2d at = view.flat(mark.at_m) + Eigen::Vector2d(shift, 0);
    const bool there = std::any_of(seen.begin(), seen.end(), [&](const Eigen::Vector2d& other) {
      return (at - other).norm() < pen.px(kMarkApart_px);
    });
    if (!there) pen.question(at, kForceColour);
    seen.push_back(at);
    pen.text(below - Eigen::Vector2d(0, pen.px(kMarkLine_px * static_cast<double>(i))),
             "? " + mark.words, 18, 0, 1, false, kForceColour);
  }
}

}  // namespace

Picture tote_picture(const ToteView& input) {
  const scenes::Tote& tote = input.tote;
  const DrawnParts parts(tote.model.mesh);
  const CornerValues& value = input.colour.values;

  Picture picture;
  picture.view = bag_view();
  const View& view = picture.view;
  DrawnBag empty = draw_bag(tote, parts, input.empty_x_m, nullptr);
  DrawnBag loaded = draw_bag(tote, parts, input.loaded_x_m, &value);
  loaded.things = draw_things(tote, input.things);
  const Box empty_box = empty.box(view), loaded_box = loaded.box(view);
  const Eigen::Vector3d middle =
      0.5 * (empty.cloth.points.rowwise().minCoeff() + empty.cloth.points.rowwise().maxCoeff());
  const Cuts wide = cut_both(empty, loaded, Eigen::Vector3d::UnitY(), -Eigen::Vector3d::UnitX(),
                             middle.y(), view);
  const Cuts deep = cut_both(empty, loaded, Eigen::Vector3d::UnitX(), -Eigen::Vector3d::UnitY(),
                             middle.x(), view);
  const Box wide_box = wide.box(view), deep_box = deep.box(view);

  // Columns from left to right: empty, loaded, the two cuts; all at their true heights, so that
  // one level runs through the picture. The colour bar stands above the cuts, beside the straps.
  // In pixels: what does not scale with the bag, margins and lettering.
  constexpr double kLeft = 180, kBetween = 285, kAfterLoaded = 245, kBetweenCuts = 70, kRight = 50;
  constexpr double kTop = 45, kBarWords = 270;
  const double caption_px = 190 + kMarkLine_px * static_cast<double>(input.marks.size());
  const double content =
      empty_box.width() + loaded_box.width() + wide_box.width() + deep_box.width();
  const double mpp =
      content / (picture.width_px - kLeft - kBetween - kAfterLoaded - kBetweenCuts - kRight);
  const double bags_low = std::min({empty_box.low.y(), loaded_box.low.y(), wide_box.low.y()});
  const double bags_high = std::max({empty_box.high.y(), loaded_box.high.y(), wide_box.high.y()});
  picture.low_m = {0, bags_low - caption_px * mpp};
  const double bar_low = std::max(wide_box.high.y(), deep_box.high.y()) + 50 * mpp;
  const double bar_height = std::max(kInsetHeight_px * mpp, bags_high - 30 * mpp - bar_low);
  const double cuts_px =
      kLeft + kBetween + kAfterLoaded + (empty_box.width() + loaded_box.width()) / mpp;
  picture.width_px =
      std::max(picture.width_px, static_cast<int>(cuts_px + kBarWords + kInsetWidth_px));
  picture.high_m = {picture.width_px * mpp, std::max(bags_high, bar_low + bar_height) + kTop * mpp};
  Drafting pen(picture);

  const double empty_shift = kLeft * mpp - empty_box.low.x();
  const double empty_right = kLeft * mpp + empty_box.width();
  const double loaded_left = empty_right + kBetween * mpp;
  const double loaded_shift = loaded_left - loaded_box.low.x();
  const double loaded_right = loaded_left + loaded_box.width();
  const Eigen::Vector3d loaded_move = loaded_shift * view.right;
  empty.move(empty_shift * view.right);
  loaded.move(loaded_move);

  double largest = 0;
  picture.bar.low = 0;
  picture.bar.high = bar_top(tote, value, parts.cloth, largest);
  picture.bar.more_above = largest > picture.bar.high;
  picture.bar.title = input.colour.title;
  const double cuts_left = loaded_right + kAfterLoaded * mpp;
  const auto part = [&](double from, double to) {
    const double width = picture.high_m.x() - picture.low_m.x();
    picture.parts.push_back({std::max(0.0, from / width), std::min(1.0, to / width)});
  };
  constexpr double kBesideEmpty = 130;  // its dimensions; those of the loaded bag begin behind
  part(0, empty_right + kBesideEmpty * mpp);
  part(empty_right + kBesideEmpty * mpp, cuts_left - 12 * mpp);
  part(cuts_left - 12 * mpp, picture.high_m.x());
  picture.bar.corner_m = {cuts_left, bar_low};
  picture.bar.size_m = {26 * mpp, bar_height};
  picture.bar.shown = true;
  pen.label_colour_bar();

  add_bag(picture, empty);
  add_bag(picture, loaded);
  if (input.stitch_forces_N.cols() > 0) add_stitch_arrows(picture, input, loaded_move);

  if (input.stitch_forces_N.cols() > 0) {
    const StrapEndView seam = hardest_strap_end(tote, input.loaded_x_m, input.stitch_forces_N);
    add_stitch_inset(seam, {cuts_left + kBarWords * mpp, bar_low + bar_height}, input.units, pen);
  }

  // Captions.
  const double caption = bags_low - 34 * mpp;
  const double loaded_middle = 0.5 * (loaded_left + loaded_right);
  pen.text({0.5 * (kLeft * mpp + empty_right), caption}, "empty", 28, 0, 1, true);
  pen.text({loaded_middle, caption}, input.load_text, 28, 0, 1, true);
  if (input.converged) {
    pen.text({loaded_middle, caption - 44 * mpp},
             "bottom sag " + scenes::length_text(input.bottom_sag_m, input.units) + ", " +
                 scenes::length_text(input.overall_lengthening_m, input.units) + " longer overall",
             22, 0, 1);
  } else {
    pen.text({loaded_middle, caption - 44 * mpp}, "not in equilibrium: last good state", 22, 0, 1,
             true, kForceColour);
  }
  add_marks(pen, input, view, loaded_shift, {loaded_middle, caption - 78 * mpp});
  pen.scale_bar({kLeft * mpp, picture.low_m.y() + 34 * mpp}, 150, input.units);
  if (input.stitch_forces_N.cols() > 0) {
    pen.text({loaded_middle, picture.low_m.y() + 34 * mpp},
             "red: pull on the cloth at the stitches, up to " +
                 scenes::force_text(input.stitch_forces_N.colwise().norm().maxCoeff(), input.units),
             18, 0, 0, false, kSoftInk);
  }
  pen.text({loaded_middle, picture.low_m.y() + 62 * mpp}, input.colour.means, 18, 0, 0, false,
           kSoftInk);

  // Dimensions.
  add_strap_drop(pen, input, input.empty_x_m, view, empty_shift, kLeft * mpp - 22 * mpp,
                 input.strap_drop_empty_m);
  add_strap_drop(pen, input, input.loaded_x_m, view, loaded_shift, loaded_left - 22 * mpp,
                 input.strap_drop_loaded_m);
  const scenes::BaseShape base = scenes::base_shape(tote.model.mesh, input.loaded_x_m);
  const scenes::BaseShape base_empty = scenes::base_shape(tote.model.mesh, input.empty_x_m);
  const double rise =
      base.has_base ? base.below_outline_m() : base_empty.lowest.z() - base.lowest.z();
  if (rise > 0) {
    const Eigen::Vector2d low = view.flat(base.lowest);
    const std::string words =
        base.has_base
            ? "base hangs\n" + scenes::length_text(rise, input.units) + " below\nits outline"
            : scenes::length_text(rise, input.units) + " lower";
    pen.vertical_dimension(loaded_right + 22 * mpp, low.y(), low.y() + rise * view.up.z(),
                           low.x() + loaded_shift, words, true);
  }

  // What the loaded bag's dimension has to be compared with.
  constexpr double kSeen_m = 0.4e-3;  // half a thirty-second of an inch: less is not seen
  if (base_empty.has_base && base_empty.below_outline_m() > kSeen_m) {
    const Eigen::Vector2d low = view.flat(base_empty.lowest);
    const double dip = base_empty.below_outline_m();
    pen.vertical_dimension(empty_right + 22 * mpp, low.y(), low.y() + dip * view.up.z(),
                           low.x() + empty_shift, scenes::length_text(dip, input.units), false);
  }

  // Cuts.
  const auto place = [&](Cuts cuts, const Box& box, double left, const std::string& words) {
    pen.text({left + 0.5 * box.width(), caption}, words, 22, 0, 1);
    cuts.move((left - box.low.x()) * view.right);
    add_cuts(picture, cuts);
  };
  const double deep_left = cuts_left + wide_box.width() + kBetweenCuts * mpp;
  if (!wide.loaded.empty()) place(wide, wide_box, cuts_left, "cut along its width");
  if (!deep.loaded.empty()) place(deep, deep_box, deep_left, "front to back");
  const double legend_v = picture.low_m.y() + 34 * mpp;
  const double legend_u = cuts_left;
  pen.line({{legend_u, legend_v}, {legend_u + 9 * mpp, legend_v}}, kSoftInk, 1.8);
  for (const int dash : {1, 2}) {
    const double u = legend_u + 15 * dash * mpp;
    pen.line({{u, legend_v}, {u + 9 * mpp, legend_v}}, kSoftInk, 1.8);
  }
  pen.text({legend_u + 52 * mpp, legend_v}, "empty", 20, -1, 0);
  pen.line({{legend_u + 150 * mpp, legend_v}, {legend_u + 190 * mpp, legend_v}}, kInk, 2.6);
  pen.text({legend_u + 202 * mpp, legend_v}, "loaded", 20, -1, 0);
  pen.text({legend_u, legend_v + 28 * mpp},
           "a line ends at the opening, or where cloth lies folded", 18, -1, 0, false, kSoftInk);
  return picture;
}

}  // namespace totebench::viz
