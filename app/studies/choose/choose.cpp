#include "totebench/studies/choose.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <cmath>
#include <limits>
#include <map>
#include <mutex>
#include <stdexcept>

#include "app/studies/choose/solve_text.hpp"
#include "totebench/scenes/design.hpp"
#include "totebench/studies/rate_scatter.hpp"

namespace totebench::studies {
namespace {

constexpr double kMassStep_kg = 1e-5;  // masses closer than this are the same

std::string first_error(const std::vector<scenes::Diagnostic>& diagnostics) {
  for (const scenes::Diagnostic& d : diagnostics) {
    if (d.severity == scenes::Severity::kError) return d.message;
  }
  return "it cannot be read";
}

class ChooseStudy {
 public:
  ChooseStudy(const scenes::Scene& scene, const scenes::ReadBuild& build,
              const materials::MaterialLibrary& library, const KeptWork& kept,
              const OnHangProgress& on_progress)
      : scene_(scene),
        read_build_(build),
        library_(library),
        kept_(kept),
        on_progress_(on_progress) {}

  ChooseResult run() {
    const auto begin = std::chrono::steady_clock::now();
    result_.spec = *scene_.choose;
    const double carries = result_.spec.limits.carries_kg;
    result_.load.carries_kg = std::isnan(carries) ? 0 : carries;
    // As in a rating: a factor smaller than the shock of a snatch lift would not outlast one.
    result_.load.shock_factor = library_.rule("carrying_shock_factor").value;
    result_.load.design_factor = std::max(scene_.rating.design_factor, result_.load.shock_factor);
    make_builds();
    if (!stopped_) search();
    if (!stopped_ && result_.shown() >= 0) show();
    result_.interrupted = stopped_;
    if (!stopped_) kept_.end();
    result_.seconds =
        std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
    return std::move(result_);
  }

 private:
  bool tell(const std::string& stage) {
    {
      const std::lock_guard<std::mutex> lock(telling_);
      stage_ = stage;
    }
    return asked();
  }

  // At every step of a solve; several threads may ask.
  bool asked() {
    const std::lock_guard<std::mutex> lock(telling_);
    if (!stopped_ && on_progress_ && !on_progress_({stage_, {}})) stopped_ = true;
    return !stopped_;
  }

  void make_builds() {
    for (const scenes::Option& option : result_.spec.options) {
      alternatives_.push_back(static_cast<int>(option.alternatives.size()));
    }
    const std::size_t n = scenes::n_combinations(alternatives_);
    tell(fmt::format("making {} builds", n));
    result_.builds.resize(n);
    run_side_by_side(
        static_cast<int>(n),
        [&](int k) {
          const auto i = static_cast<std::size_t>(k);
          result_.builds[i] = made(scenes::combination(alternatives_, i));
        },
        [this] { return asked(); });
    result_.coarse.resize(n);
    result_.full.resize(n);
  }

  ChooseBuild made(const std::vector<int>& picks) {
    ChooseBuild build;
    build.picks = picks;
    for (std::size_t o = 0; o < picks.size(); ++o) {
      build.price += result_.spec.options[o].alternatives[static_cast<std::size_t>(picks[o])].price;
    }
    scenes::ReadResult read = read_build_(picks);
    if (!read.scene) {
      build.impossible = first_error(read.diagnostics);
      return build;
    }
    build.scene = std::move(*read.scene);
    const materials::MaterialLibrary its = scenes::library_of(build.scene, library_);
    const double mass =
        scenes::build_tote(build.scene, its, scenes::finest_level(build.scene)).bag_mass_kg;
    build.mass_kg = kMassStep_kg * std::round(mass / kMassStep_kg);
    build.must_stand_m = result_.spec.limits.standing_height_m;
    return build;
  }

  void search() {
    SearchProblem problem;
    problem.alternatives = alternatives_;
    problem.limits = figure_limits(result_.spec.limits);
    problem.drawn = kFigureSag;
    for (const ChooseBuild& build : result_.builds) {
      problem.possible.push_back(build.impossible.empty());
      problem.cost.push_back(result_.spec.aim == scenes::ChooseAim::kLightest ? build.mass_kg
                                                                              : build.price);
      Figures known(kChooseFigures.size(), std::numeric_limits<double>::quiet_NaN());
      known[kFigureMass] = build.mass_kg;
      known[kFigurePrice] = build.price;
      problem.known.push_back(std::move(known));
    }
    problem.coarse = [this](const std::vector<std::size_t>& batch) { return solve_batch(batch); };
    problem.full = [this](std::size_t i) {
      tell(fmt::format("build {} on the full mesh", i + 1));
      solve({i}, true);
      return result_.full[i].figures;
    };
    problem.keep_going = [this] { return !stopped_; };
    result_.search = search_builds(problem);
  }

