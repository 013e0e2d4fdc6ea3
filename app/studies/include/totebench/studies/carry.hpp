// What carrying does to a bag: the study behind `totebench carry`.
//
//   hang (coarse mesh) -> free vibrations -> each event in time, side by side -> peaks
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "totebench/solver/motion.hpp"
#include "totebench/solver/vibration.hpp"
#include "totebench/studies/hang.hpp"

namespace totebench::studies {

// How far ground and contents give under the weight standing on the base (estimate).
inline constexpr double kFloorGive_m = 5e-3;

// Something done with the bag: what its support and its weight do in time.
struct CarryEvent {
  std::string name;              // "walking"
  std::string source;            // of its numbers, with their grade
  bool weight_taken_up = false;  // starts empty-hung, the weight comes on; else starts loaded
  double duration_s = 0;
  double settle_s = 0;  // peaks are taken after this
  std::function<solver::Excitation(double t_s)> at;
  // How far the floor is below the lowest point of the bag hanging still; none = no floor.
  std::function<double(double t_s)> clearance_m;
  // Damping in proportion to stiffness would brace straps that fall slack.
  bool damped = true;
};
[[nodiscard]] CarryEvent picked_up_quickly();
// The hand sinks at a steady speed while the floor stops the bag.
[[nodiscard]] CarryEvent set_down(const std::string& name, double speed_m_per_s);
[[nodiscard]] CarryEvent walking(double cadence_Hz, double gravity_m_per_s2);
// These and more.
[[nodiscard]] std::vector<CarryEvent> carry_events(double cadence_Hz, double gravity_m_per_s2);

struct CarryOptions {
  double cadence_Hz = 2.0;         // steps a second
  double damping_ratio = 0.05;     // at the bounce frequency
  std::vector<CarryEvent> events;  // empty: carry_events(cadence, gravity)
  bool keep_shapes = false;        // fill CarryEventResult::shapes
};

struct CarrySample {
  double time_s = 0;
  double support_force_N = 0;  // upwards, of the hand or hook on the bag
  double floor_force_N = 0;    // upwards, of the floor on the bag
  double peak_stitch_N = 0;
  double bottom_sag_m = 0;
};

struct CarryEventResult {
  std::string name;
  std::string source;
  bool complete = false;      // ran to its end
  double dynamic_factor = 0;  // peak support force over the weight
  double floor_factor = 0;    // peak floor force over the weight
  double peak_stitch_N = 0;   // largest over time and strap seams
  double stitch_factor = 0;   // that over the same when hanging still
  double bottom_sag_m = 0;    // largest
  std::vector<CarrySample> samples;
  std::vector<solver::State> shapes;  // one a sample, or none
};

struct CarryResult {
  HangResult still;  // hanging still, on the mesh used here
  std::vector<solver::Mode> modes;
  double bounce_Hz = 0;  // of the mode that moves most mass up and down
  double bounce_mass_share = 0;
  double sway_Hz = 0;  // the lowest mode
  double time_step_s = 0;
  double still_stitch_N = 0;
  std::vector<CarryEventResult> events;
  bool interrupted = false;  // on request: what is here is not whole
};

// Carries a bag that hangs already, empty and loaded, on the mesh of `still`.
[[nodiscard]] CarryResult carry_hung(HangResult still, const CarryOptions& options,
                                     const OnHangProgress& on_progress);

// Hangs it on the coarse mesh first. Events are left out where the bag finds no stable equilibrium
// to start from (still.findings says so). Throws like hang_tote.
[[nodiscard]] CarryResult carry_tote(const scenes::Scene& scene,
                                     const materials::MaterialLibrary& library,
                                     const CarryOptions& options,
                                     const OnHangProgress& on_progress);

}  // namespace totebench::studies
