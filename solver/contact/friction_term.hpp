// Coulomb friction of bodies on sheets and on each other. A point that a body presses with force N
// sticks to it by a spring along the surface, whose pull is no more than mu N:
//   E = k/2 |u|^2,   k = kStick_Pa_per_m times a mean area of points
// u is the way that the point has slipped over the body across the normal, seen from the body, less
// what it slid before. N, the normal and what was slid lag: they are renewed at a state in
// equilibrium, where each spring that pulls harder than mu N gives way until it pulls just so
// (radial return, [SimoHughes1998], section 1.2), and the equilibrium is found again until none
// does. What sticks may pull in any way below its limit; a search begins with no pulls at all.
//
// A body that nothing presses yet, one about to be set down, is held where it was put by springs,
// but for its height; they are dropped at the first renewal at which something presses it. At a
// load factor of 0, where it is not there, its height is held too.
#pragma once

#include <array>
#include <vector>

#include "solver/contact/contact_term.hpp"
#include "solver/state/dof_map.hpp"
#include "solver/terms/energy_term.hpp"

namespace totebench::solver {

class FrictionTerm final : public EnergyTerm {
 public:
  // All of which must outlive it.
  FrictionTerm(const Model& model, const DofMap& dofs, const ContactTerm& contact);

  [[nodiscard]] std::string_view name() const override { return "friction"; }
  [[nodiscard]] int n_blocks() const override {
    return static_cast<int>(grips_.size() + free_bodies_.size());
  }
  [[nodiscard]] std::span<const int> unknowns(int block) const override;
  [[nodiscard]] double energy(const State& state, int block) const override;
  double derivatives(const State& state, int block, HessianPart part, double* gradient,
                     double* hessian) const override;
  void set_load_factor(double factor) override { load_factor_ = factor; }
  [[nodiscard]] int pattern_version() const override { return version_; }

  void begin(const State& state) override;
  [[nodiscard]] bool is_lagged() const override { return true; }
  void renew_lagged(const State& state) override;

 private:
  // A point, of a sheet or of a body, that another body holds.
  struct Grip {
    int point = 0;
    int on = -1;  // body that the point belongs to; -1: a node
    int by = 0;   // body that holds it
    bool pressed = false;
    bool holds = false;                                  // it is pressed, and not without friction
    Eigen::Vector3d on_body = Eigen::Vector3d::Zero();   // place of the point on its own body
    Eigen::Vector3d stuck_at = Eigen::Vector3d::Zero();  // on the holding body: where u = 0
    Eigen::Vector3d normal = Eigen::Vector3d::Zero();    // out of the holding body
    Eigen::Matrix3d along = Eigen::Matrix3d::Zero();     // across the normal
    double stiffness_N_per_m = 0;
    std::array<int, 12> unknowns{};
    int n_unknowns = 0;
  };
  [[nodiscard]] Grip grip(int point, int by) const;
  // Takes its spring up where it was, or anew, as it is pressed at this state.
  void renew(Grip& grip, const Grip* before, const State& state,
             const Eigen::Vector3d& push_N) const;
  // Out of the holding body at the point: of a round body its own, else that of the push.
  [[nodiscard]] Eigen::Vector3d normal(const Grip& grip, const State& state,
                                       const Eigen::Vector3d& push_N) const;
  [[nodiscard]] double friction(const Grip& grip) const;
  [[nodiscard]] static Eigen::Vector3d place(const State& state, const Grip& grip);
  [[nodiscard]] static Eigen::Vector3d slipped(const State& state, const Grip& grip);

  struct FreeBody {
    int body = 0;
    double radius_m = 0;  // of its skin, root mean square
    bool held = true;
    std::array<int, 6> unknowns{};
  };
  [[nodiscard]] double hold_derivatives(const State& state, const FreeBody& free, double* gradient,
                                        double* hessian) const;

  const Model& model_;
  DofMap dofs_;
  const ContactTerm& contact_;
  std::vector<BodyPose> began_;  // the bodies where the search began
  std::vector<Grip> grips_;      // by point, then by body
  std::vector<FreeBody> free_bodies_;
  double load_factor_ = 1;
  double stick_N_per_m_ = 0;
  int version_ = 0;
};

}  // namespace totebench::solver
