#include "app/studies/rate/sampling.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <atomic>
#include <cmath>
#include <map>
#include <stdexcept>

#include "app/studies/rate/sample_text.hpp"
#include "app/studies/rate/work_key.hpp"

namespace totebench::studies {
namespace {

constexpr double kSampleTolerance = 0.03;  // of the ratio at failure; closed by the local slope
constexpr int kSampleIterations = 150;
constexpr double kSampleResidual = 1e-5;  // of the load
constexpr double kSlopeStep = 0.25;       // of an input's standard deviation, either way
constexpr double kLoadStep = 0.02;        // of the load, for how demand grows with it
constexpr double kFarBeyond = 4;          // times the typical bag's failure: not looked for there

constexpr FailureClass kBoth[] = {FailureClass::kDropsLoad, FailureClass::kSpoilsBag};

double ratio_of(const std::vector<scenes::Utilisation>* list, const std::string& mode) {
  if (list == nullptr) return std::nan("");
  for (const scenes::Utilisation& use : *list) {
    if (use.mode == mode) return use.ratio;
  }
  return std::nan("");
}

class Sampling {
 public:
  Sampling(const scenes::Scene& scene, const materials::MaterialLibrary& library,
           const RateOptions& options, const TypicalBag& typical, const OnStage& on_stage,
           Rating& rating)
      : scene_(scene),
        library_(library),
        options_(options),
        typical_(typical),
        on_stage_(on_stage),
        rating_(rating) {
    rating_.inputs = scatter_inputs(scene_, library_);
  }

  void run() {
    draw();
    for (const FailureClass of : kBoth) {
      if (stopped_) return;
      Spread& spread =
          of == FailureClass::kDropsLoad ? rating_.drops_spread : rating_.spoilt_spread;
      if (typical_.fails_at(of) > 0) sensitivities(of, spread);
      collect(of, spread);
    }
  }

 private:
  bool tell(const std::string& stage, double share_done = 0) {
    if (!on_stage_(stage, share_done)) stopped_ = true;
    return !stopped_;
  }

  Climb bag_with(const std::vector<double>& values) {
    scenes::Tote tote = builder_.build(with_values(library_, rating_.inputs, values), 0);
    if (tote.model.mesh.n_nodes() != typical_.coarse.model.mesh.n_nodes()) {
      throw std::logic_error("a sampled bag has another mesh");
    }
    const LoadPath::Step& lightest = typical_.path.steps.front();
    Climb climb(scene_, std::move(tote), lightest.state, lightest.load_factor);
    climb.set_stop([this] { return !stopped_; });
    return climb;
  }

  SampledBag solve_bag(const std::vector<double>& values) {
    SampledBag bag;
    Climb climb = bag_with(values);
    climb.set_effort(kSampleResidual, kSampleIterations);
    climb.set_starts(starts_on(typical_.path));
    const LoadPath::Step& lightest = typical_.path.steps.front();
    for (const FailureClass of : kBoth) {
      if (!(typical_.fails_at(of) > 0)) continue;
      climb.restart(lightest.state, lightest.load_factor);
      climb.set_limit(kFarBeyond * typical_.fails_at(of), "far beyond the typical bag");
      double slope = 1;
      const double guess =
          guessed_failure(typical_.path, scene_, climb.tote(), of, typical_.correction, slope);
      const FirstFailure found =
          climb.first_failure(of, typical_.correction, kSampleTolerance, slope, guess);
      // Where the search ends short of a failure, the largest load held stands for it.
      const bool drops = of == FailureClass::kDropsLoad;
      (drops ? bag.drops : bag.spoilt) = found.load_factor;
      if (found.found) (drops ? bag.drops_by : bag.spoilt_by) = found.governing.mode;
    }
    return bag;
  }