  std::vector<Figures> solve_batch(const std::vector<std::size_t>& batch) {
    tell(fmt::format("coarse mesh: {} builds solved", n_coarse_));
    solve(batch, false);
    std::vector<Figures> found;
    found.reserve(batch.size());
    for (const std::size_t i : batch) found.push_back(result_.coarse[i].figures);
    n_coarse_ += static_cast<int>(batch.size());
    return found;
  }

  // Each from what was kept, by this run or another, or solved now.
  void solve(const std::vector<std::size_t>& builds, bool in_full) {
    const auto build_of = [&](int piece) { return builds[static_cast<std::size_t>(piece)]; };
    std::vector<BuildSolve>& solves = in_full ? result_.full : result_.coarse;
    Pieces pieces;
    pieces.count = static_cast<int>(builds.size());
    pieces.in_turn = in_full;
    pieces.key = [&](int k) {
      const ChooseBuild& build = result_.builds[build_of(k)];
      return solve_key(build, scenes::library_of(build.scene, library_), result_.load,
                       in_full ? scenes::finest_level(build.scene) : 0);
    };
    pieces.take_over = [&](int k, const std::string& text) {
      const std::optional<BuildSolve> kept = solve_of(text);
      if (kept) solves[build_of(k)] = *kept;
      return kept.has_value();
    };
    pieces.work_out = [&](int k) -> std::optional<std::string> {
      const BuildSolve found = solved(build_of(k), in_full);
      if (stopped_) return std::nullopt;
      solves[build_of(k)] = found;
      return solve_text(found);
    };
    do_pieces(kept_, pieces, [this] { return asked(); });
  }

  BuildSolve solved(std::size_t i, bool in_full) {
    const ChooseBuild& build = result_.builds[i];
    const materials::MaterialLibrary its = scenes::library_of(build.scene, library_);
    const std::function<bool()> keep_going = [this] { return asked(); };
    BuildSolve solve =
        solve_build(build, its, result_.load, in_full ? scenes::finest_level(build.scene) : 0,
                    keep_going, in_full ? &hangs_[i] : nullptr);
    const Figures& coarse = result_.coarse[i].figures;
    solve.figures[kFigureStands] =
        coarse.empty() ? standing_share(build, its, keep_going) : coarse[kFigureStands];
    return solve;
  }

  void show() {
    const auto i = static_cast<std::size_t>(result_.shown());
    const auto it = hangs_.find(i);
    if (it != hangs_.end() && !it->second.tote.model.mesh.triangles.empty()) {
      result_.hang = std::move(it->second);
      return;
    }
    tell("the build to show");
    const ChooseBuild& build = result_.builds[i];
    result_.hang = hang_tote(build.scene, scenes::library_of(build.scene, library_),
                             [this](const HangProgress&) { return asked(); });
  }

  const scenes::Scene& scene_;
  const scenes::ReadBuild& read_build_;
  const materials::MaterialLibrary& library_;
  const KeptWork& kept_;
  const OnHangProgress& on_progress_;
  ChooseResult result_;
  std::vector<int> alternatives_;
  std::map<std::size_t, HangResult> hangs_;  // of builds solved in full
  int n_coarse_ = 0;
  std::mutex telling_;
  std::string stage_;
  std::atomic<bool> stopped_{false};
};

}  // namespace

int ChooseResult::n_possible() const {
  return static_cast<int>(std::count_if(builds.begin(), builds.end(), [](const ChooseBuild& build) {
    return build.impossible.empty();
  }));
}

int ChooseResult::n_solved(bool in_full) const {
  const std::vector<BuildSolve>& list = in_full ? full : coarse;
  return static_cast<int>(std::count_if(
      list.begin(), list.end(), [](const BuildSolve& solve) { return !solve.figures.empty(); }));
}

Figures figure_limits(const scenes::ChooseLimits& limits) {
  Figures out;
  for (const ChooseFigure& figure : kChooseFigures) {
    const double limit = limits.*figure.limit;
    const double most = figure.share != nullptr ? 1 : limit;
    out.push_back(std::isnan(limit) ? std::numeric_limits<double>::infinity() : most);
  }
  return out;
}

std::string build_name(const scenes::ChooseSpec& spec, const std::vector<int>& picks) {
  std::string text;
  for (std::size_t o = 0; o < picks.size(); ++o) {
    text += fmt::format("{}{} {}", o == 0 ? "" : ", ", spec.options[o].name,
                        spec.options[o].alternatives[static_cast<std::size_t>(picks[o])].name);
  }
  return text;
}

ChooseResult choose_build(const scenes::Scene& scene, const scenes::ReadBuild& build,
                          const materials::MaterialLibrary& library, const KeptWork& kept,
                          const OnHangProgress& on_progress) {
  if (!scene.choose) throw std::invalid_argument("the scene has nothing to choose");
  return ChooseStudy(scene, build, library, kept, on_progress).run();
}

}  // namespace totebench::studies
