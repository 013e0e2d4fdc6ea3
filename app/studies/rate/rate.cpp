#include "totebench/studies/rate.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <cmath>
#include <mutex>
#include <stdexcept>

#include "app/studies/rate/changes.hpp"
#include "app/studies/rate/path.hpp"
#include "app/studies/rate/sampling.hpp"
#include "app/studies/rate/work_key.hpp"
#include "totebench/scenes/unit_text.hpp"
#include "totebench/scenes/utilisation.hpp"
#include "totebench/studies/side_by_side.hpp"

namespace totebench::studies {
namespace {

constexpr double kMeanTolerance = 5e-3;  // of the ratio at failure; closed by the local slope

double ratio_of(const std::vector<scenes::Utilisation>& list, const std::string& mode) {
  for (const scenes::Utilisation& use : list) {
    if (use.mode == mode) return use.ratio;
  }
  return 0;
}

class RateStudy {
 public:
  RateStudy(const scenes::Scene& scene, const materials::MaterialLibrary& library,
            const RateOptions& options, const OnHangProgress& on_progress)
      : scene_(scene), library_(library), options_(options), on_progress_(on_progress) {}

  RateResult run() {
    const auto begin = std::chrono::steady_clock::now();
    result_.hang = hang_tote(scene_, library_, on_progress_);
    Rating& rating = result_.rating;
    rating.set_mass_kg = scene_.contents.mass_kg;
    // A factor smaller than the shock of a snatch lift would not outlast one.
    rating.design_factor =
        std::max(options_.design_factor, library_.rule("carrying_shock_factor").value);
    rating.shock_factor = library_.rule("carrying_shock_factor").value;
    if (result_.hang.findings.converged()) {
      typical_bag();
      // Neither samples nor changes give a rating where the typical bag was not seen to fail.
      if (!rating.can_be_given()) typical_.path.steps.clear();
      if (going() && !typical_.path.steps.empty()) {
        const OnStage tell = [this](const std::string& stage, double share_done) {
          return progress(stage, share_done)();
        };
        sample_bags(scene_, library_, options_, typical_, tell, rating);
      }
      if (going()) rate();
      if (going() && options_.changes && !typical_.path.steps.empty()) {
        rating.changes = try_changes(scene_, library_, typical_, rating, options_.kept,
                                     work_key(scene_, rating.inputs), progress("changes"));
        advise();
      }
      comfort();
    }
    result_.interrupted = !going() || result_.hang.findings.interrupted();
    if (!result_.interrupted) options_.kept.end();
    result_.seconds =
        std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
    return std::move(result_);
  }

 private:
  [[nodiscard]] bool going() const { return !stopped_; }

  std::function<bool()> progress(const std::string& stage, double share_done = 0) {
    return [this, stage, share_done] {
      const std::lock_guard<std::mutex> lock(telling_);
      if (on_progress_ && !on_progress_({stage, {}, share_done})) stopped_ = true;
      return !stopped_;
    };
  }

  // Finest mesh up to its failures, and beside it the coarse mesh over the whole range of loads.
  void typical_bag() {
    const HangResult& hang = result_.hang;
    Rating& rating = result_.rating;
    const double limit = std::max(2.0, kLargestMass_kg / scene_.contents.mass_kg);
    typical_.coarse = hang.coarse;
    std::vector<scenes::Utilisation> at_drop;
    std::vector<scenes::Utilisation> at_spoilt;
    side_by_side({[&] {
                    Climb fine(scene_, hang.tote, hang.loaded, 1.0);
                    fine.set_stop(progress("raising the load, finest mesh"));
                    fine.set_limit(limit, "nothing failed below " +
                                              scenes::mass_text(kLargestMass_kg, scene_.units));
                    climb_to_failures(fine, at_drop, at_spoilt);
                    no_rating_ = !rating.can_be_given();
                  },
                  [&] {
                    for (const solver::LoadStep& step : hang.steps) {
                      if (step.load_factor == 0 || step.load_factor >= 1) continue;
                      typical_.path.steps.push_back(
                          {step.load_factor, step.state,
                           scenes::utilisations(scene_, typical_.coarse, step.state)});
                    }
                    Climb coarse(scene_, typical_.coarse, hang.steps.back().state, 1.0);
                    coarse.set_stop([this, tell = progress("raising the load, coarse mesh")] {
                      return tell() && !no_rating_;
                    });
                    for (LoadPath::Step& step : path_of(coarse, limit)) {
                      typical_.path.steps.push_back(std::move(step));
                    }
                  }});
    if (!going()) return;
    if (rating.drops.found) correct(rating.drops, at_drop, typical_.drops_at);
    if (rating.spoilt.found) correct(rating.spoilt, at_spoilt, typical_.spoilt_at);
  }

  // Up to the first failure, and where that only spoils the bag on to the first that drops the
  // load.
  void climb_to_failures(Climb& fine, std::vector<scenes::Utilisation>& at_drop,
                         std::vector<scenes::Utilisation>& at_spoilt) {
    Rating& rating = result_.rating;
    const FirstFailure first = fine.first_failure(FailureClass::kAny, {}, kMeanTolerance);
    rating.drops = rating.spoilt = first;
    if (!first.found) return;
    const std::vector<scenes::Utilisation>* used = fine.to(first.load_factor);
    if (used == nullptr) {
      if (!first.governing.drops_load) {
        rating.drops =
            not_reached(first.load_factor, "no equilibrium was found again at the first failure");
      }
      return;
    }
    if (first.governing.drops_load) {
      at_drop = *used;
      // A bag that has dropped its load is not spoilt any more.
      rating.spoilt = not_reached(first.load_factor, "the load drops before");
      return;
    }
    at_spoilt = *used;
    rating.drops = fine.first_failure(FailureClass::kDropsLoad, {}, kMeanTolerance);
    used = rating.drops.found ? fine.to(rating.drops.load_factor) : nullptr;
    if (used != nullptr) at_drop = *used;
  }

