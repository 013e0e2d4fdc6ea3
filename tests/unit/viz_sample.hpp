// A made-up tote for the tests of files and pictures: an open box with two straps, and a loaded
// shape drawn by formula. Nothing in it is a solution of anything.
#pragma once

#include <cmath>
#include <functional>
#include <numbers>
#include <string>
#include <vector>

#include "totebench/scenes/build.hpp"

namespace totebench::sample {

struct SampleTote {
  scenes::Tote tote;
  Eigen::Matrix3Xd empty_x_m, loaded_x_m;
  solver::ShellFields fields;
  Eigen::Matrix3Xd stitch_forces_N;
};

class SampleBuilder {
 public:
  // A patch of n x m quads, each cut in two triangles.
  void patch(int n, int m, int region, const std::string& part,
             const std::function<Eigen::Vector3d(double, double)>& at) {
    const int first_part = static_cast<int>(tote.triangle_part.size());
    tote.triangle_part.push_back(part);
    std::vector<int> grid;
    for (int j = 0; j <= m; ++j) {
      for (int i = 0; i <= n; ++i) grid.push_back(corner(at(double(i) / n, double(j) / m)));
    }
    for (int j = 0; j < m; ++j) {
      for (int i = 0; i < n; ++i) {
        const int a = grid[j * (n + 1) + i], b = grid[j * (n + 1) + i + 1];
        const int c = grid[(j + 1) * (n + 1) + i], d = grid[(j + 1) * (n + 1) + i + 1];
        for (const auto& t : {std::array<int, 3>{a, b, d}, std::array<int, 3>{a, d, c}}) {
          corners.push_back(t);
          regions.push_back(region);
          tote.part.push_back(first_part);
        }
      }
    }
  }
  void finish() {
    Eigen::Matrix3Xd positions(3, static_cast<Eigen::Index>(points.size()));
    for (std::size_t i = 0; i < points.size(); ++i) positions.col(i) = points[i];
    tote.model.mesh = solver::second_order_mesh(positions, corners);
    const std::size_t n = corners.size();
    for (std::size_t t = 0; t < n; ++t) tote.model.mesh.triangles[t].region = regions[t];
    // Up the walls and straps, along the width of the base.
    tote.model.mesh.warp.assign(n, Eigen::Vector3d::UnitZ());
    for (std::size_t t = 0; t < n; ++t) {
      if (regions[t] == scenes::kRegionBase) tote.model.mesh.warp[t] = Eigen::Vector3d::UnitX();
    }
    tote.thickness_m.assign(n, 0.8e-3);
    tote.strength_warp_N_per_m.assign(n, 20e3);
    tote.strength_weft_N_per_m.assign(n, 14e3);
  }
  scenes::Tote tote;

