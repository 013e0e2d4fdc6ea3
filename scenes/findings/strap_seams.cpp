#include "totebench/scenes/strap_seams.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <set>

namespace totebench::scenes {
namespace {

using Eigen::Vector3d;

// Current direction of rest axis 1 (along the strap) at a point of a ribbon.
Vector3d along_strap(const solver::ShellMesh& mesh, const solver::State& state,
                     const solver::SurfacePoint& point) {
  const Eigen::Matrix<double, 6, 2> gradient = solver::shape_gradient(point.xi, point.eta);
  Eigen::Matrix<double, 3, 6> x;
  for (int n = 0; n < 6; ++n) x.col(n) = state.x.col(mesh.triangles[point.triangle].node[n]);
  const Eigen::Matrix<double, 3, 2> tangent = x * gradient;
  const Eigen::Matrix2d rest = (mesh.rest[point.triangle] * gradient).topRows<2>();
  return (tangent * rest.inverse()).col(0).normalized();
}

}  // namespace

double largest_principal(const Vector3d& n) {
  return 0.5 * (n[0] + n[1]) + std::hypot(0.5 * (n[0] - n[1]), n[2]);
}

Eigen::Matrix3Xd triangle_mean(const std::vector<Eigen::Matrix3d>& at_points) {
  Eigen::Matrix3Xd mean(3, static_cast<Eigen::Index>(at_points.size()));
  for (std::size_t i = 0; i < at_points.size(); ++i) {
    mean.col(static_cast<Eigen::Index>(i)) = at_points[i].rowwise().mean();
  }
  return mean;
}

std::vector<int> panel_beside(const Tote& tote, const AttachmentSite& site) {
  const solver::ShellMesh& mesh = tote.model.mesh;
  std::set<int> nodes;
  for (const int s : site.stitches) {
    const auto& node = mesh.triangles[tote.model.stitches[s].b.triangle].node;
    nodes.insert(node.begin(), node.end());
  }
  std::vector<int> beside;
  for (int i = 0; i < mesh.n_triangles(); ++i) {
    const auto& node = mesh.triangles[i].node;
    if (std::any_of(node.begin(), node.end(), [&](int n) { return nodes.count(n) != 0; })) {
      beside.push_back(i);
    }
  }
  return beside;
}

double hardest_stitch_N(const solver::Model& model, const solver::State& state) {
  return model.stitches.empty() ? 0
                                : solver::stitch_forces(model, state).colwise().norm().maxCoeff();
}

std::vector<StrapSeamFinding> strap_seam_findings(const Tote& tote, const solver::State& state,
                                                  const Eigen::Matrix3Xd& panel_force) {
  const solver::Model& model = tote.model;
  const Eigen::Matrix3Xd force = solver::stitch_forces(model, state);
  std::vector<StrapSeamFinding> findings;
  for (const AttachmentSite& site : tote.attachments) {
    StrapSeamFinding found;
    found.name = site.name;
    double along = 0;
    double across = 0;
    double peel = 0;
    double sum = 0;
    for (const int s : site.stitches) {
      const solver::Stitch& stitch = model.stitches[s];
      const Vector3d f = force.col(s);
      found.force_N += f;
      sum += f.norm();
      if (f.norm() > found.peak_stitch_N) {
        found.peak_stitch_N = f.norm();
        found.peak_stitch = s;
      }
      const Vector3d normal = solver::normal_of(model.mesh, state.x, stitch.b);
      Vector3d direction = along_strap(model.mesh, state, stitch.a);
      direction = (direction - direction.dot(normal) * normal).normalized();
      along += std::abs(f.dot(direction));
      across += std::abs(f.dot(normal.cross(direction)));
      peel += std::max(f.dot(normal), 0.0);
    }
    const double line = std::max(site.line_length_m, site.stitch_length_m);
    found.mean_stitch_N =
        site.stitches.empty() ? 0 : sum / static_cast<double>(site.stitches.size());
    found.peak_N_per_m = found.peak_stitch_N / site.stitch_length_m;
    found.mean_N_per_m = found.force_N.norm() / line;
    found.shear_along_N_per_m = along / line;
    found.shear_across_N_per_m = across / line;
    found.peel_N_per_m = peel / line;
    for (const int i : panel_beside(tote, site)) {
      found.panel_force_N_per_m =
          std::max(found.panel_force_N_per_m, largest_principal(panel_force.col(i)));
    }
    findings.push_back(found);
  }
  return findings;
}

}  // namespace totebench::scenes