  void draw() {
    const int n = options_.samples;
    const auto drawn = draw_bags(rating_.inputs, n, options_.seed);
    const std::string key =
        fmt::format("{}/{}/{}", work_key(scene_, rating_.inputs), n, options_.seed);
    rating_.bags.resize(drawn.size());
    std::atomic<int> ready = 0;
    Pieces samples;
    samples.count = n;
    samples.key = [&](int i) { return fmt::format("{}/{}", key, i); };
    samples.take_over = [&](int i, const std::string& text) {
      const std::optional<SampledBag> bag = sample_of(text);
      if (!bag) return false;
      rating_.bags[static_cast<std::size_t>(i)] = *bag;
      ++ready;
      return true;
    };
    samples.work_out = [&](int i) -> std::optional<std::string> {
      const auto k = static_cast<std::size_t>(i);
      const SampledBag bag = solve_bag(drawn[k]);
      if (stopped_) return std::nullopt;
      rating_.bags[k] = bag;
      ++ready;
      return sample_text(bag);
    };
    do_pieces(options_.kept, samples, [&] {
      const int tenth = std::max(1, n / 10);
      return tell(fmt::format("sampled bags: {} of {}", ready / tenth * tenth, n),
                  static_cast<double>(ready) / n);
    });
  }

  // Slope of a failure load by each input: of the governing mode's ratio at the failure load, over
  // how that ratio grows with the load.
  void sensitivities(FailureClass of, Spread& spread) {
    const bool drops = of == FailureClass::kDropsLoad;
    const std::string mode = (drops ? rating_.drops : rating_.spoilt).governing.mode;
    const double load = typical_.fails_at(of);
    std::vector<double> values;
    for (const ScatterInput& in : rating_.inputs) values.push_back(in.value);
    Climb typical = bag_with(values);
    const LoadPath::Step* below = typical_.path.below(load);
    if (below == nullptr) return;
    typical.restart(below->state, below->load_factor);
    if (typical.to(load) == nullptr) return;
    const solver::State at_failure = typical.state();
    const double higher = ratio_of(typical.to(load * (1 + kLoadStep)), mode);
    typical.restart(at_failure, load);
    const double lower = ratio_of(typical.to(load * (1 - kLoadStep)), mode);
    const double grows = (higher - lower) / (2 * kLoadStep * load);
    if (!(grows > 0)) return;
    std::vector<double> slope(rating_.inputs.size(), 0);
    run_side_by_side(
        static_cast<int>(slope.size()),
        [&](int i) {
          const auto k = static_cast<std::size_t>(i);
          const ScatterInput& in = rating_.inputs[k];
          const double step = kSlopeStep * std::sqrt(in.variance());
          const double up = std::min(in.value + step, in.high);
          const double down = std::max(in.value - step, in.low);
          const auto ratio_with = [&](double value) {
            std::vector<double> changed = values;
            changed[k] = value;
            Climb climb = bag_with(changed);
            climb.restart(at_failure, load);
            return ratio_of(climb.again(), mode);
          };
          const double by_input = (ratio_with(up) - ratio_with(down)) / (up - down);
          if (std::isfinite(by_input)) slope[k] = -by_input / grows * rating_.set_mass_kg;
        },
        [&] { return tell("sensitivities"); });
    spread.first_order = first_order(rating_.inputs, std::move(slope));
    spread.first_order_kg = spread.first_order.deviation;
  }

  void collect(FailureClass of, Spread& out) {
    const bool drops = of == FailureClass::kDropsLoad;
    std::vector<double> loads;
    std::map<std::string, int> by;
    for (const SampledBag& bag : rating_.bags) {
      const double load = drops ? bag.drops : bag.spoilt;
      if (!(load > 0)) continue;
      loads.push_back(load * rating_.set_mass_kg);
      const std::string& mode = drops ? bag.drops_by : bag.spoilt_by;
      if (!mode.empty()) ++by[mode];
    }
    if (typical_.fails_at(of) > 0) {
      const int missing = static_cast<int>(rating_.bags.size() - loads.size());
      rating_.bags_failed = std::max(rating_.bags_failed, missing);
    }
    out.sampled_kg = band_of(std::move(loads));
    out.governed_by.assign(by.begin(), by.end());
    std::stable_sort(out.governed_by.begin(), out.governed_by.end(),
                     [](const auto& a, const auto& b) { return a.second > b.second; });
  }

  const scenes::Scene& scene_;
  scenes::ToteBuilder builder_{scene_};
  const materials::MaterialLibrary& library_;
  const RateOptions& options_;
  const TypicalBag& typical_;
  const OnStage& on_stage_;
  Rating& rating_;
  std::atomic<bool> stopped_{false};
};

}  // namespace

void sample_bags(const scenes::Scene& scene, const materials::MaterialLibrary& library,
                 const RateOptions& options, const TypicalBag& typical, const OnStage& on_stage,
                 Rating& rating) {
  Sampling(scene, library, options, typical, on_stage, rating).run();
}

}  // namespace totebench::studies
