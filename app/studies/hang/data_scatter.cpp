#include "totebench/studies/data_scatter.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <atomic>
#include <cmath>
#include <mutex>

#include "totebench/studies/rate_scatter.hpp"

namespace totebench::studies {
namespace {

constexpr double kOneInTwenty = 0.05;
constexpr double kScatterResidual = 1e-4;  // of the load
constexpr double kSmallMove = 5e-3;        // of every figure: too little to count

class ScatterStudy {
 public:
  ScatterStudy(const scenes::Scene& scene, const materials::MaterialLibrary& library,
               const HangResult& hung, const OnHangProgress& on_progress)
      : scene_(scene),
        library_(library),
        hung_(hung),
        on_progress_(on_progress),
        inputs_(scatter_inputs(scene, library)) {}

  std::optional<DataScatter> run() {
    std::vector<DataScatter::Moves> moves(inputs_.size());
    std::vector<char> unsolved(inputs_.size(), 0);
    run_side_by_side(
        static_cast<int>(inputs_.size()),
        [&](int i) {
          const auto k = static_cast<std::size_t>(i);
          const ScatterInput& input = inputs_[k];
          moves[k].input = input.label();
          const bool low_first = further_down(input);
          const Bag far = bag_with(input, low_first ? kOneInTwenty : 1 - kOneInTwenty);
          if (far.untouched) return;
          // A number that hardly counts at its further end is taken to move as far at the other.
          const Bag near = far.at_rest && far.small
                               ? mirrored(far)
                               : bag_with(input, low_first ? 1 - kOneInTwenty : kOneInTwenty);
          const Bag& low = low_first ? far : near;
          const Bag& high = low_first ? near : far;
          unsolved[k] = low.at_rest && high.at_rest ? 0 : 1;
          if (unsolved[k] != 0) return;
          moves[k].at_low = low.moved;
          moves[k].at_high = high.moved;
        },
        [&] {
          ++done_;
          return going({});
        });
    if (stopped_) return std::nullopt;
    DataScatter scatter;
    scatter.own_materials = !scene_.own_materials.empty();
    for (std::size_t k = 0; k < moves.size(); ++k) {
      scatter.unsolved += unsolved[k];
      constexpr DataScatter::PerFigure kNone{};
      if (moves[k].at_low == kNone && moves[k].at_high == kNone) continue;
      scatter.moves.push_back(std::move(moves[k]));
    }
    return scatter;
  }

 private:
  struct Bag {
    bool at_rest = false;
    bool untouched = false;  // the typical bag's shape is its own
    bool small = true;       // all moves are
    DataScatter::PerFigure moved{};
  };

  bool going(const solver::Progress& progress) {
    const std::lock_guard lock(telling_);
    const std::size_t tenth = std::max<std::size_t>(1, inputs_.size() / 10);
    const std::string stage =
        fmt::format("scatter of the data: {} of {} numbers", done_ / tenth * tenth, inputs_.size());
    const double share = static_cast<double>(done_) / static_cast<double>(inputs_.size());
    if (on_progress_ && !on_progress_({stage, progress, share})) stopped_ = true;
    return !stopped_;
  }

  // Of both ends the one further from the value, as a ratio: stiffnesses range over decades.
  static bool further_down(const ScatterInput& in) {
    const double low = triangle_quantile(in, kOneInTwenty);
    const double high = triangle_quantile(in, 1 - kOneInTwenty);
    return low > 0 ? in.value / low > high / in.value : in.value - low > high - in.value;
  }

  static Bag mirrored(Bag bag) {
    for (double& move : bag.moved) move = -move;
    return bag;
  }

  // The bag with one number where this share lies below it, the others at their values.
  Bag bag_with(const ScatterInput& input, double chance) {
    const scenes::Tote tote =
        builder_.build(with_values(library_, {input}, {triangle_quantile(input, chance)}), 0);
    solver::SolveOptions options;
    options.residual_tolerance = kScatterResidual;
    options.on_progress = [this](const solver::Progress& progress) { return going(progress); };
    solver::State empty = hung_.steps.front().state;
    solver::State loaded = hung_.steps.back().state;
    solver::EquilibriumSearch search(tote.model);
    Bag bag;
    const solver::SolveReport of_loaded = search.find(1.0, loaded, options);
    bag.untouched =
        of_loaded.status == solver::SolveStatus::kConverged && of_loaded.newton_iterations == 0;
    if (bag.untouched) return bag;
    const solver::SolveReport of_empty = search.find(0.0, empty, options);
    bag.at_rest = of_empty.status == solver::SolveStatus::kConverged &&
                  of_loaded.status == solver::SolveStatus::kConverged;
    if (!bag.at_rest) return bag;
    const scenes::Findings found =
        scenes::make_findings(scene_, tote, empty, of_empty, loaded, of_loaded);
    for (std::size_t k = 0; k < scenes::kFigures.size(); ++k) {
      const scenes::Figure& figure = scenes::kFigures[k];
      if (figure.likely_from != scenes::LikelyFrom::kMaterials) continue;
      const double typical = figure.value(*hung_.coarse_findings);
      bag.moved[k] = figure.value(found) - typical;
      bag.small &= std::abs(bag.moved[k]) < kSmallMove * std::abs(typical);
    }
    return bag;
  }

  const scenes::Scene& scene_;
  scenes::ToteBuilder builder_{scene_};
  const materials::MaterialLibrary& library_;
  const HangResult& hung_;
  const OnHangProgress& on_progress_;
  std::vector<ScatterInput> inputs_;
  std::mutex telling_;
  std::atomic<std::size_t> done_{0};
  std::atomic<bool> stopped_{false};
};

}  // namespace

std::optional<DataScatter> data_scatter(const scenes::Scene& scene,
                                        const materials::MaterialLibrary& library,
                                        const HangResult& hung, const OnHangProgress& on_progress) {
  if (!hung.findings.converged() || !hung.coarse_findings) return std::nullopt;
  return ScatterStudy(scene, library, hung, on_progress).run();
}

}  // namespace totebench::studies
