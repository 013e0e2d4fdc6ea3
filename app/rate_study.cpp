#include "app/rate_study.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <atomic>
#include <chrono>
#include <cmath>
#include <mutex>
#include <stdexcept>

#include "app/rate_changes.hpp"
#include "app/rate_samples_file.hpp"

namespace totebench {
namespace {

constexpr double kMeanTolerance = 1e-3;    // of the ratio at failure, bag with the typical data
constexpr double kSampleTolerance = 0.05;  // closed by the local slope
constexpr int kSampleIterations = 150;
constexpr double kSampleResidual = 1e-5;  // of the load
constexpr double kSlopeStep = 0.25;       // of an input's standard deviation, either way
constexpr double kLoadStep = 0.02;        // of the load, for how demand grows with it

constexpr FailureClass kBoth[2] = {FailureClass::kDropsLoad, FailureClass::kSpoilsBag};

double ratio_of(const std::vector<Utilisation>& list, const std::string& mode) {
  for (const Utilisation& use : list) {
    if (use.mode == mode) return use.ratio;
  }
  return 0;
}

// The coarse bag at a known load, from which every variation starts.
struct Anchor {
  State state;
  double load_factor = 0;
};

class RateStudy {
 public:
  RateStudy(const Scene& scene, const MaterialLibrary& library, const RateOptions& options,
            const OnHangProgress& on_progress)
      : scene_(scene), library_(library), options_(options), on_progress_(on_progress) {}

  RateResult run() {
    const auto begin = std::chrono::steady_clock::now();
    result_.hang = hang_tote(scene_, library_, on_progress_);
    Rating& rating = result_.rating;
    rating.set_mass_kg = scene_.contents.mass_kg;
    rating.design_factor = options_.design_factor;
    rating.shock_factor = library_.rule("carrying_shock_factor").value;
    if (result_.hang.findings.converged()) {
      typical_bag();
      if (going()) scatter();
      if (going()) rate();
      if (going() && options_.changes) {
        rating.changes = try_changes(scene_, library_, correction_, rating, progress("changes"));
        advise();
      }
      comfort();
    }
    result_.interrupted = !going() || result_.hang.findings.interrupted();
    result_.seconds =
        std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
    return std::move(result_);
  }

 private:
  [[nodiscard]] bool going() const { return !stopped_; }

  std::function<bool()> progress(const std::string& stage) {
    return [this, stage] {
      const std::lock_guard<std::mutex> lock(telling_);
      if (on_progress_ && !on_progress_({stage, {}})) stopped_ = true;
      return !stopped_;
    };
  }

  FirstFailure& failure(FailureClass of) {
    return of == FailureClass::kDropsLoad ? result_.rating.drops : result_.rating.spoilt;
  }

