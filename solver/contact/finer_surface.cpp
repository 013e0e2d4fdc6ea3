#include "solver/contact/finer_surface.hpp"

#include "solver/contact/contact_search.hpp"

namespace totebench::solver {
namespace {

// The place of a material point on its triangle's flat part.
Eigen::Vector3d on_flat_part(const Eigen::Matrix3Xd& x, const std::array<int, 6>& node, double xi,
                             double eta) {
  const auto linear = [&](int a, int b, int c, double u, double v) -> Eigen::Vector3d {
    return (1 - u - v) * x.col(node[a]) + u * x.col(node[b]) + v * x.col(node[c]);
  };
  if (xi + eta <= 0.5) return linear(0, 3, 5, 2 * xi, 2 * eta);
  if (xi >= 0.5) return linear(3, 1, 4, 2 * xi - 1, 2 * eta);
  if (eta >= 0.5) return linear(5, 4, 2, 2 * xi, 2 * eta - 1);
  return linear(3, 4, 5, 2 * (xi + eta) - 1, 1 - 2 * xi);
}

}  // namespace

Eigen::Matrix3Xd onto_finer_surface(const Model& coarse, const Eigen::Matrix3Xd& x,
                                    const Model& fine, const Eigen::Matrix3Xd& curved,
                                    const std::vector<BodyPose>& bodies) {
  Eigen::Matrix3Xd flat = curved;
  for (int t = 0; t < fine.mesh.n_triangles(); ++t) {
    const ChildOf& child = fine.mesh.child_of[t];
    for (int n = 0; n < 6; ++n) {
      const Eigen::Vector2d at =
          n < 3 ? Eigen::Vector2d(child.corner.col(n))
                : Eigen::Vector2d(0.5 * (child.corner.col(n - 3) + child.corner.col((n - 2) % 3)));
      flat.col(fine.mesh.triangles[t].node[n]) =
          on_flat_part(x, coarse.mesh.triangles[child.parent].node, at.x(), at.y());
    }
  }
  ContactSearch search(fine);
  const Eigen::Matrix3Xd from = search.surface().places(flat, bodies);
  const Eigen::Matrix3Xd way = search.surface().places(curved, bodies) - from;
  return flat + search.free_share(from, way, 1) * (curved - flat);
}

}  // namespace totebench::solver
