#include "totebench/studies/circumstances.hpp"

#include <fmt/format.h>

#include <array>
#include <atomic>
#include <cmath>
#include <functional>
#include <mutex>

#include "totebench/materials/ageing.hpp"
#include "totebench/studies/coarser_mesh.hpp"
#include "totebench/studies/side_by_side.hpp"

namespace totebench::studies {
namespace {

using scenes::ContentsKind;
using scenes::ContentsPlace;
using scenes::LayerJoin;
using scenes::SupportKind;

// The defaults of a scene file.
constexpr double kPegDiameter_m = 0.025;
constexpr double kGripWidth_m = 0.09;
constexpr double kFrictionAngle_rad = 30 * M_PI / 180;

// The changed bag on the coarse mesh: in the shape in which the unchanged one hangs where it rests
// in such a one, so that the change alone moves it; else, and where it hangs on something else,
// from its start shape.
HangResult hung_anew(const scenes::Scene& changed, const materials::MaterialLibrary& library,
                     const scenes::Scene& scene, const HangResult& hung,
                     const OnHangProgress& tell) {
  const bool as_put =
      changed.contents.items == scene.contents.items &&
      (changed.contents.items.empty() || changed.contents.place == scene.contents.place);
  if (!(changed.support == scene.support) || !as_put) return hang_tote(changed, library, tell, 0);
  HangResult other;
  other.coarse = scenes::build_tote(changed, library, 0);
  other.steps = {hung.steps.front(), hung.steps.back()};
  std::array<solver::SolveReport, 2> reports;
  solver::EquilibriumSearch search(other.coarse.model);
  solver::SolveOptions options;
  options.on_progress = [&](const solver::Progress& progress) { return tell({"", progress}); };
  for (const std::size_t i : {std::size_t{1}, std::size_t{0}}) {
    reports[i] = search.find(static_cast<double>(i), other.steps[i].state, options);
    if (reports[i].status == solver::SolveStatus::kConverged && reports[i].stable) continue;
    return hang_tote(changed, library, tell, 0);
  }
  other.findings = scenes::make_findings(changed, other.coarse, other.steps[0].state, reports[0],
                                         other.steps[1].state, reports[1]);
  other.coarse_findings = other.findings;
  return other;
}

class Changes {
 public:
  Changes(const scenes::Scene& scene, const scenes::Tote& tote) : scene_(scene), tote_(tote) {}

  std::vector<Changed> all() {
    const scenes::Contents& contents = scene_.contents;
    if (contents.kind != ContentsKind::kLoose) {
      const bool even = contents.kind == ContentsKind::kEven;
      if (even && contents.place != ContentsPlace::kAllOver) {
        with("the load all over the base",
             [](scenes::Scene& s) { s.contents.place = ContentsPlace::kAllOver; });
      }
      if (even && contents.place != ContentsPlace::kMiddle) {
        with("the load in the middle of the base",
             [](scenes::Scene& s) { s.contents.place = ContentsPlace::kMiddle; });
      }
      if (contents.place != ContentsPlace::kOneEnd) {
        with(even ? "the load at one end of the base" : "the things at one end of the base",
             [](scenes::Scene& s) { s.contents.place = ContentsPlace::kOneEnd; });
      }
      if (!even) {
        with("a flat load all over the base", [](scenes::Scene& s) {
          s.contents.kind = ContentsKind::kEven;
          s.contents.place = ContentsPlace::kAllOver;
          s.contents.items.clear();
        });
      }
      with("goods that fill the bag", [this](scenes::Scene& s) {
        s.contents.items.clear();
        s.contents.kind = ContentsKind::kLoose;
        s.contents.bulk_density_kg_per_m3 = s.contents.mass_kg / (kFilledShare * tote_.volume_m3);
        s.contents.friction_angle_rad = kFrictionAngle_rad;
      });
    } else {
      with("a flat load on the base",
           [](scenes::Scene& s) { s.contents.kind = ContentsKind::kEven; });
    }
    if (scene_.support.kind == SupportKind::kHand) {
      with("on a peg, not in a hand", [](scenes::Scene& s) {
        s.support = {.kind = SupportKind::kHook, .diameter_m = kPegDiameter_m};
      });
    } else {
      with("in a hand, not on a peg", [](scenes::Scene& s) {
        s.support = {.kind = SupportKind::kHand, .grip_width_m = kGripWidth_m};
      });
    }
    if (tote_.hung_for_s > kBriefly_s) {
      with("after a minute", [](scenes::Scene& s) { s.contents.carried_for_s = kBriefly_s; });
    }
    if (tote_.hung_for_s > 0 && tote_.hung_for_s < kForADay_s) {
      with("after a day", [](scenes::Scene& s) { s.contents.carried_for_s = kForADay_s; });
    }
    with_joins(LayerJoin::kFused, "all layers fused to each other");
    with_joins(LayerJoin::kLoose, "all layers loose on each other");
    return std::move(changed_);
  }