  // Finest mesh; the coarse mesh goes along to give the starts and the corrections. Every failure
  // is climbed to from below, the lower one first.
  void typical_bag() {
    const HangResult& hang = result_.hang;
    Climb coarse(scene_, hang.coarse, hang.steps.back().state, 1.0);
    coarse.set_stop(progress("raising the load, coarse mesh"));
    const double most = std::max(2.0, kLargestMass_kg / scene_.contents.mass_kg);
    const std::string why = fmt::format("nothing failed below {:.0f} kg", kLargestMass_kg);
    // A bag that has dropped its load is not spoilt any more.
    const auto limit = [&](Climb& climb, int c, const FirstFailure& drops) {
      const bool after = c == 1 && drops.found;
      climb.set_limit(after ? drops.load_factor : most, after ? "the load drops before" : why);
    };
    FirstFailure rough[2];
    for (const int c : {0, 1}) {
      if (!going()) return;
      coarse.restart(hang.steps.back().state, 1.0);
      limit(coarse, c, rough[0]);
      rough[c] = coarse.first_failure(kBoth[c], {}, kMeanTolerance);
    }
    Climb fine(scene_, hang.tote, hang.loaded, 1.0);
    fine.set_stop(progress("raising the load, finest mesh"));
    State below = hang.loaded;
    double below_factor = 1;
    const bool spoilt_first = rough[1].found;
    for (const int c : spoilt_first ? std::array{1, 0} : std::array{0, 1}) {
      if (!going()) return;
      limit(fine, c, result_.rating.drops);
      const FirstFailure found = fine.first_failure(kBoth[c], {}, kMeanTolerance);
      failure(kBoth[c]) = found;
      if (!found.found) {
        // What is left is looked for from the last rest below.
        fine.restart(below, below_factor);
        continue;
      }
      const auto* used = fine.to(fine.load_factor());
      if (used == nullptr) continue;
      const std::vector<Utilisation> fine_use = *used;
      coarse.restart(hang.steps.back().state, 1.0);
      const auto* coarse_use = coarse.to(fine.load_factor());
      if (coarse_use == nullptr) continue;
      anchor_[c] = {coarse.state(), coarse.load_factor()};
      for (const Utilisation& u : fine_use) {
        const double on_coarse = ratio_of(*coarse_use, u.mode);
        const bool drops = kBoth[c] == FailureClass::kDropsLoad;
        if (u.drops_load == drops && on_coarse > 0) correction_[u.mode] = u.ratio / on_coarse;
      }
      anchored_[c] = true;
      if (c == 1) {
        below = fine.state();
        below_factor = fine.load_factor();
      } else {
        fine.restart(below, below_factor);
      }
    }
    coarse_ = hang.coarse;
  }

  // A climb of another bag of the same mesh from the anchor of a class.
  Climb vary(const std::vector<double>& values, int c) {
    const MaterialLibrary library = with_values(library_, result_.rating.inputs, values);
    Tote tote;
    {
      const std::lock_guard<std::mutex> lock(building_);  // the mesh generator has statics
      tote = build_tote(scene_, library, 0);
    }
    if (tote.model.mesh.n_nodes() != coarse_.model.mesh.n_nodes()) {
      throw std::logic_error("a sampled bag has another mesh");
    }
    Climb climb(scene_, std::move(tote), anchor_[c].state, anchor_[c].load_factor);
    climb.set_stop([this] { return !stopped_; });
    return climb;
  }

  SampledBag solve_bag(const std::vector<double>& values) {
    SampledBag bag;
    for (int c = 0; c < 2; ++c) {
      if (!anchored_[c]) continue;
      Climb climb = vary(values, c);
      climb.set_effort(kSampleResidual, kSampleIterations);
      climb.set_limit(4 * anchor_[c].load_factor, "far beyond the typical bag");
      const FirstFailure found =
          climb.first_failure(kBoth[c], correction_, kSampleTolerance, slope_[c]);
      if (!found.found) continue;
      (c == 0 ? bag.drops : bag.spoilt) = found.load_factor;
      (c == 0 ? bag.drops_by : bag.spoilt_by) = found.governing.mode;
    }
    return bag;
  }

  void scatter() {
    Rating& rating = result_.rating;
    rating.inputs = scatter_inputs(scene_, library_);
    const int n = options_.samples;
    const auto drawn = draw_bags(rating.inputs, n, options_.seed);
    SamplesFile kept(options_.samples_file, samples_key(scene_, rating.inputs, options_));
    std::vector<char> done(drawn.size(), 0);
    rating.bags.resize(drawn.size());
    int ready = kept.load(rating.bags, done);
    typical_slopes();
    run_side_by_side(
        n,
        [&](int i) {
          const auto k = static_cast<std::size_t>(i);
          if (done[k] != 0) return;
          const SampledBag bag = solve_bag(drawn[k]);
          if (stopped_) return;
          rating.bags[k] = bag;
          done[k] = 1;
          kept.add(i, bag);
        },
        [&] {
          ready = static_cast<int>(std::count(done.begin(), done.end(), 1));
          const int tenth = std::max(1, n / 10);
          return progress(fmt::format("sampled bags: {} of {}", ready / tenth * tenth, n))();
        });
    if (!going()) return;
    sensitivities();
    spread(rating.drops_spread, FailureClass::kDropsLoad);
    spread(rating.spoilt_spread, FailureClass::kSpoilsBag);
  }

