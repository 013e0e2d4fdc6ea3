#include "totebench/studies/sweep.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <mutex>

#include "app/studies/rate/work_key.hpp"
#include "app/studies/sweep/bag_text.hpp"
#include "totebench/studies/rate_scatter.hpp"

namespace totebench::studies {
namespace {

std::string why_not_made(const std::vector<scenes::Diagnostic>& diagnostics) {
  for (const scenes::Diagnostic& d : diagnostics) {
    if (d.severity == scenes::Severity::kError) return d.message;
  }
  return "it cannot be read";
}

std::string why_no_rest(const scenes::Findings& found) {
  const bool empty = found.empty.status != solver::SolveStatus::kConverged;
  const solver::SolveReport& report = empty ? found.empty : found.loaded;
  switch (report.failure) {
    case solver::SolveFailure::kContentsOverflow:
      return "the contents do not fit in the bag";
    case solver::SolveFailure::kCrossing:
      return "at rest only with surfaces that pass through each other";
    default:
      return empty ? "no equilibrium of the empty bag was found"
                   : fmt::format("no equilibrium was found above {:.0f} % of the load",
                                 100 * report.load_factor);
  }
}

class SweepStudy {
 public:
  SweepStudy(const scenes::ReadSweep& sweep, const materials::MaterialLibrary& library,
             const SweepOptions& options, const OnHangProgress& on_progress)
      : sweep_(sweep), library_(library), options_(options), on_progress_(on_progress) {}

  SweepResult run() {
    const auto begin = std::chrono::steady_clock::now();
    result_.factors = sweep_.factors;
    result_.coarse = options_.coarse;
    check_all();
    if (!stopped_) hang_all();
    result_.interrupted = stopped_;
    if (!stopped_) options_.kept.end();
    result_.seconds =
        std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
    return std::move(result_);
  }

 private:
  [[nodiscard]] int n() const { return static_cast<int>(sweep_.n_bags); }
  SweptBag& bag(int i) { return result_.bags[static_cast<std::size_t>(i)]; }

  // At every step of a solve; several threads may ask.
  bool tell(const std::string& stage, double share_done) {
    const std::lock_guard<std::mutex> lock(telling_);
    if (!stopped_ && on_progress_ && !on_progress_({stage, {}, share_done})) stopped_ = true;
    return !stopped_;
  }
  bool tell_hung() {
    return tell(fmt::format("bags hung: {} of {}", hung_.load(), to_hang_.size()),
                static_cast<double>(hung_) / static_cast<double>(to_hang_.size()));
  }

  // Which can be made, and what each is known by: nothing is hung before all are looked at.
  void check_all() {
    result_.bags.resize(sweep_.n_bags);
    keys_.resize(sweep_.n_bags);
    run_side_by_side(
        n(), [this](int i) { check(i); },
        [this] { return tell(fmt::format("checking {} bags", n()), 0); });
    for (int i = 0; i < n(); ++i) {
      if (bag(i).state != Swept::kImpossible) to_hang_.push_back(i);
    }
  }

  void check(int i) {
    const auto k = static_cast<std::size_t>(i);
    bag(i).values = sweep_.values(k);
    const scenes::ReadResult read = sweep_.read(k);
    if (!read.scene) {
      bag(i).state = Swept::kImpossible;
      bag(i).why = why_not_made(read.diagnostics);
      return;
    }
    const materials::MaterialLibrary its = scenes::library_of(*read.scene, library_);
    scenes::Scene made = *read.scene;  // a bag is known by what it is, not by what it is called
    made.name.clear();
    made.note.clear();
    made.units.clear();
    keys_[k] = fmt::format("{}/{}", work_key(made, scatter_inputs(made, its)),
                           options_.coarse ? "coarse" : "full");
  }

  void hang_all() {
    const auto bag_of = [this](int piece) { return to_hang_[static_cast<std::size_t>(piece)]; };
    Pieces pieces;
    pieces.count = static_cast<int>(to_hang_.size());
    pieces.key = [&](int p) { return keys_[static_cast<std::size_t>(bag_of(p))]; };
    pieces.take_over = [&](int p, const std::string& text) {
      if (!take_bag(text, bag(bag_of(p)))) return false;
      ++hung_;
      return true;
    };
    pieces.work_out = [&](int p) -> std::optional<std::string> {
      SweptBag hung = bag(bag_of(p));
      hang(static_cast<std::size_t>(bag_of(p)), hung);
      if (stopped_) return std::nullopt;
      bag(bag_of(p)) = hung;
      ++hung_;
      return bag_text(hung);
    };
    do_pieces(options_.kept, pieces, [this] { return tell_hung(); });
  }

  void hang(std::size_t i, SweptBag& out) {
    scenes::Scene scene = *sweep_.read(i).scene;
    std::optional<int> level;
    if (options_.coarse) {
      level = 0;
      scene.solve.shapes = 0;
    }
    const HangResult hung = hang_tote(
        scene, scenes::library_of(scene, library_),
        [this](const HangProgress&) { return tell_hung(); }, level);
    const scenes::Findings& found = hung.findings;
    if (!found.converged() || hung.stopped_early) {
      out.state = Swept::kNoRest;
      out.why = why_no_rest(found);
      return;
    }
    out.state = Swept::kAtRest;
    for (std::size_t f = 0; f < out.figures.size(); ++f) {
      out.figures[f] = scenes::kFigures[f].value(found);
    }
    if (found.utilisation.empty()) return;
    const scenes::Utilisation& most = found.utilisation.front();
    out.strength_used = most.ratio;
    out.strength_used_where = most.what;
    out.drops_load = most.drops_load;
  }

  const scenes::ReadSweep& sweep_;
  const materials::MaterialLibrary& library_;
  const SweepOptions& options_;
  const OnHangProgress& on_progress_;
  SweepResult result_;
  std::vector<std::string> keys_;  // one a bag
  std::vector<int> to_hang_;
  std::atomic<int> hung_ = 0;
  std::mutex telling_;
  std::atomic<bool> stopped_{false};
};

}  // namespace

int SweepResult::count(Swept state) const {
  return static_cast<int>(std::count_if(
      bags.begin(), bags.end(), [state](const SweptBag& bag) { return bag.state == state; }));
}

SweepResult sweep_totes(const scenes::SweepSpec& spec, const scenes::ReadSweep& sweep,
                        const materials::MaterialLibrary& library, const SweepOptions& options,
                        const OnHangProgress& on_progress) {
  SweepResult result = SweepStudy(sweep, library, options, on_progress).run();
  result.spec = spec;
  return result;
}

}  // namespace totebench::studies
