#include "totebench/viz/standing_picture.hpp"

#include <algorithm>

#include "totebench/viz/compare_picture.hpp"
#include "totebench/viz/drawn_bag.hpp"
#include "viz/pictures/drafting.hpp"

namespace totebench::viz {
namespace {

constexpr double kTableAround_m = 0.04;  // of table around the bag

struct DrawnView {
  DrawnBag bag;
  Cuts cut;
  Box bag_box, cut_box;
};

bool is_table(const scenes::Tote& tote, std::size_t body) {
  const solver::Body& its = tote.model.bodies[body];
  return its.fixed && its.skin.round == solver::BodySkin::Round::kNone;
}

}  // namespace

scenes::Tote with_table_trimmed(scenes::Tote tote, const solver::State& state) {
  const Eigen::Vector3d low = state.x.rowwise().minCoeff().array() - kTableAround_m;
  const Eigen::Vector3d high = state.x.rowwise().maxCoeff().array() + kTableAround_m;
  for (std::size_t b = 0; b < tote.model.bodies.size(); ++b) {
    if (!is_table(tote, b)) continue;
    Eigen::Matrix3Xd& points = tote.model.bodies[b].skin.point_m;
    const Eigen::Vector3d middle = state.bodies[b].position;
    for (Eigen::Index i = 0; i < points.cols(); ++i) {
      for (int axis = 0; axis < 2; ++axis) {
        points(axis, i) =
            std::clamp(points(axis, i), low[axis] - middle[axis], high[axis] - middle[axis]);
      }
    }
  }
  return tote;
}

Picture standing_picture(const Eigen::Matrix3Xd& as_placed, const std::vector<StoodView>& views,
                         const std::string& units) {
  // In pixels: what does not scale with the bags.
  constexpr double kEdge_px = 60, kBetweenViews_px = 90, kAbove_px = 40, kWords_px = 120,
                   kBelow_px = 90, kColumn_px = 620;
  Picture picture;
  picture.view = bag_view();
  const View& view = picture.view;
  std::vector<DrawnView> columns;
  double widest = 0, tallest_bag = 0, tallest_cut = 0;
  for (const StoodView& one : views) {
    const scenes::Tote tote = with_table_trimmed(one.tote, one.state);
    const DrawnParts parts(tote.model.mesh);
    const DrawnBag placed = draw_bag(tote, parts, as_placed, nullptr);
    DrawnView column;
    column.bag = draw_bag(tote, parts, one.state.x, nullptr);
    column.bag.things = draw_things(tote, one.state.bodies);
    column.cut = cut_both(placed, column.bag, Eigen::Vector3d::UnitX(), -Eigen::Vector3d::UnitY(),
                          1e-5, view);
    column.bag_box = column.bag.box(view);
    column.bag_box.add(column.bag.things.points, view);
    column.cut_box = column.cut.box(view);
    widest = std::max({widest, column.bag_box.width(), column.cut_box.width()});
    tallest_bag = std::max(tallest_bag, column.bag_box.height());
    tallest_cut = std::max(tallest_cut, column.cut_box.height());
    columns.push_back(std::move(column));
  }
  const auto n = static_cast<double>(columns.size());
  picture.width_px = static_cast<int>(2 * kEdge_px + n * kColumn_px + (n - 1) * kBetweenViews_px);
  const double mpp = widest / kColumn_px;
  picture.low_m = {0, 0};
  picture.high_m = {picture.width_px * mpp,
                    tallest_bag + tallest_cut + (kAbove_px + kWords_px + kBelow_px) * mpp};
  Drafting pen(picture);
  const double table = picture.high_m.y() - kAbove_px * mpp - tallest_bag;  // foot of all bags
  for (std::size_t i = 0; i < columns.size(); ++i) {
    DrawnView& column = columns[i];
    const double centre =
        (kEdge_px + kColumn_px / 2 + static_cast<double>(i) * (kColumn_px + kBetweenViews_px)) *
        mpp;
    const auto move_to = [&](const Box& box, double low) {
      Eigen::Vector3d by = (centre - 0.5 * (box.low.x() + box.high.x())) * view.right +
                           (low - box.low.y()) * view.up;
      return by;
    };
    column.bag.move(move_to(column.bag_box, table));
    add_bag(picture, column.bag);
    pen.text({centre, table - 20 * mpp}, views[i].label, 26, 0, 1, true);
    pen.text({centre, table - 58 * mpp}, views[i].caption, 22, 0, 1);
    column.cut.move(move_to(column.cut_box, kBelow_px * mpp));
    add_cuts(picture, column.cut);
    const double half = (kColumn_px + kBetweenViews_px / 2) / 2 * mpp;
    picture.parts.push_back({std::max(0.0, (centre - half) / picture.high_m.x()),
                             std::min(1.0, (centre + half) / picture.high_m.x())});
  }
  const double foot = 34 * mpp;
  pen.scale_bar({kEdge_px * mpp, foot}, 150, units);
  pen.text({(kEdge_px + 270) * mpp, foot},
           wrapped("below: cut from front to back, dashed as the pattern has the walls",
                   columns.size() > 1 ? 80 : 36, 2),
           20, -1, 0, false, kSoftInk);
  return picture;
}

}  // namespace totebench::viz