 private:
  int corner(const Eigen::Vector3d& p) {
    // Straps meet panels by stitches only: weld within the bag, not across.
    for (std::size_t i = 0; i < points.size(); ++i) {
      if ((points[i] - p).norm() < 1e-9) return static_cast<int>(i);
    }
    points.push_back(p);
    return static_cast<int>(points.size()) - 1;
  }
  std::vector<Eigen::Vector3d> points;
  std::vector<std::array<int, 3>> corners;
  std::vector<int> regions;
};

inline SampleTote make_sample() {
  constexpr double w = 0.34, d = 0.15, h = 0.36, strap_w = 0.03, drop = 0.26, reach = 0.08;
  SampleBuilder b;
  const double x0 = -w / 2, y0 = -d / 2;
  const int n = 16, m = 7, k = 16;
  b.patch(n, k, scenes::kRegionUpper, "front",
          [&](double s, double t) { return Eigen::Vector3d(x0 + s * w, y0, t * h); });
  b.patch(n, k, scenes::kRegionUpper, "back",
          [&](double s, double t) { return Eigen::Vector3d(-x0 - s * w, -y0, t * h); });
  b.patch(m, k, scenes::kRegionUpper, "side right",
          [&](double s, double t) { return Eigen::Vector3d(-x0, y0 + s * d, t * h); });
  b.patch(m, k, scenes::kRegionUpper, "side left",
          [&](double s, double t) { return Eigen::Vector3d(x0, -y0 - s * d, t * h); });
  b.patch(n, m, scenes::kRegionBase, "base",
          [&](double s, double t) { return Eigen::Vector3d(x0 + s * w, -y0 - t * d, 0); });
  for (const double side : {-1.0, 1.0}) {
    b.patch(40, 2, scenes::kRegionStrap, side < 0 ? "strap front" : "strap back",
            [&](double s, double t) {
              // Straight up from the panel, a half circle-like arch, straight down again.
              const double a = std::numbers::pi * (1 - s);
              const double span = 0.15;
              const double z =
                  s < 0.15 || s > 0.85
                      ? h - reach + reach * (s < 0.5 ? s : 1 - s) / 0.15
                      : h + drop * std::pow(std::sin(std::numbers::pi * (s - 0.15) / 0.7), 0.6);
              const double across = (t - 0.5) * strap_w;
              const double centre = span / 2 *
                                    (s < 0.15   ? -1
                                     : s > 0.85 ? 1
                                                : -std::cos(std::numbers::pi * (s - 0.15) / 0.7));
              const double lean = s < 0.15 || s > 0.85 ? 0 : (z - h) / drop;
              const double top =
                  s < 0.15 || s > 0.85 ? 0 : std::sin(std::numbers::pi * (s - 0.15) / 0.7);
              (void)a;
              return Eigen::Vector3d(centre + across * (1 - top) * (s < 0.5 ? 1 : -1),
                                     side * (-y0 + 1e-6) * (1 - 0.85 * lean), z + across * top);
            });
  }
  b.finish();
  SampleTote sample;
  sample.tote = std::move(b.tote);
  scenes::Tote& tote = sample.tote;
  solver::ShellMesh& mesh = tote.model.mesh;
  for (const solver::Triangle& t : mesh.triangles) {
    if (t.region != scenes::kRegionBase) continue;
    for (int e = 0; e < 3; ++e) {
      const int p = t.node[e], q = t.node[(e + 1) % 3];
      const auto on_border = [&](int i) {
        return std::abs(std::abs(mesh.position(0, i)) - w / 2) < 1e-9 ||
               std::abs(std::abs(mesh.position(1, i)) - d / 2) < 1e-9;
      };
      const bool along = std::abs(mesh.position(0, p) - mesh.position(0, q)) < 1e-9 ||
                         std::abs(mesh.position(1, p) - mesh.position(1, q)) < 1e-9;
      if (along && on_border(p) && on_border(q)) {
        mesh.labelled_edges.push_back({p, q, scenes::kEdgeBaseOutline});
      }
    }
  }
  // Stitches: two rows of five at each strap end.
  const auto nearest = [&](const Eigen::Vector3d& p, const std::string& part) {
    solver::SurfacePoint best;
    double least = 1e9;
    for (int t = 0; t < mesh.n_triangles(); ++t) {
      if (tote.triangle_part[tote.part[t]] != part) continue;
      Eigen::Vector3d centre = Eigen::Vector3d::Zero();
      for (int c = 0; c < 3; ++c) centre += mesh.position.col(mesh.triangles[t].node[c]) / 3;
      if ((centre - p).norm() < least) {
        least = (centre - p).norm();
        best = {t, 1.0 / 3, 1.0 / 3};
      }
    }
    return best;
  };
  for (const double side : {-1.0, 1.0}) {
    for (const double x : {-0.075, 0.075}) {
      scenes::AttachmentSite site;
      site.name = std::string(side < 0 ? "front" : "back") + (x < 0 ? " left" : " right");
      for (int row = 0; row < 2; ++row) {
        for (int i = 0; i < 3; ++i) {
          const Eigen::Vector3d p(x + 0.011 * (i - 1), side * d / 2, h - 0.02 - 0.04 * row);
          site.stitches.push_back(static_cast<int>(tote.model.stitches.size()));
          site.stitch_row_m.push_back(0.04 * row);
          tote.model.stitches.push_back({nearest(p, side < 0 ? "strap front" : "strap back"),
                                         nearest(p, side < 0 ? "front" : "back"), 1e5,
                                         static_cast<int>(tote.attachments.size())});
        }
      }
      tote.attachments.push_back(site);
    }
    const char* panel = side < 0 ? "front" : "back";
    tote.strap_feet.push_back(
        {nearest({-0.075, side * d / 2, h}, panel), nearest({0.075, side * d / 2, h}, panel)});
    tote.strap_midpoints.push_back(
        nearest({0, side * 0.01, h + drop}, side < 0 ? "strap front" : "strap back"));
  }
  // Shapes: empty sags a little under itself, loaded a good deal; walls are drawn in.
  const auto hang = [&](double sag, double pull, double stretch) {
    Eigen::Matrix3Xd x = mesh.position;
    for (Eigen::Index i = 0; i < x.cols(); ++i) {
      const double u = x(0, i) / (w / 2), v = x(1, i) / (d / 2), z = x(2, i) / h;
      if (z > 1) continue;
      const double bow = std::max(0.0, 1 - u * u) * std::max(0.0, 1 - v * v);
      const double low = std::max(0.0, 1 - z);
      x(0, i) -= pull * u * 4 * z * (1 - z) * std::max(0.0, 1 - v * v);
      x(1, i) += 0.6 * pull * v * 4 * z * (1 - z) * std::max(0.0, 1 - u * u);
      x(2, i) -= stretch * low + (z < 1e-9 ? sag * bow : 0) + 0.3 * sag * low * (1 - u * u);
    }
    return x;
  };
  sample.empty_x_m = hang(0.003, 0.004, 0.0);
  sample.loaded_x_m = hang(0.026, 0.016, 0.008);
  const int count = mesh.n_triangles();
  sample.fields.membrane_strain.assign(count, Eigen::Matrix3d::Zero());
  sample.fields.curvature.assign(count, Eigen::Matrix3d::Zero());
  sample.fields.bending_moment.assign(count, Eigen::Matrix3d::Constant(0.01));
  sample.fields.axes.resize(count);
  sample.fields.membrane_force.resize(count);
  for (int t = 0; t < count; ++t) {
    const auto& node = mesh.triangles[t].node;
    const Eigen::Vector3d a = mesh.position.col(node[0]);
    const Eigen::Vector3d e = (mesh.position.col(node[1]) - a).normalized();
    Eigen::Vector3d f = mesh.position.col(node[2]) - a;
    f = (f - f.dot(e) * e).normalized();
    sample.fields.axes[t] << e, f;
    for (int q = 0; q < 3; ++q) {
      const Eigen::Vector3d p = mesh.position.col(node[q]);
      double force = 40;
      for (const double cx : {-0.075, 0.075}) {
        force += 500 *
                 std::exp(-(Eigen::Vector2d(p.x() - cx, 0.7 * (p.z() - h + 0.06)).norm()) / 0.05) *
                 (std::abs(std::abs(p.y()) - d / 2) < 1e-3 ? 1 : 0.2);
      }
      sample.fields.membrane_force[t].col(q) << force, 0.3 * force, 0.1 * force;
    }
  }
  sample.stitch_forces_N.resize(3, static_cast<Eigen::Index>(tote.model.stitches.size()));
  for (std::size_t i = 0; i < tote.model.stitches.size(); ++i) {
    const bool low_row = (i % 6) >= 3;
    sample.stitch_forces_N.col(i) << 0, 0, low_row ? 4.7 : 1.6;
  }
  return sample;
}

}  // namespace totebench::sample