  // How the hardest demand of the typical bag grows at its failure, log ratio by log load.
  void typical_slopes() {
    for (int c = 0; c < 2; ++c) {
      if (!anchored_[c] || !going()) continue;
      const std::string mode = failure(kBoth[c]).governing.mode;
      Climb climb(scene_, coarse_, anchor_[c].state, anchor_[c].load_factor);
      const auto* here = climb.again();
      const double ratio = here != nullptr ? ratio_of(*here, mode) : 0;
      const auto* above = climb.to(anchor_[c].load_factor * 1.1);
      const double higher = above != nullptr ? ratio_of(*above, mode) : 0;
      if (ratio > 0 && higher > ratio) {
        slope_[c] = std::clamp(std::log(higher / ratio) / std::log(1.1), 0.4, 3.0);
      }
    }
  }

  // Slope of each failure load by each input: of the governing mode's ratio at the failure load,
  // over how that ratio grows with the load.
  void sensitivities() {
    Rating& rating = result_.rating;
    const int n_inputs = static_cast<int>(rating.inputs.size());
    std::vector<double> typical;
    for (const ScatterInput& in : rating.inputs) typical.push_back(in.value);
    for (int c = 0; c < 2; ++c) {
      if (!anchored_[c] || !going()) continue;
      const std::string mode = failure(kBoth[c]).governing.mode;
      const double load = anchor_[c].load_factor;
      const auto ratio_at = [&](const std::vector<double>& values, double factor) {
        Climb climb = vary(values, c);
        const auto* used = factor == load ? climb.again() : climb.to(factor);
        return used != nullptr ? ratio_of(*used, mode) : std::nan("");
      };
      const double grows =
          (ratio_at(typical, load * (1 + kLoadStep)) - ratio_at(typical, load * (1 - kLoadStep))) /
          (2 * kLoadStep * load);
      std::vector<double> slope(rating.inputs.size(), 0);
      run_side_by_side(
          n_inputs,
          [&](int i) {
            const auto k = static_cast<std::size_t>(i);
            const ScatterInput& in = rating.inputs[k];
            const double step = kSlopeStep * std::sqrt(in.variance());
            std::vector<double> up = typical;
            std::vector<double> down = typical;
            up[k] = std::min(in.value + step, in.high);
            down[k] = std::max(in.value - step, in.low);
            const double rise = ratio_at(up, load) - ratio_at(down, load);
            const double by_input = rise / (up[k] - down[k]);
            slope[k] = std::isfinite(by_input) ? -by_input / grows * rating.set_mass_kg : 0;
          },
          progress("sensitivities"));
      Spread& spread = c == 0 ? rating.drops_spread : rating.spoilt_spread;
      spread.first_order = first_order(rating.inputs, std::move(slope));
      spread.first_order_kg = spread.first_order.deviation;
    }
  }

  void spread(Spread& out, FailureClass of) {
    std::vector<double> loads;
    std::map<std::string, int> by;
    int missing = 0;
    for (const SampledBag& bag : result_.rating.bags) {
      const bool drops = of == FailureClass::kDropsLoad;
      const double load = drops ? bag.drops : bag.spoilt;
      if (!(load > 0)) {
        ++missing;
        continue;
      }
      loads.push_back(load * result_.rating.set_mass_kg);
      ++by[drops ? bag.drops_by : bag.spoilt_by];
    }
    if (anchored_[of == FailureClass::kDropsLoad ? 0 : 1]) result_.rating.bags_failed += missing;
    out.sampled_kg = band_of(std::move(loads));
    out.governed_by.assign(by.begin(), by.end());
    std::stable_sort(out.governed_by.begin(), out.governed_by.end(),
                     [](const auto& a, const auto& b) { return a.second > b.second; });
  }

