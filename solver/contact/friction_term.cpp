#include "solver/contact/friction_term.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "solver/state/turning.hpp"

namespace totebench::solver {
namespace {

using Eigen::Matrix3d;
using Eigen::Vector3d;

// Shear stress by way before anything slips, of cloth under a body (estimate: 1 kPa at a tenth of a
// millimetre, so that what lies on cloth with 2 kPa slips after less than that).
constexpr double kStick_Pa_per_m = 1e7;
// The spring of what slips becomes softer each time, so that a thing on its way goes it in few
// steps and not in many small ones. What it pulls stays the same.
constexpr double kSofter = 0.5;
constexpr double kSoftest = 1.0 / 256;
constexpr double kClearly = 1.02;  // of its limit: less is what is left of settling

// Springs of a body that nothing presses yet give so far under its weight.
constexpr double kHoldGive = 2e-3;  // m

// A normal that turns by less lags on: where a point lies on a ridge it would swing to and fro.
constexpr double kSameNormal = 0.98;  // cosine

}  // namespace

FrictionTerm::FrictionTerm(const Model& model, const DofMap& dofs, const ContactTerm& contact)
    : model_(model), dofs_(dofs), contact_(contact) {
  double area = 0;
  for (const ContactPoint& point : contact.surface().points()) area += point.area_m2;
  stick_N_per_m_ = kStick_Pa_per_m * area /
                   std::max<double>(1, static_cast<double>(contact.surface().points().size()));
  began_ = start_poses(model);
  for (int b = 0; b < static_cast<int>(model.bodies.size()); ++b) {
    const Body& body = model.bodies[static_cast<std::size_t>(b)];
    if (body.fixed) continue;
    FreeBody free;
    free.body = b;
    free.radius_m = std::sqrt(body.skin.point_m.squaredNorm() /
                              std::max<double>(1, static_cast<double>(body.skin.point_m.cols())));
    for (int i = 0; i < DofMap::kPerBody; ++i) free.unknowns[i] = dofs.body(b) + i;
    free_bodies_.push_back(free);
  }
}

std::span<const int> FrictionTerm::unknowns(int block) const {
  const auto n_grips = static_cast<int>(grips_.size());
  if (block >= n_grips) return free_bodies_[static_cast<std::size_t>(block - n_grips)].unknowns;
  const Grip& grip = grips_[static_cast<std::size_t>(block)];
  return std::span(grip.unknowns).first(static_cast<std::size_t>(grip.n_unknowns));
}

FrictionTerm::Grip FrictionTerm::grip(int point, int by) const {
  Grip grip;
  grip.point = point;
  grip.by = by;
  const auto add = [&grip](int first, int n) {
    for (int i = 0; i < n; ++i) grip.unknowns[grip.n_unknowns++] = first + i;
  };
  const ContactSurface::SkinPoint* skin = contact_.surface().on_skin(point);
  if (skin == nullptr) {
    add(dofs_.node(point), DofMap::kPerNode);
  } else {
    grip.on = skin->body;
    grip.on_body = skin->on_body;
    add(dofs_.body(skin->body), DofMap::kPerBody);
  }
  add(dofs_.body(by), DofMap::kPerBody);
  return grip;
}

Vector3d FrictionTerm::place(const State& state, const Grip& grip) {
  if (grip.on < 0) return state.x.col(grip.point);
  return state.bodies[static_cast<std::size_t>(grip.on)].at(grip.on_body);
}

Vector3d FrictionTerm::slipped(const State& state, const Grip& grip) {
  const Vector3d from = state.bodies[static_cast<std::size_t>(grip.by)].at(grip.stuck_at);
  return grip.along * (place(state, grip) - from);
}

void FrictionTerm::begin(const State& state) {
  began_ = state.bodies;
  for (Grip& grip : grips_) grip.holds = false;
  renew_lagged(state);
}

Vector3d FrictionTerm::normal(const Grip& grip, const State& state, const Vector3d& push_N) const {
  const BodyPose& by = state.bodies[static_cast<std::size_t>(grip.by)];
  const BodySkin& skin = model_.bodies[static_cast<std::size_t>(grip.by)].skin;
  Vector3d out = by.rotation.conjugate() * (place(state, grip) - by.position);
  const bool at_end = std::abs(out.z()) > skin.point_m.row(2).maxCoeff();
  if (skin.round == BodySkin::Round::kNone ||
      (skin.round == BodySkin::Round::kCylinder && at_end)) {
    return push_N.normalized();
  }
  if (skin.round == BodySkin::Round::kCylinder) out.z() = 0;
  return by.rotation * out.normalized();
}

double FrictionTerm::friction(const Grip& grip) const {
  const auto of = [&](int body) { return model_.bodies[static_cast<std::size_t>(body)].friction; };
  return grip.on < 0 ? of(grip.by) : std::min(of(grip.on), of(grip.by));
}

void FrictionTerm::renew(Grip& grip, const Grip* before, const State& state,
                         const Vector3d& push_N) const {
  const double limit_N = friction(grip) * push_N.norm();
  grip.pressed = push_N.norm() > 0;
  grip.holds = limit_N > 0;
  if (!grip.holds) return;
  const BodyPose& by = state.bodies[static_cast<std::size_t>(grip.by)];
  const Vector3d here = place(state, grip);
  const auto on_holder = [&](const Vector3d& x) -> Vector3d {
    return by.rotation.conjugate() * (x - by.position);
  };
  grip.normal = normal(grip, state, push_N);
  grip.stuck_at = on_holder(here);
  grip.stiffness_N_per_m = stick_N_per_m_;
  if (before != nullptr && before->holds) {
    if (before->normal.dot(grip.normal) > kSameNormal) grip.normal = before->normal;
    grip.stuck_at = before->stuck_at;
    grip.stiffness_N_per_m = before->stiffness_N_per_m;
  }
  grip.along = Matrix3d::Identity() - grip.normal * grip.normal.transpose();
  const Vector3d u = slipped(state, grip);
  const double pull_N = grip.stiffness_N_per_m * u.norm();
  if (!(pull_N > limit_N)) return;
  if (pull_N > kClearly * limit_N) {
    grip.stiffness_N_per_m = std::max(kSofter * grip.stiffness_N_per_m, kSoftest * stick_N_per_m_);
  }
  grip.stuck_at = on_holder(here - limit_N / grip.stiffness_N_per_m / u.norm() * u);
}

void FrictionTerm::renew_lagged(const State& state) {
  std::map<std::pair<int, int>, Vector3d> pushes;  // by point and body
  contact_.for_each_push(state, [&](int point, int body, const Vector3d& force) {
    pushes.try_emplace({point, body}, Vector3d::Zero()).first->second += force;
  });
  std::map<std::pair<int, int>, const Grip*> before;
  for (const Grip& grip : grips_) before[{grip.point, grip.by}] = &grip;
  std::vector<Grip> grips;
  for (const auto& [key, push] : pushes) {
    const auto found = before.find(key);
    renew(grips.emplace_back(grip(key.first, key.second)),
          found == before.end() ? nullptr : found->second, state, push);
  }
  const bool same =
      std::equal(grips.begin(), grips.end(), grips_.begin(), grips_.end(),
                 [](const Grip& a, const Grip& b) { return a.point == b.point && a.by == b.by; });
  if (same) {
    std::copy(grips.begin(), grips.end(), grips_.begin());  // in place: their unknowns are in use
  } else {
    grips_ = std::move(grips);
    ++version_;
  }
  for (FreeBody& free : free_bodies_) {
    free.held = std::none_of(grips_.begin(), grips_.end(), [&](const Grip& grip) {
      return grip.pressed && (free.body == grip.by || free.body == grip.on);
    });
  }
}

double FrictionTerm::energy(const State& state, int block) const {
  const auto n_grips = static_cast<int>(grips_.size());
  if (block >= n_grips) {
    return hold_derivatives(state, free_bodies_[static_cast<std::size_t>(block - n_grips)], nullptr,
                            nullptr);
  }
  const Grip& grip = grips_[static_cast<std::size_t>(block)];
  return grip.holds ? 0.5 * grip.stiffness_N_per_m * slipped(state, grip).squaredNorm() : 0;
}

// The way slipped moves by u_x dx - (dp + w x r) for the holding body, r from its point 0 to where
// the point lay, all across the normal.
double FrictionTerm::derivatives(const State& state, int block, HessianPart part, double* gradient,
                                 double* hessian) const {
  const auto n_grips = static_cast<int>(grips_.size());
  if (block >= n_grips) {
    return hold_derivatives(state, free_bodies_[static_cast<std::size_t>(block - n_grips)],
                            gradient, hessian);
  }
  const Grip& grip = grips_[static_cast<std::size_t>(block)];
  const int n = grip.n_unknowns;
  Eigen::Map<Eigen::VectorXd> g(gradient, n);
  g.setZero();
  if (hessian != nullptr) Eigen::Map<Eigen::MatrixXd>(hessian, n, n).setZero();
  if (!grip.holds) return 0;

  const Vector3d u = slipped(state, grip);
  const int held = n - DofMap::kPerBody;  // first unknown of the holding body
  const BodyPose& by = state.bodies[static_cast<std::size_t>(grip.by)];
  const Vector3d arm_by = by.rotation * grip.stuck_at;
  Eigen::Matrix<double, 3, Eigen::Dynamic, 0, 3, 12> move(3, n);
  move.setZero();
  move.leftCols<3>().setIdentity();
  Vector3d arm_on = Vector3d::Zero();
  if (grip.on >= 0) {
    arm_on = state.bodies[static_cast<std::size_t>(grip.on)].rotation * grip.on_body;
    move.middleCols<3>(3) = -cross_matrix(arm_on);
  }
  move.middleCols<3>(held) = -Matrix3d::Identity();
  move.middleCols<3>(held + 3) = cross_matrix(arm_by);
  move = (grip.along * move).eval();

  const Vector3d force = grip.stiffness_N_per_m * u;
  g = move.transpose() * force;
  if (hessian != nullptr) {
    Eigen::Map<Eigen::MatrixXd> h(hessian, n, n);
    h = grip.stiffness_N_per_m * move.transpose() * move;
    if (part == HessianPart::kExact) {
      if (grip.on >= 0) h.block<3, 3>(3, 3) += turning(arm_on, force);
      h.block<3, 3>(held + 3, held + 3) -= turning(arm_by, force);
    }
  }
  return 0.5 * force.dot(u);
}

double FrictionTerm::hold_derivatives(const State& state, const FreeBody& free, double* gradient,
                                      double* hessian) const {
  using Vector6d = Eigen::Matrix<double, 6, 1>;
  const auto b = static_cast<std::size_t>(free.body);
  const double k = free.held ? model_.bodies[b].mass_kg * model_.gravity_m_per_s2 / kHoldGive : 0;
  const double turning_k = k * free.radius_m * free.radius_m;
  Vector6d stiffness, off;
  stiffness << k, k, load_factor_ == 0 ? k : 0, turning_k, turning_k, turning_k;
  off << state.bodies[b].position - began_[b].position, state.bodies[b].turn - began_[b].turn;
  const Vector6d force = stiffness.cwiseProduct(off);
  if (gradient != nullptr) Eigen::Map<Vector6d>{gradient} = force;
  if (hessian != nullptr) {
    Eigen::Map<Eigen::Matrix<double, 6, 6>>{hessian} = stiffness.asDiagonal().toDenseMatrix();
  }
  return 0.5 * force.dot(off);
}

}  // namespace totebench::solver
