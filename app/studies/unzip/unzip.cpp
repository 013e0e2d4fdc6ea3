#include "totebench/studies/unzip.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <optional>

#include "totebench/scenes/attachment_patterns.hpp"
#include "totebench/scenes/unit_text.hpp"
#include "totebench/scenes/utilisation.hpp"
#include "totebench/studies/rate.hpp"
#include "totebench/studies/rate_climb.hpp"

namespace totebench::studies {
namespace {

constexpr double kUsedUp = 5e-3;          // a fastening goes when its share is this close to 1
constexpr int kMostTries = 40;            // to bring one fastening there
constexpr int kMostUnreached = 2;         // of them without rest
constexpr double kCoarseStep = 1.7;       // load over the last load, before the first break
constexpr double kFineStep = 1.12;        // and after it: the work is summed over these steps
constexpr double kLeastShareSlope = 0.4;  // of log share by log load, for the next try
constexpr double kLargestShareSlope = 3;
// A step that loses more than this share of its work is halved until the load changes by less than
// the second: what is lost even then was set free by a jump.
constexpr double kLossy = 0.02;
constexpr double kJumpStep = 0.01;
constexpr const char* kStopped = "stopped on request, before an end came off";
constexpr double kEasedLoad =
    0.9;  // load tried where the bag finds no rest at the one of the break

struct Weakest {
  int stitch = -1;
  std::size_t site = 0;
  std::size_t in_site = 0;
  double share = 0;
  double force_N = 0;
  bool by_cloth = false;
};

class Unzip {
 public:
  Unzip(const scenes::Scene& scene, const materials::MaterialLibrary& library,
        const OnHangProgress& on_progress, std::optional<int> level)
      : scene_(scene), library_(library), on_progress_(on_progress), level_(level) {}

  Unzipping run() {
    const auto begin = std::chrono::steady_clock::now();
    scenes::Scene once = scene_;  // other shapes are not followed
    once.solve.shapes = 0;
    result_.hang = hang_tote(once, library_, on_progress_, level_);
    result_.interrupted = result_.hang.findings.interrupted();
    if (result_.hang.findings.converged()) {
      places_ = scenes::attachment_points(scene_.straps.front()).points;
      weigh_contents();
      go_through();
    } else {
      result_.why_ended = result_.interrupted ? kStopped : "no rest was found under the set load";
    }
    result_.seconds =
        std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
    return std::move(result_);
  }

 private:
  // How far the contents sink is the mean over what carries them.
  void weigh_contents() {
    const solver::Model& model = result_.hang.tote.model;
    share_ = Eigen::VectorXd::Zero(model.mesh.n_nodes());
    if (!model.bodies.empty()) {  // friction takes some of their energy: it is not known
      start_m_ = height_of_contents(result_.hang.loaded);
      return;
    }
    if (model.fill.active()) {
      for (const solver::Triangle& t : model.mesh.triangles) {
        if (t.region != scenes::kRegionBase) continue;
        for (const int node : t.node) share_[node] += 1;
      }
    } else {
      share_ = -model.payload_force_N.row(2).transpose();
      weight_N_ = share_.sum();
      result_.energy_known = true;
    }
    share_ /= share_.sum();
    start_m_ = height_of_contents(result_.hang.loaded);
  }
  [[nodiscard]] double height_of_contents(const solver::State& state) const {
    const std::vector<solver::Body>& bodies = result_.hang.tote.model.bodies;
    if (bodies.empty()) return share_.dot(state.x.row(2).transpose());
    double mass = 0, moment = 0;
    for (std::size_t b = 0; b < bodies.size(); ++b) {
      mass += bodies[b].mass_kg;
      moment += bodies[b].mass_kg * state.bodies[b].position.z();
    }
    return moment / mass;
  }
  [[nodiscard]] double sink(const solver::State& state) const {
    return start_m_ - height_of_contents(state);
  }