  // How demands on the coarse mesh are to be corrected to fail where the finest mesh does.
  void correct(const FirstFailure& failure, const std::vector<scenes::Utilisation>& on_fine,
               double& fails_at) {
    const LoadPath::Step* below = typical_.path.below(failure.load_factor);
    if (below == nullptr) return;
    Climb coarse(scene_, typical_.coarse, below->state, below->load_factor);
    coarse.set_stop(progress("the same load, coarse mesh"));
    const std::vector<scenes::Utilisation>* on_coarse = coarse.to(failure.load_factor);
    if (on_coarse == nullptr) return;
    for (const scenes::Utilisation& u : on_fine) {
      const double ratio = ratio_of(*on_coarse, u.mode);
      if (u.drops_load == failure.governing.drops_load && ratio > 0) {
        typical_.correction[u.mode] = u.ratio / ratio;
      }
    }
    fails_at = failure.load_factor;
  }

  // Without samples the load of the typical bag stands for the low end, and the report says so;
  // likewise where even the low end of the sampled bags lies above the typical one.
  static double low_end_kg(const Spread& spread, const FirstFailure& failure, double set_mass_kg) {
    const double typical = failure.load_factor * set_mass_kg;
    return spread.sampled_kg.count > 0 ? std::min(spread.sampled_kg.low, typical) : typical;
  }

  void rate() {
    Rating& r = result_.rating;
    // A load held without failing still is a load the bag holds.
    r.drops_rating_kg = low_end_kg(r.drops_spread, r.drops, r.set_mass_kg) / r.design_factor;
    r.spoilt_rating_kg = low_end_kg(r.spoilt_spread, r.spoilt, r.set_mass_kg) / r.shock_factor;
    const bool spoilable = r.spoilt.found;
    r.spoiling_governs = spoilable && r.spoilt_rating_kg < r.drops_rating_kg;
    if (!r.well_founded()) return;
    r.rated_kg = rounded_down_kg(r.spoiling_governs ? r.spoilt_rating_kg : r.drops_rating_kg);
    r.factor_grade = r.spoiling_governs ? library_.rule("carrying_shock_factor").grade : "";
    const scenes::Utilisation& governing = (r.spoiling_governs ? r.spoilt : r.drops).governing;
    r.weakest_grade = governing.grade;
    r.data = data_grade(scene_, library_, governing);
  }

  void advise() {
    Rating& r = result_.rating;
    for (std::size_t i = 0; i < r.changes.size(); ++i) {
      const Change& change = r.changes[i];
      const double was = r.spoiling_governs ? r.spoilt_rating_kg : r.drops_rating_kg;
      if (!change.solved || !r.touches_limit(change) || change.rated_kg < r.worthwhile() * was) {
        continue;
      }
      r.advised = static_cast<int>(i);
      return;
    }
  }

  Comfort comfort_at(double contents_kg) const {
    Comfort out;
    out.limit_Pa = library_.rule("hand_blood_flow_stops").value;
    out.load_constant_kg = library_.rule("lifting_load_constant").value;
    out.one_hand_kg = library_.rule("one_hand_advice").value;
    out.one_hand_share = library_.rule("one_hand_share").value;
    out.body_mass_share = library_.rule("body_mass_share").value;
    const scenes::Strap& strap = scene_.straps.front();
    out.on_shoulder = strap.style == scenes::StrapStyle::kShoulderStrap;
    if (scene_.support.kind != scenes::SupportKind::kHand || !(scene_.support.grip_width_m > 0))
      return out;
    const double weight = (contents_kg + result_.hang.findings.bag_mass_kg) * 9.80665;
    const double area = scene_.support.grip_width_m * strap.width_m;
    const int ribbons = strap.style == scenes::StrapStyle::kTwoHandles ? 2 : 1;
    out.low_Pa = weight / (ribbons * area);
    out.high_Pa = weight / area;
    return out;
  }

  void comfort() {
    result_.at_set_load = comfort_at(scene_.contents.mass_kg);
    result_.at_rated_load = comfort_at(result_.rating.rated_kg);
  }

  const scenes::Scene& scene_;
  const materials::MaterialLibrary& library_;
  const RateOptions& options_;
  const OnHangProgress& on_progress_;
  RateResult result_;
  TypicalBag typical_;
  std::mutex telling_;
  std::atomic<bool> stopped_{false};
  std::atomic<bool> no_rating_{false};
};

}  // namespace

RateResult rate_tote(const scenes::Scene& scene, const materials::MaterialLibrary& library,
                     const RateOptions& options, const OnHangProgress& on_progress) {
  if (!(options.design_factor >= 1)) {
    throw std::invalid_argument(
        fmt::format("a design factor of {:g} would rate the bag above the load that breaks it; "
                    "it must be at least 1 (5 is usual for sewn lifting bags)",
                    options.design_factor));
  }
  return RateStudy(scene, library, options, on_progress).run();
}

}  // namespace totebench::studies
