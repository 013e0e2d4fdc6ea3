#include "solver/state/retraction.hpp"

#include <algorithm>
#include <cmath>

#include "solver/state/dof_map.hpp"

namespace totebench::solver {
namespace {

// `v` turned by the smallest rotation that takes unit vector `from` to `to`.
Eigen::Vector3d carried(const Eigen::Vector3d& from, const Eigen::Vector3d& to,
                        const Eigen::Vector3d& v) {
  const Eigen::Vector3d axis = from.cross(to);
  const double c = from.dot(to);
  return c * v + axis.cross(v) + axis * (axis.dot(v) / (1 + c));
}

Eigen::Vector3d moved_director(const DirectorSite& site, const Eigen::Matrix3Xd& x_from,
                               const Eigen::Matrix3Xd& x_to, const Eigen::Vector3d& director,
                               double turn) {
  const Eigen::Vector3d from = site_tangent(site, x_from).normalized();
  const Eigen::Vector3d to = site_tangent(site, x_to).normalized();
  const Eigen::Vector3d d = carried(from, to, director);
  Eigen::Vector3d turned = std::cos(turn) * d + std::sin(turn) * to.cross(d);
  turned -= to.dot(turned) * to;  // keeps round-off from adding up
  return turned.normalized();
}

}  // namespace

BodyPose moved(const BodyPose& body, const Eigen::Matrix<double, 6, 1>& step) {
  const Eigen::Vector3d turn = step.tail<3>();
  const double angle = turn.norm();
  BodyPose to;
  to.position = body.position + step.head<3>();
  to.turn = body.turn + turn;
  to.rotation = body.rotation;
  if (angle > 0) {
    const Eigen::Quaterniond by(Eigen::AngleAxisd(angle, turn / angle));
    to.rotation = (by * body.rotation).normalized();
  }
  return to;
}

State retract(const Topology& topology, const State& state, const Eigen::VectorXd& step) {
  const DofMap dofs = dof_map(topology, state.bodies.size());
  State moved;
  moved.x = state.x;
  Eigen::Map<Eigen::VectorXd>(moved.x.data(), moved.x.size()) += step.head(moved.x.size());
  moved.turn = state.turn + step.segment(dofs.director(0), dofs.n_directors);
  moved.director.resize(3, dofs.n_directors);
#pragma omp parallel for schedule(static)
  for (int i = 0; i < dofs.n_directors; ++i) {
    moved.director.col(i) = moved_director(topology.sites[i], state.x, moved.x,
                                           state.director.col(i), step[dofs.director(i)]);
  }
  moved.bodies.reserve(state.bodies.size());
  for (int b = 0; b < dofs.n_bodies; ++b) {
    moved.bodies.push_back(
        solver::moved(state.bodies[static_cast<std::size_t>(b)], step.segment<6>(dofs.body(b))));
  }
  return moved;
}

Eigen::VectorXd coordinates(const State& state) {
  const auto n_bodies = static_cast<Eigen::Index>(state.bodies.size());
  const Eigen::Index n_shell = state.x.size() + state.turn.size();
  Eigen::VectorXd y(n_shell + DofMap::kPerBody * n_bodies);
  y.head(n_shell) << Eigen::Map<const Eigen::VectorXd>(state.x.data(), state.x.size()), state.turn;
  for (Eigen::Index b = 0; b < n_bodies; ++b) {
    const BodyPose& body = state.bodies[static_cast<std::size_t>(b)];
    y.segment<6>(n_shell + DofMap::kPerBody * b) << body.position, body.turn;
  }
  return y;
}

double largest_turn(const Topology& topology, const State& state, const Eigen::VectorXd& step) {
  const DofMap dofs = dof_map(topology, state.bodies.size());
  const Eigen::Matrix3Xd move = Eigen::Map<const Eigen::Matrix3Xd>(step.data(), 3, dofs.n_nodes);
  double largest = 0;
  for (int i = 0; i < dofs.n_directors; ++i) {
    const DirectorSite& site = topology.sites[i];
    const Eigen::Vector3d t = site_tangent(site, state.x);
    const Eigen::Vector3d dt = site_tangent(site, move);
    const Eigen::Vector3d across = dt - t * (t.dot(dt) / t.squaredNorm());
    largest = std::max({largest, across.norm() / t.norm(), std::abs(step[dofs.director(i)])});
  }
  for (int b = 0; b < dofs.n_bodies; ++b) {
    largest = std::max(largest, step.segment<3>(dofs.body(b) + 3).norm());
  }
  return largest;
}

}  // namespace totebench::solver