  [[nodiscard]] std::string stage() const {
    return result_.breaks.empty() ? "raising the load"
                                  : fmt::format("{} fastenings gone", result_.breaks.size());
  }

  void go_through() {
    std::vector<int> left;
    for (const scenes::AttachmentSite& site : result_.hang.tote.attachments) {
      left.push_back(static_cast<int>(site.stitches.size()));
    }
    Climb climb(scene_, result_.hang.tote, result_.hang.loaded, 1);
    climb.set_stop([this] {
      const bool go_on = !on_progress_ || on_progress_({stage(), {}});
      result_.interrupted = result_.interrupted || !go_on;
      return go_on;
    });
    while (true) {
      const std::optional<Weakest> weakest = bring_to_break(climb);
      if (!weakest) return;
      if (result_.breaks.empty()) forget_beyond(climb.load_factor());
      const double before_J = climb.energy_J();
      release_stitch(*weakest, climb);
      if (!result_.why_ended.empty()) return;
      Break& last = result_.breaks.back();
      if (result_.energy_known && climb.load_factor() == last.load_factor) {
        last.set_free_J = before_J - climb.energy_J();
        result_.set_free_J += last.set_free_J;
      }
      if (--left[weakest->site] > 0) continue;
      const scenes::AttachmentSite& off = result_.hang.tote.attachments[weakest->site];
      result_.end_off = off.name;
      result_.fastenings_of_end = static_cast<int>(off.stitches.size());
      return;
    }
  }

  // Tries above the first break were of a bag that would not have held.
  void forget_beyond(double load_factor) {
    auto& rising = result_.rising;
    std::erase_if(rising, [&](const Eigen::Vector2d& p) { return p.x() > load_factor; });
    std::sort(rising.begin(), rising.end(),
              [](const Eigen::Vector2d& a, const Eigen::Vector2d& b) { return a.x() < b.x(); });
  }

  [[nodiscard]] Weakest weakest_of(const Climb& climb) const {
    const solver::Model& model = climb.tote().model;
    const Eigen::Matrix3Xd pull = solver::stitch_forces(model, climb.state());
    const auto uses = scenes::fastening_uses(scene_, climb.tote(), climb.state(), pull);
    Weakest weakest;
    for (std::size_t k = 0; k < climb.tote().attachments.size(); ++k) {
      const scenes::AttachmentSite& site = climb.tote().attachments[k];
      for (std::size_t i = 0; i < site.stitches.size(); ++i) {
        const int s = site.stitches[i];
        const double share = std::max(uses[s].thread, uses[s].cloth);
        if (share <= weakest.share) continue;
        weakest = {s, k, i, share, pull.col(s).norm(), uses[s].cloth > uses[s].thread};
      }
    }
    return weakest;
  }

  // Brings the load to where the weakest fastening is used up.
  std::optional<Weakest> bring_to_break(Climb& climb) {
    const double limit = kLargestMass_kg / scene_.contents.mass_kg;
    double load = climb.load_factor();
    double last_load = 0, last_share = 0;
    int unreached = 0;
    for (int i = 0; i < kMostTries; ++i) {
      const std::vector<scenes::Utilisation>* used = go_to(climb, load);
      if (used == nullptr) {
        if (climb.stopped() || climb.load_factor() == load || ++unreached > kMostUnreached) break;
        load = std::sqrt(load * climb.load_factor());
        continue;
      }
      if (result_.breaks.empty()) result_.rising.emplace_back(load, sink(climb.state()));
      const Weakest weakest = weakest_of(climb);
      if (weakest.stitch < 0) return end("no strength is known of the straps' fastenings");
      if (result_.breaks.empty()) note_nearest(weakest, load);
      if (std::abs(std::log(weakest.share)) <= kUsedUp) {
        note_others(*used);
        return weakest;
      }
      if (last_load > 0 && std::abs(std::log(load / last_load)) > 1e-9) {
        slope_ = std::clamp(std::log(weakest.share / last_share) / std::log(load / last_load),
                            kLeastShareSlope, kLargestShareSlope);
      }
      last_load = load;
      last_share = weakest.share;
      if (load >= limit && weakest.share < 1) {
        result_.at_limit = result_.breaks.empty();
        return end("nothing came loose below " + scenes::mass_text(kLargestMass_kg, scene_.units));
      }
      const double step = result_.breaks.empty() ? kCoarseStep : kFineStep;
      load *= std::clamp(std::pow(weakest.share, -1 / slope_), 1 / step, step);
      load = std::min(load, limit);
    }
    return end(climb.stopped() ? kStopped : "no rest was found where the next fastening would go");
  }
  std::optional<Weakest> end(std::string why) {
    result_.why_ended = std::move(why);
    return std::nullopt;
  }

