#include "viz/pictures/stitch_inset.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "totebench/scenes/unit_text.hpp"
#include "totebench/viz/drawn_bag.hpp"
#include "totebench/viz/fields.hpp"

namespace totebench::viz {
namespace {

using Eigen::Vector2d;
using Eigen::Vector3d;

constexpr double kAround_m = 8e-3;  // of the strap shown beyond the stitches

// Columns: right, up, out, as someone sees it who stands before the strap end.
Eigen::Matrix3d seen_frame(const solver::ShellMesh& mesh, const Eigen::Matrix3Xd& x,
                           const solver::Stitch& stitch) {
  const Eigen::Matrix3d local = stitch_frame(mesh, x, stitch);
  const Vector3d up = local(2, 0) < 0 ? Vector3d(-local.col(0)) : Vector3d(local.col(0));
  Eigen::Matrix3d frame;
  frame << up.cross(local.col(2)), up, local.col(2);
  return frame;
}

// Parts of the lines between points that both lie within `reach` of the middle.
void keep_near(const Eigen::Matrix2Xd& line, const Vector2d& reach,
               std::vector<Eigen::Matrix2Xd>& kept) {
  std::vector<Vector2d> run;
  const auto flush = [&] {
    if (run.size() > 1) {
      Eigen::Matrix2Xd part(2, static_cast<Eigen::Index>(run.size()));
      for (std::size_t i = 0; i < run.size(); ++i) part.col(static_cast<Eigen::Index>(i)) = run[i];
      kept.push_back(part);
    }
    run.clear();
  };
  for (Eigen::Index i = 0; i < line.cols(); ++i) {
    if ((line.col(i).array().abs() <= reach.array()).all()) {
      run.emplace_back(line.col(i));
    } else {
      flush();
    }
  }
  flush();
}

void add_arrow(const Vector2d& from, const Vector2d& way, Drafting& pen) {
  const double length = way.norm();
  if (length < pen.px(2)) return;  // no longer than it is thick
  const Vector2d tip = from + way, along = way / length, side(-along.y(), along.x());
  const double head = std::min(pen.px(8), 0.6 * length);
  pen.line({from, tip}, kForceColour, 2.2);
  pen.line({tip - head * along + 0.5 * head * side, tip, tip - head * along - 0.5 * head * side},
           kForceColour, 2.2);
}

void add_dot(const Vector2d& at, Drafting& pen) {
  const double half = pen.px(1.5);
  pen.line({at - Vector2d(half, 0), at + Vector2d(half, 0)}, kInk, 3);
}

}  // namespace

double StrapEndView::largest_shear_N() const {
  double most = 0;
  for (const Vector3d& pull : pulls_N) most = std::max(most, pull.head<2>().norm());
  return most;
}

double StrapEndView::largest_peel_N() const {
  double most = 0;
  for (const Vector3d& pull : pulls_N) most = std::max(most, pull.z());
  return most;
}

StrapEndView hardest_strap_end(const scenes::Tote& tote, const Eigen::Matrix3Xd& x,
                               const Eigen::Matrix3Xd& forces_N) {
  StrapEndView seam;
  const scenes::AttachmentSite* hardest = nullptr;
  double most = 0;
  for (const scenes::AttachmentSite& site : tote.attachments) {
    for (const int i : site.stitches) {
      if (i >= forces_N.cols() || forces_N.col(i).norm() <= most) continue;
      most = forces_N.col(i).norm();
      hardest = &site;
    }
  }
  if (hardest == nullptr) return seam;
  seam.name = hardest->name;
  const solver::ShellMesh& mesh = tote.model.mesh;
  Vector3d middle = Vector3d::Zero(), up = Vector3d::Zero(), out = Vector3d::Zero();
  const auto n = static_cast<double>(hardest->stitches.size());
  for (const int i : hardest->stitches) {
    const solver::Stitch& stitch = tote.model.stitches[i];
    const Eigen::Matrix3d frame = seen_frame(mesh, x, stitch);
    middle += solver::position_of(mesh, x, stitch.b) / n;
    up += frame.col(1);
    out += frame.col(2);
    seam.pulls_N.emplace_back(frame.transpose() * forces_N.col(i));
  }
  out.normalize();
  up = (up - up.dot(out) * out).normalized();
  const Vector3d right = up.cross(out);
  const auto flat = [&](const Vector3d& p) -> Vector2d {
    return {(p - middle).dot(right), (p - middle).dot(up)};
  };
  Vector2d reach(kAround_m, kAround_m);
  for (const int i : hardest->stitches) {
    seam.places_m.push_back(flat(solver::position_of(mesh, x, tote.model.stitches[i].b)));
    reach = reach.cwiseMax(seam.places_m.back().cwiseAbs() + Vector2d::Constant(kAround_m));
  }
  const int strap = tote.part[tote.model.stitches[hardest->stitches.front()].a.triangle];
  std::vector<int> of_strap;
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    if (tote.part[t] == strap) of_strap.push_back(t);
  }
  for (const Eigen::Matrix3Xd& line : panel_outlines(mesh, x, of_strap, tote.part)) {
    Eigen::Matrix2Xd flat_line(2, line.cols());
    for (Eigen::Index i = 0; i < line.cols(); ++i) flat_line.col(i) = flat(line.col(i));
    keep_near(flat_line, reach, seam.strap_m);
  }
  return seam;
}

