#include "viz/pictures/sheet_picture.hpp"

#include <algorithm>
#include <numbers>
#include <numeric>

#include "totebench/scenes/unit_text.hpp"
#include "totebench/viz/tessellate.hpp"
#include "viz/pictures/drafting.hpp"

namespace totebench::viz {
namespace {

const Colour kSeam{0.25, 0.23, 0.22};
const Colour kWarning{0.80, 0.15, 0.12};

}  // namespace

Picture sheet_picture(const SheetView& input) {
  const solver::ShellMesh& mesh = input.mesh;
  const scenes::ShownUnit unit = scenes::length_unit(input.units);
  std::vector<int> all(mesh.triangles.size());
  std::iota(all.begin(), all.end(), 0);
  const std::vector<int> one_group(all.size(), 0);
  CornerValues moved(all.size());
  for (const int t : all) {
    for (int c = 0; c < 3; ++c) {
      const int node = mesh.triangles[t].node[c];
      moved[t][c] = (input.loaded_x_m.col(node) - mesh.position.col(node)).norm() * unit.per_SI;
    }
  }

  Picture picture;
  picture.width_px = 1500;
  picture.view = view_from(-28 * std::numbers::pi / 180, 20 * std::numbers::pi / 180);
  const View& view = picture.view;
  const DrawnSurface loaded = tessellate(mesh, input.loaded_x_m, all, one_group, &moved);
  const DrawnSurface start = tessellate(mesh, mesh.position, all, one_group);

  Eigen::Vector2d low{1e9, 1e9}, high{-1e9, -1e9};
  for (const DrawnSurface* surface : {&loaded, &start}) {
    for (Eigen::Index i = 0; i < surface->points.cols(); ++i) {
      const Eigen::Vector2d p = view.flat(surface->points.col(i));
      low = low.cwiseMin(p);
      high = high.cwiseMax(p);
    }
  }
  constexpr double kLeft = 110, kBar = 330, kTop = 120, kBottom = 130, kLeastHeight = 620;
  const double mpp = std::max((high.x() - low.x()) / (picture.width_px - kLeft - kBar),
                              (high.y() - low.y()) / 900);
  const double middle_u = 0.5 * (low.x() + high.x());
  const double middle_v = 0.5 * (low.y() + high.y());
  const double half_v = 0.5 * std::max(high.y() - low.y(), (kLeastHeight - kTop - kBottom) * mpp);
  picture.low_m.x() = middle_u - 0.5 * (picture.width_px - kLeft - kBar) * mpp - kLeft * mpp;
  picture.high_m.x() = picture.low_m.x() + picture.width_px * mpp;
  picture.low_m.y() = middle_v - half_v - kBottom * mpp;
  picture.high_m.y() = middle_v + half_v + kTop * mpp;
  Drafting pen(picture);

  ColourBar& bar = picture.bar;
  bar.low = 0;
  bar.high = loaded.value.empty() ? 0 : *std::max_element(loaded.value.begin(), loaded.value.end());
  if (!(bar.high > 0)) bar.high = 1;
  bar.title = "moved by,\n" + unit.name;
  bar.size_m = {26 * mpp, std::min(1.6 * half_v, 380 * mpp)};
  bar.corner_m = {picture.high_m.x() - (kBar - 90) * mpp, middle_v - 0.5 * bar.size_m.y()};
  bar.shown = true;
  pen.label_colour_bar();

  picture.surfaces.push_back(loaded);
  picture.lines.push_back(
      {panel_outlines(mesh, input.loaded_x_m, all, one_group), kSeam, 1.6, false});
  picture.lines.push_back(
      {dashed(panel_outlines(mesh, mesh.position, all, one_group), 9 * mpp, 6 * mpp), kSoftInk, 1.6,
       false});
  for (std::size_t i = 0; i < input.probe_nodes.size() && i < input.probe_names.size(); ++i) {
    const int node = input.probe_nodes[i];
    const Eigen::Vector2d from = view.flat(mesh.position.col(node));
    const Eigen::Vector2d to = view.flat(input.loaded_x_m.col(node));
    const double length = (input.loaded_x_m.col(node) - mesh.position.col(node)).norm();
    std::vector<Eigen::Vector2d> way = {from, to};
    if (i < input.probe_ways_m.size() && input.probe_ways_m[i].cols() > 1) {
      way.clear();
      for (Eigen::Index k = 0; k < input.probe_ways_m[i].cols(); ++k) {
        way.push_back(view.flat(input.probe_ways_m[i].col(k)));
      }
    }
    pen.line(way, kWarning, 1.6);
    for (const Eigen::Vector2d& p : way) {  // a cross at each computed step
      const double arm = 4 * mpp;
      pen.line({p - Eigen::Vector2d(arm, 0), p + Eigen::Vector2d(arm, 0)}, kWarning, 1.6);
      pen.line({p - Eigen::Vector2d(0, arm), p + Eigen::Vector2d(0, arm)}, kWarning, 1.6);
    }
    pen.text(to + Eigen::Vector2d(44 * mpp, -6 * mpp),
             input.probe_names[i] + ": " + scenes::length_text(length, input.units), 20, -1, 1);
  }
  const double left = picture.low_m.x() + 40 * mpp;
  pen.text({left, picture.high_m.y() - 34 * mpp}, input.title, 26, -1, 1, true);
  if (!input.converged) {
    pen.text({left, picture.high_m.y() - 74 * mpp}, "not in equilibrium: last good state", 22, -1,
             1, true, kWarning);
  }
  const double foot = picture.low_m.y() + 34 * mpp;
  pen.scale_bar({left, foot}, 150, input.units);
  pen.text({left + 420 * mpp, foot},
           "dashed: start     coloured: loaded     red: the way of a probe, a cross at each step",
           20, -1, 0, false, kSoftInk);
  return picture;
}

}  // namespace totebench::viz