  // The bag at rest without this fastening, at the same load where it finds rest there.
  void release_stitch(const Weakest& weakest, Climb& climb) {
    Break now;
    now.stitch = weakest.stitch;
    now.site = result_.hang.tote.attachments[weakest.site].name;
    now.place_m = places_[weakest.in_site];
    now.by_cloth = weakest.by_cloth;
    now.load_factor = climb.load_factor();
    now.force_N = weakest.force_N;
    now.sink_before_m = sink(climb.state());
    now.own_J = stored_in(result_.hang.tote.model.stitches[weakest.stitch], climb.state());
    climb.release_stitch(weakest.stitch);
    if (climb.again() == nullptr) {
      if (climb.stopped()) {
        result_.why_ended = kStopped;
        return;
      }
      result_.energy_known = false;
      if (climb.to(kEasedLoad * now.load_factor) == nullptr) {
        result_.why_ended =
            fmt::format("no rest was found without {} fastenings", result_.breaks.size() + 1);
        return;
      }
    }
    now.after = climb.state();
    now.sink_after_m = sink(now.after);
    now.gaps_m = gaps(now.after);
    result_.breaks.push_back(std::move(now));
    account(step_to(climb));
  }

  [[nodiscard]] double stored_in(const solver::Stitch& stitch, const solver::State& state) const {
    const solver::ShellMesh& mesh = result_.hang.tote.model.mesh;
    double energy_J = 0;
    for (const solver::StitchPoint& p : solver::points_of(stitch)) {
      const Eigen::Vector3d gap =
          solver::position_of(mesh, state.x, p.a) - solver::position_of(mesh, state.x, p.b);
      energy_J += 0.5 * p.share * stitch.stiffness_N_per_m * gap.squaredNorm();
    }
    return energy_J;
  }

  [[nodiscard]] std::vector<double> gaps(const solver::State& state) const {
    const solver::Model& model = result_.hang.tote.model;
    std::vector<double> means;
    for (const scenes::AttachmentSite& site : result_.hang.tote.attachments) {
      double sum = 0;
      for (const int s : site.stitches) {
        const solver::Stitch& stitch = model.stitches[s];
        sum += (solver::position_of(model.mesh, state.x, stitch.a) -
                solver::position_of(model.mesh, state.x, stitch.b))
                   .norm();
      }
      means.push_back(sum / static_cast<double>(site.stitches.size()));
    }
    return means;
  }

  // As Climb::to(), with the way accounted for. A jump on it is closed in on from below and above.
  const std::vector<scenes::Utilisation>* go_to(Climb& climb, double load) {
    const solver::State from = climb.state();
    const double begin = climb.load_factor();
    const std::vector<scenes::Utilisation>* used = climb.to(load);
    const double reached = climb.load_factor();
    if (reached == begin) {
      if (used != nullptr && result_.breaks.empty()) account(step_to(climb));
      return used;
    }
    const Step step = step_to(climb);
    if (step.lost_share() <= kLossy || std::abs(std::log(reached / begin)) <= kJumpStep) {
      account(step);
      return used;
    }
    climb.restart(from, begin);
    if (go_to(climb, std::sqrt(begin * reached)) == nullptr) return nullptr;
    const std::vector<scenes::Utilisation>* there = go_to(climb, reached);
    return used == nullptr ? nullptr : there;
  }