void add_stitch_inset(const StrapEndView& seam, const Vector2d& corner, const std::string& units,
                      Drafting& pen) {
  constexpr double kFront_px = 140, kSide_px = 90, kTitle_px = 62, kPulls_px = 115, kArrow_px = 50;
  double shear = seam.largest_shear_N(), peel = seam.largest_peel_N();
  if (seam.name.empty() || !(std::max(shear, peel) > 0)) return;
  Vector2d reach = Vector2d::Constant(kAround_m);
  for (const Vector2d& p : seam.places_m) reach = reach.cwiseMax(p.cwiseAbs());
  const double enlarged =
      std::min(pen.px(kFront_px - 40) / (2 * reach.x()), pen.px(kPulls_px) / (2 * reach.y()));
  double longest = 0;
  for (const Vector3d& pull : seam.pulls_N) longest = std::max(longest, pull.norm());
  const double per_N = pen.px(kArrow_px) / longest;

  pen.text(corner, "strap end pulled hardest:\n" + seam.name, 20, -1, 1);
  const Vector2d front =
      corner + Vector2d(pen.px(0.5 * kFront_px), -pen.px(kTitle_px + kArrow_px + 0.5 * kPulls_px));
  const Vector2d side = front + Vector2d(pen.px(0.5 * kFront_px + kSide_px), 0);
  for (const Eigen::Matrix2Xd& line : seam.strap_m) {
    std::vector<Vector2d> places;
    for (Eigen::Index i = 0; i < line.cols(); ++i)
      places.emplace_back(front + enlarged * line.col(i));
    pen.line(places, kSoftInk, 1.4);
  }
  const double half = enlarged * reach.y() + pen.px(16);
  pen.line({side - Vector2d(0, half), side + Vector2d(0, half)}, kSoftInk, 1.4);
  for (std::size_t i = 0; i < seam.places_m.size(); ++i) {
    const Vector2d at = front + enlarged * seam.places_m[i];
    const Vector2d beside = side + Vector2d(0, enlarged * seam.places_m[i].y());
    add_dot(at, pen);
    add_dot(beside, pen);
    add_arrow(at, per_N * seam.pulls_N[i].head<2>(), pen);
    add_arrow(beside, {per_N * seam.pulls_N[i].z(), 0}, pen);
  }
  const double below = corner.y() - pen.px(kTitle_px + kArrow_px + kPulls_px + 36);
  pen.text({front.x(), below}, "shear up to\n" + scenes::force_text(shear, units), 18, 0, 1);
  pen.text({side.x(), below}, "peel (right)\nup to " + scenes::force_text(peel, units), 18, 0, 1);
}

}  // namespace totebench::viz