 private:
  void with(std::string what, const std::function<void(scenes::Scene&)>& change) {
    Changed changed{std::move(what), scene_};
    change(changed.scene);
    changed_.push_back(std::move(changed));
  }

  void with_joins(LayerJoin join, const char* what) {
    Changed changed{what, scene_};
    for (auto& [region, layers] : changed.scene.layers) {
      for (std::size_t i = 1; i < layers.size(); ++i) layers[i].join = join;
    }
    if (changed.scene.layers != scene_.layers) changed_.push_back(std::move(changed));
  }

  const scenes::Scene& scene_;
  const scenes::Tote& tote_;
  std::vector<Changed> changed_;
};

}  // namespace

std::vector<Changed> changed_circumstances(const scenes::Scene& scene, const scenes::Tote& tote) {
  return Changes(scene, tote).all();
}

const scenes::Findings* unchanged(const HangResult& hung) {
  if (hung.coarser) return &*hung.coarser;
  return hung.coarse_findings ? &*hung.coarse_findings : nullptr;
}

std::optional<std::vector<Circumstance>> circumstances(const scenes::Scene& scene,
                                                       const materials::MaterialLibrary& library,
                                                       const HangResult& hung,
                                                       const OnHangProgress& on_progress) {
  if (!hung.findings.converged() || !hung.coarse_findings) return std::nullopt;
  std::vector<Changed> changed = changed_circumstances(scene, hung.coarse);
  std::vector<Circumstance> found(changed.size());
  std::mutex telling;
  std::atomic<bool> stopped{false};
  std::vector<std::function<void()>> work;
  for (std::size_t i = 0; i < changed.size(); ++i) {
    found[i].what = changed[i].what;
    work.emplace_back([&, i] {
      scenes::Scene& its = changed[i].scene;
      its.solve.shapes = 0;
      const auto tell = [&, i](const HangProgress& progress) {
        const std::lock_guard lock(telling);
        if (on_progress &&
            !on_progress({"what would move this: " + found[i].what, progress.step})) {
          stopped = true;
        }
        return !stopped;
      };
      const materials::MaterialLibrary its_library =
          materials::under_load(library, its.contents.carried_for_s);
      if (!scenes::faults_of(its, its_library).empty()) return;  // such a bag cannot be made
      const HangResult other = hung_anew(its, its_library, scene, hung, tell);
      if (!other.findings.converged()) return;
      std::optional<scenes::Findings> with_seams;
      if (hung.coarser) with_seams = coarser_findings(its, its_library, other, tell);
      if (hung.coarser && !with_seams) return;
      const scenes::Findings& before = *unchanged(hung);
      const scenes::Findings& after = with_seams ? *with_seams : other.findings;
      found[i].moved.emplace();
      for (std::size_t k = 0; k < scenes::kFigures.size(); ++k) {
        (*found[i].moved)[k] = scenes::kFigures[k].value(after) - scenes::kFigures[k].value(before);
      }
    });
  }
  side_by_side(work);
  if (stopped) return std::nullopt;
  return found;
}

const Circumstance* moves_most(const std::vector<Circumstance>& circumstances,
                               const scenes::Figure& figure, double least) {
  const Circumstance* most = nullptr;
  const auto way = [&](const Circumstance& c) {
    return c.moved ? std::abs((*c.moved)[scenes::place_of(figure)]) : 0;
  };
  for (const Circumstance& c : circumstances) {
    if (way(c) > (most == nullptr ? least : way(*most))) most = &c;
  }
  return most;
}

}  // namespace totebench::studies