  struct Step {
    double load = 0;
    double fallen_J = 0;  // P . x
    double stored_J = 0;
    double work_J = 0;  // since the last one
    double lost_J = 0;
    [[nodiscard]] double lost_share() const {
      return lost_J > 0 ? lost_J / std::max(std::abs(work_J), 1e-300) : 0;
    }
  };
  // From the last equilibrium that was accounted for, since the first break, to where the climb is.
  [[nodiscard]] Step step_to(const Climb& climb) const {
    Step step;
    if (!result_.energy_known) return step;
    step.load = climb.load_factor();
    step.fallen_J = -weight_N_ * height_of_contents(climb.state());
    step.stored_J = climb.energy_J() + step.load * step.fallen_J;
    if (result_.breaks.empty()) return step;
    step.work_J = 0.5 * (step.load + last_.load) * (step.fallen_J - last_.fallen_J);
    step.lost_J = step.work_J - (step.stored_J - last_.stored_J);
    return step;
  }

  // One more equilibrium of the way since the first break.
  void account(const Step& step) {
    if (!result_.energy_known) return;
    if (!result_.breaks.empty()) {
      result_.work_J += step.work_J;
      result_.stored_J += step.stored_J - last_.stored_J;
      if (step.load != last_.load && step.lost_share() > kLossy) {
        result_.jumps += 1;
        result_.jumped_J += step.lost_J;
        result_.widest_jump =
            std::max(result_.widest_jump, std::abs(std::log(step.load / last_.load)));
      }
    }
    last_ = step;
  }

  // The climb begins at the set load.
  void note_nearest(const Weakest& weakest, double load) {
    const NearestFastening now = {result_.hang.tote.attachments[weakest.site].name, load,
                                  weakest.share};
    if (result_.nearest_at_set.site.empty()) result_.nearest_at_set = now;
    if (load >= result_.nearest.load_factor) result_.nearest = now;
  }

  void note_others(const std::vector<scenes::Utilisation>& used) {
    if (!result_.meanwhile.empty()) return;
    for (const scenes::Utilisation& use : used) {
      if (!use.drops_load || use.mode == "strap_fastening" || use.mode == "tear_out") continue;
      if (use.ratio < 1) continue;
      result_.meanwhile = use.what;
      result_.meanwhile_after = static_cast<int>(result_.breaks.size());
      return;
    }
  }

  const scenes::Scene& scene_;
  const materials::MaterialLibrary& library_;
  const OnHangProgress& on_progress_;
  std::optional<int> level_;
  Unzipping result_;
  std::vector<Eigen::Vector2d> places_;  // of a strap end's fastenings
  Eigen::VectorXd share_;                // of the contents' weight, by node
  double weight_N_ = 0;  // of the contents at load factor 1; 0 = their energy is not known
  double start_m_ = 0;
  double slope_ = 1;  // of log share by log load, where it was last seen
  Step last_;         // accounted for
};

}  // namespace

std::vector<std::string> Unzipping::ends_with_breaks() const {
  std::vector<std::string> ends;
  for (const Break& b : breaks) {
    if (std::count(ends.begin(), ends.end(), b.site) == 0) ends.push_back(b.site);
  }
  return ends;
}

std::size_t Unzipping::last_held() const {
  std::size_t most = 0;
  for (std::size_t i = 1; i < breaks.size(); ++i) {
    if (breaks[i].load_factor > breaks[most].load_factor) most = i;
  }
  return most;
}

Unzipping unzip_tote(const scenes::Scene& scene, const materials::MaterialLibrary& library,
                     const OnHangProgress& on_progress, std::optional<int> level) {
  return Unzip(scene, library, on_progress, level).run();
}

}  // namespace totebench::studies