  // Without samples the load of the typical bag stands for the low end, and the report says so.
  static double low_end_kg(const Spread& spread, const FirstFailure& failure, double set_mass_kg) {
    if (spread.sampled_kg.count > 0) return spread.sampled_kg.low;
    return failure.load_factor * set_mass_kg;
  }

  void rate() {
    Rating& r = result_.rating;
    // A load held without failing still is a load the bag holds.
    r.drops_rating_kg = low_end_kg(r.drops_spread, r.drops, r.set_mass_kg) / r.design_factor;
    r.spoilt_rating_kg = low_end_kg(r.spoilt_spread, r.spoilt, r.set_mass_kg) / r.shock_factor;
    const bool spoilable = r.spoilt.found;
    r.spoiling_governs = spoilable && r.spoilt_rating_kg < r.drops_rating_kg;
    r.rated_kg = rounded_down_kg(r.spoiling_governs ? r.spoilt_rating_kg : r.drops_rating_kg);
    r.weakest_grade = (r.spoiling_governs ? r.spoilt : r.drops).governing.grade;
  }

  void advise() {
    Rating& r = result_.rating;
    for (std::size_t i = 0; i < r.changes.size(); ++i) {
      const Change& change = r.changes[i];
      if (!change.solved || rounded_down_kg(change.rated_kg) <= r.rated_kg) continue;
      r.advised = static_cast<int>(i);
      return;
    }
  }

  Comfort comfort_at(double contents_kg) const {
    Comfort out;
    out.limit_Pa = library_.rule("hand_blood_flow_stops").value;
    out.load_constant_kg = library_.rule("lifting_load_constant").value;
    out.one_hand_kg = library_.rule("one_hand_advice").value;
    const Strap& strap = scene_.straps.front();
    if (scene_.support.kind != SupportKind::kHand || !(scene_.support.grip_width_m > 0)) return out;
    const double weight = (contents_kg + result_.hang.findings.bag_mass_kg) * 9.80665;
    const double area = scene_.support.grip_width_m * strap.width_m;
    const int ribbons = strap.style == StrapStyle::kTwoHandles ? 2 : 1;
    out.low_Pa = weight / (ribbons * area);
    out.high_Pa = weight / area;
    return out;
  }

  void comfort() {
    result_.at_set_load = comfort_at(scene_.contents.mass_kg);
    result_.at_rated_load = comfort_at(result_.rating.rated_kg);
  }

  const Scene& scene_;
  const MaterialLibrary& library_;
  const RateOptions& options_;
  const OnHangProgress& on_progress_;
  RateResult result_;
  Tote coarse_;
  Anchor anchor_[2];  // as kBoth
  bool anchored_[2] = {false, false};
  double slope_[2] = {1, 1};
  MeshCorrection correction_;
  std::mutex building_;
  std::mutex telling_;
  std::atomic<bool> stopped_{false};
};

}  // namespace

const FirstFailure& Rating::first() const {
  if (!spoilt.found) return drops;
  if (!drops.found) return spoilt;
  return drops.load_factor <= spoilt.load_factor ? drops : spoilt;
}

double rounded_down_kg(double kg) {
  const double step = kg < 2 ? 0.1 : 0.5;
  return std::max(0.0, std::floor(kg / step + 1e-9) * step);
}

RateResult rate_tote(const Scene& scene, const MaterialLibrary& library, const RateOptions& options,
                     const OnHangProgress& on_progress) {
  if (!(options.design_factor >= 1)) {
    throw std::invalid_argument(
        fmt::format("a design factor of {:g} would rate the bag above the load that breaks it; "
                    "it must be at least 1 (5 is usual for sewn lifting bags)",
                    options.design_factor));
  }
  return RateStudy(scene, library, options, on_progress).run();
}

}  // namespace totebench
