#include "totebench/studies/carry.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <mutex>
#include <utility>

#include "totebench/scenes/strap_seams.hpp"
#include "totebench/solver/mass.hpp"
#include "totebench/studies/side_by_side.hpp"

namespace totebench::studies {
namespace {

constexpr int kModes = 12;
constexpr double kStepsPerBounce = 24;  // 0.6 % of period error by average acceleration
constexpr double kLongestStep_s = 8e-3;
constexpr double kShortestStep_s = 5e-4;
constexpr int kMostStepHalvings = 5;

// Harmonics of walking: 0.4, 0.1, 0.1 of the weight [Setra2006]. Stairs: about 1 and 0.2 going down
// fast [KerrBishop2001].
const std::vector<double> kWalkingHarmonics = {0.4, 0.1, 0.1};
constexpr const char* kWalkingSource =
    "Setra footbridge guideline 2006: 0.4, 0.1, 0.1 of the weight";
constexpr const char* kEstimate = "estimate, no source";

// 0 to 1 over `rise` seconds, smooth at both ends.
double smooth_rise(double t, double rise) {
  if (t >= rise) return 1;
  return 0.5 - 0.5 * std::cos(M_PI * std::max(0.0, t) / rise);
}

CarryEvent taken_up(const std::string& name, double rise_s, const std::string& source) {
  CarryEvent event;
  event.name = name;
  event.source = source;
  event.weight_taken_up = true;
  event.duration_s = rise_s + 0.8;
  event.at = [rise_s](double t) {
    return solver::Excitation{smooth_rise(t, rise_s), Eigen::Vector3d::Zero()};
  };
  return event;
}

// A carrier whose body force on the ground is G (1 + sum alpha_k sin(2 pi k f t - phi_k)) bobs with
// that force less G over their mass; the bag hangs from a stiff arm.
CarryEvent on_foot(const std::string& name, double cadence_Hz, std::vector<double> alpha,
                   double gravity, const std::string& source) {
  constexpr double kFadeIn_s = 1.0;
  CarryEvent event;
  event.name = name;
  event.source = source;
  event.settle_s = kFadeIn_s;
  event.duration_s = kFadeIn_s + 4 / cadence_Hz;
  event.at = [=](double t) {
    double share = 0;
    for (std::size_t k = 0; k < alpha.size(); ++k) {
      const double phase = k == 0 ? 0 : M_PI / 2;
      share += alpha[k] * std::sin(2 * M_PI * static_cast<double>(k + 1) * cadence_Hz * t - phase);
    }
    return solver::Excitation{1,
                              Eigen::Vector3d(0, 0, smooth_rise(t, kFadeIn_s) * share * gravity)};
  };
  return event;
}

// The floor gives kFloorGive_m under the weight, and a tenth of that until it bears fully.
solver::Floor floor_under(const scenes::Tote& tote, double weight_N) {
  solver::Floor floor;
  double base_area = 0;
  for (int t = 0; t < tote.model.mesh.n_triangles(); ++t) {
    if (tote.model.mesh.triangles[t].region != scenes::kRegionBase) continue;
    floor.triangles.push_back(t);
    base_area += solver::rest_area(tote.model.mesh, t);
  }
  floor.stiffness_Pa_per_m = weight_N / (base_area * kFloorGive_m);
  floor.soften_m = 0.1 * kFloorGive_m;
  return floor;
}

double lowest_point(const scenes::Tote& tote, const solver::State& state) {
  double z = std::numeric_limits<double>::max();
  for (const int t : tote.model.floor.triangles) {
    for (const int node : tote.model.mesh.triangles[t].node) z = std::min(z, state.x(2, node));
  }
  return z;
}

// Carries one event through. Steps that do not converge are halved.
CarryEventResult run(const CarryEvent& event, const HangResult& still, const Eigen::VectorXd& mass,
                     double damping_s, double step_s, bool keep_shapes,
                     const std::function<bool(double share)>& go_on) {
  const solver::Model& model = still.tote.model;
  CarryEventResult result;
  result.name = event.name;
  result.source = event.source;
  const solver::Excitation at_rest = event.at(0);
  solver::Motion motion(model, event.weight_taken_up ? still.empty : still.loaded, mass, at_rest,
                        damping_s);
  const double lowest_m = lowest_point(still.tote, still.loaded);
  double h = step_s;
  int halvings = 0;
  while (motion.time_s() < event.duration_s - 1e-9) {
    solver::Excitation next = event.at(motion.time_s() + h);
    if (event.clearance_m) next.floor_m = lowest_m - event.clearance_m(motion.time_s() + h);
    const solver::MotionReport report = motion.advance(h, next);
    if (report.status != solver::SolveStatus::kConverged) {
      if (++halvings > kMostStepHalvings) return result;
      h /= 2;
      continue;
    }
    if (halvings > 0) {
      --halvings;
      h *= 2;
    }
    result.samples.push_back({motion.time_s(), report.support_force_N.z(), report.floor_force_N,
                              scenes::hardest_stitch_N(model, motion.state()),
                              scenes::bottom_sag(still.tote, still.empty, motion.state())});
    if (keep_shapes) result.shapes.push_back(motion.state());
    if (!go_on(motion.time_s() / event.duration_s)) return result;
  }
  result.complete = true;
  return result;
}

void take_peaks(CarryEventResult& result, double settle_s, double weight_N, double still_stitch_N) {
  for (const CarrySample& sample : result.samples) {
    if (sample.time_s < settle_s) continue;
    result.dynamic_factor = std::max(result.dynamic_factor, sample.support_force_N / weight_N);
    result.floor_factor = std::max(result.floor_factor, sample.floor_force_N / weight_N);
    result.peak_stitch_N = std::max(result.peak_stitch_N, sample.peak_stitch_N);
    result.bottom_sag_m = std::max(result.bottom_sag_m, sample.bottom_sag_m);
  }
  result.stitch_factor = still_stitch_N > 0 ? result.peak_stitch_N / still_stitch_N : 0;
}

}  // namespace

CarryEvent picked_up_quickly() { return taken_up("picked up quickly, 0.15 s", 0.15, kEstimate); }

CarryEvent set_down(const std::string& name, double speed_m_per_s) {
  constexpr double kStart_m = 0.01;       // above the floor
  constexpr double kAfterwards_s = 0.12;  // past the peak of the blow; then slack straps whip
  CarryEvent event;
  event.name = name;
  event.source = kEstimate;
  event.duration_s = kStart_m / speed_m_per_s + kAfterwards_s;
  event.at = [](double) { return solver::Excitation(); };
  event.damped = false;
  event.clearance_m = [speed_m_per_s](double t) { return kStart_m - speed_m_per_s * t; };
  return event;
}

CarryEvent walking(double cadence_Hz, double gravity_m_per_s2) {
  return on_foot(fmt::format("walking, {:.0f} steps a minute", 60 * cadence_Hz), cadence_Hz,
                 kWalkingHarmonics, gravity_m_per_s2, kWalkingSource);
}

std::vector<CarryEvent> carry_events(double cadence_Hz, double gravity_m_per_s2) {
  const std::string stairs = "Kerr and Bishop 2001, from memory: 1.0 and 0.2 of the weight";
  const double quick = 1.25 * cadence_Hz;
  return {taken_up("picked up gently, 0.5 s", 0.5, kEstimate),
          picked_up_quickly(),
          taken_up("snatched up, 0.03 s", 0.03, kEstimate),
          walking(cadence_Hz, gravity_m_per_s2),
          on_foot(fmt::format("walking fast, {:.0f} steps a minute", 60 * quick), quick,
                  kWalkingHarmonics, gravity_m_per_s2, kWalkingSource),
          set_down("set down gently", 0.3),
          set_down("put down hard", 1.0),
          on_foot(fmt::format("down stairs, {:.0f} steps a minute", 60 * quick), quick, {1.0, 0.2},
                  gravity_m_per_s2, stairs)};
}

CarryResult carry_tote(const scenes::Scene& scene, const materials::MaterialLibrary& library,
                       const CarryOptions& options, const OnHangProgress& on_progress) {
  scenes::Scene once = scene;  // what moves is solved hundreds of times: one mesh, no other starts
  once.solve.shapes = 0;
  return carry_hung(hang_tote(once, library, on_progress, 0), options, on_progress);
}

CarryResult carry_hung(HangResult hung, const CarryOptions& options,
                       const OnHangProgress& on_progress) {
  CarryResult result;
  result.still = std::move(hung);
  result.interrupted = result.still.findings.interrupted();
  const HangResult& still = result.still;
  if (!still.findings.converged() || !still.findings.loaded.stable) return result;
  const solver::Model& model = still.tote.model;
  result.still.tote.model.floor = floor_under(still.tote, still.findings.weight_N);
  const Eigen::VectorXd mass = solver::nodal_masses(model, still.loaded);
  result.modes = solver::lowest_modes(model, still.loaded, 1.0, mass, kModes);
  const auto bounce = std::max_element(result.modes.begin(), result.modes.end(),
                                       [](const solver::Mode& a, const solver::Mode& b) {
                                         return a.mass_share.z() < b.mass_share.z();
                                       });
  result.bounce_Hz = bounce->frequency_Hz;
  result.bounce_mass_share = bounce->mass_share.z();
  result.sway_Hz = result.modes.front().frequency_Hz;
  result.time_step_s =
      std::clamp(1 / (kStepsPerBounce * result.bounce_Hz), kShortestStep_s, kLongestStep_s);
  result.still_stitch_N = scenes::hardest_stitch_N(model, still.loaded);

  const double damping_s = options.damping_ratio / (M_PI * result.bounce_Hz);
  const std::vector<CarryEvent> events =
      options.events.empty() ? carry_events(options.cadence_Hz, model.gravity_m_per_s2)
                             : options.events;
  result.events.resize(events.size());
  std::mutex mutex;
  std::vector<std::function<void()>> work;
  for (std::size_t i = 0; i < events.size(); ++i) {
    work.emplace_back([&, i] {
      const auto watch = [&](double share) {
        const std::lock_guard lock(mutex);
        solver::Progress progress;
        progress.load_factor = share;
        const bool go_on = !on_progress || on_progress({events[i].name, progress});
        result.interrupted = result.interrupted || !go_on;
        return go_on;
      };
      result.events[i] = run(events[i], still, mass, events[i].damped ? damping_s : 0,
                             result.time_step_s, options.keep_shapes, watch);
      take_peaks(result.events[i], events[i].settle_s, still.findings.weight_N,
                 result.still_stitch_N);
    });
  }
  side_by_side(work);
  return result;
}

}  // namespace totebench::studies
