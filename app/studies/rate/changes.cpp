#include "app/studies/rate/changes.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <stdexcept>

#include "app/studies/rate/change_text.hpp"
#include "totebench/scenes/attachment_patterns.hpp"
#include "totebench/scenes/unit_text.hpp"

namespace totebench::studies {
namespace {

constexpr double kLongerBox = 1.5;
constexpr double kWiderStrap = 1.5;
constexpr double kThickerSheet = 1.5;
constexpr double kHeavierThread = 1.3;  // in tex, at least
constexpr double kTolerance = 5e-3;     // closed by the local slope
constexpr double kBelowTypical = 0.8;   // of the unchanged bag's failure load: the first one tried

// The next heavier thread of the same make that the stitches have room for; nullptr when none.
const materials::Thread* heavier(const materials::MaterialLibrary& library, const std::string& id,
                                 double stitch_m) {
  const materials::Thread* now = library.find_thread(id);
  const std::size_t stem = id.rfind("_tex");
  if (now == nullptr || stem == std::string::npos) return nullptr;
  const materials::Thread* next = nullptr;
  for (const materials::Thread& t : library.threads()) {
    if (t.id.compare(0, stem + 4, id, 0, stem + 4) != 0 || t.tex < kHeavierThread * now->tex ||
        scenes::thread_fault(t.tex, stitch_m) ||
        t.breaking_strength.value <= now->breaking_strength.value) {
      continue;
    }
    if (next == nullptr || t.tex < next->tex) next = &t;
  }
  return next;
}

// Modes of what more stitching shares the pull among.
const std::vector<std::string> kAtStitches = {"strap_fastening", "tear_out", "cloth_at_strap"};

class Changes {
 public:
  Changes(const scenes::Scene& scene, const materials::MaterialLibrary& library)
      : scene_(scene), library_(library) {}

  std::vector<ChangedScene> run() {
    threads();
    stitching();
    larger();
    std::stable_sort(list_.begin(), list_.end(),
                     [](const auto& a, const auto& b) { return a.cost_rank < b.cost_rank; });
    return std::move(list_);
  }

 private:
  template <class Edit>
  void add(int cost, std::string what, std::vector<std::string> acts_on, const Edit& edit) {
    ChangedScene changed{std::move(what), cost, std::move(acts_on), scene_};
    edit(changed.scene);
    const scenes::Strap& strap = changed.scene.straps.front();
    if (!scenes::attachment_faults(strap, changed.scene.bag, 0).empty()) return;
    list_.push_back(std::move(changed));
  }

  void threads() {
    const scenes::Attachment& a = scene_.straps.front().attachment;
    const materials::Thread* thread = heavier(library_, a.thread, a.stitch_length_m);
    if (thread != nullptr && scenes::is_stitched(a.pattern)) {
      add(1, fmt::format("heavier thread at the straps ({})", thread->name), {"strap_fastening"},
          [&](scenes::Scene& s) { s.straps.front().attachment.thread = thread->id; });
    }
    const materials::Thread* seam =
        heavier(library_, scene_.seams.thread, scene_.seams.stitch_length_m);
    if (seam != nullptr) {
      add(1, fmt::format("heavier thread in the seams ({})", seam->name), {"body_seam"},
          [&](scenes::Scene& s) { s.seams.thread = seam->id; });
    }
  }

  void stitching() {
    const scenes::Attachment& a = scene_.straps.front().attachment;
    using Pattern = scenes::AttachmentPattern;
    if (a.pattern == Pattern::kRows || a.pattern == Pattern::kBartacks ||
        a.pattern == Pattern::kRivets) {
      const char* things = a.pattern == Pattern::kRows       ? "rows of stitches"
                           : a.pattern == Pattern::kBartacks ? "bartacks"
                                                             : "rivets";
      add(2, fmt::format("{} {} instead of {}", a.rows + 1, things, a.rows), kAtStitches,
          [&](scenes::Scene& s) {
            scenes::Strap& strap = s.straps.front();
            strap.attachment.rows += 1;
            if (a.rows > 1) lengthen(strap, a.length_m * a.rows / (a.rows - 1));
            if (a.rows == 1) lengthen(strap, std::max(a.length_m, strap.width_m / 2));
          });
    }
    if (a.pattern == Pattern::kBox) {
      add(2, "a cross sewn into the box", kAtStitches,
          [](scenes::Scene& s) { s.straps.front().attachment.pattern = Pattern::kBoxCross; });
    }
  }

  void larger() {
    const scenes::Strap& strap = scene_.straps.front();
    const scenes::Attachment& a = strap.attachment;
    if (a.pattern == scenes::AttachmentPattern::kBox ||
        a.pattern == scenes::AttachmentPattern::kBoxCross) {
      add(3,
          fmt::format("a box half as long again ({})",
                      scenes::length_text(kLongerBox * a.length_m, scene_.units)),
          kAtStitches,
          [&](scenes::Scene& s) { lengthen(s.straps.front(), kLongerBox * a.length_m); });
    }
    if (!a.patch) {
      add(4, "a backing patch behind the strap ends", {"tear_out", "cloth_at_strap"},
          [](scenes::Scene& s) { s.straps.front().attachment.patch = true; });
    }
    if (scene_.base.kind != scenes::BaseKind::kNone && scene_.base.thickness_m > 0) {
      const double t = kThickerSheet * scene_.base.thickness_m;
      add(5, fmt::format("a base sheet {} thick", scenes::thickness_text(t, scene_.units)),
          {"base_sheet", "base_sheet_fold"}, [&](scenes::Scene& s) { s.base.thickness_m = t; });
    }
    const double wide = kWiderStrap * strap.width_m;
    const bool fits = strap.style == scenes::StrapStyle::kTwoHandles &&
                      strap.spacing_m > 1.2 * wide &&
                      strap.spacing_m + 1.2 * wide < scene_.bag.width_m;
    if (fits) {
      add(6, fmt::format("a strap {} wide", scenes::length_text(wide, scene_.units)),
          {"strap", "strap_fastening", "tear_out", "cloth_at_strap"},
          [&](scenes::Scene& s) { s.straps.front().width_m = wide; });
    }
  }

  static void lengthen(scenes::Strap& strap, double length_m) {
    strap.overlap_m += std::max(0.0, length_m - strap.attachment.length_m);
    strap.attachment.length_m = length_m;
  }

  const scenes::Scene& scene_;
  const materials::MaterialLibrary& library_;
  std::vector<ChangedScene> list_;
};

// Rated mass of a changed bag: the unchanged one's, by the ratio of their failure loads.
double rated_like(const Rating& rating, const Change& change) {
  const auto part = [&](const FirstFailure& was, const FirstFailure& is, double was_rated) {
    return was.load_factor > 0 ? was_rated * is.load_factor / was.load_factor : 0.0;
  };
  const double drops = part(rating.drops, change.drops, rating.drops_rating_kg);
  if (!rating.spoilt.found) return drops;
  return std::min(drops, part(rating.spoilt, change.spoilt, rating.spoilt_rating_kg));
}

bool same_mesh(const solver::ShellMesh& a, const solver::ShellMesh& b) {
  const auto same = [](const solver::Triangle& s, const solver::Triangle& t) {
    return s.node == t.node;
  };
  return a.n_nodes() == b.n_nodes() && std::equal(a.triangles.begin(), a.triangles.end(),
                                                  b.triangles.begin(), b.triangles.end(), same);
}

class ChangeSolver {
 public:
  ChangeSolver(const materials::MaterialLibrary& library, const TypicalBag& typical,
               const KeptWork& kept, const std::string& key,
               const std::function<bool()>& keep_going)
      : library_(library), typical_(typical), kept_(kept), key_(key), keep_going_(keep_going) {}

  // Those of the typical bag's mesh side by side on the coarse mesh, from its load path; others,
  // one after another, on a finest mesh of their own: on a coarse one the meshes would differ more
  // than the bags.
  void run(const std::vector<ChangedScene>& bags, std::vector<Change>& out) {
    std::vector<std::optional<scenes::Tote>> coarse(bags.size());
    for (std::size_t i = 0; i < bags.size(); ++i) {
      out[i].what = bags[i].what;
      out[i].cost_rank = bags[i].cost_rank;
      out[i].acts_on = bags[i].acts_on;
      out[i].why_not = scenes::faults_of(bags[i].scene, library_);
      if (!out[i].why_not.empty()) continue;  // a change that cannot be built is none
      scenes::Tote tote = scenes::build_tote(bags[i].scene, library_, 0);
      if (same_mesh(tote.model.mesh, typical_.coarse.model.mesh)) coarse[i] = std::move(tote);
    }
    const auto solve_those = [&](bool on_coarse, const std::function<void(std::size_t)>& solve) {
      std::vector<std::size_t> those;
      for (std::size_t k = 0; k < bags.size(); ++k) {
        if (out[k].why_not.empty() && coarse[k].has_value() == on_coarse) those.push_back(k);
      }
      const auto bag_of = [&](int piece) { return those[static_cast<std::size_t>(piece)]; };
      Pieces changes;
      changes.count = static_cast<int>(those.size());
      changes.in_turn = !on_coarse;
      changes.key = [&](int i) { return fmt::format("{}/change-{}", key_, bag_of(i)); };
      changes.take_over = [&](int i, const std::string& text) {
        return take_change(text, out[bag_of(i)]);
      };
      changes.work_out = [&](int i) -> std::optional<std::string> {
        solve(bag_of(i));
        return keep_going_() ? std::optional(change_text(out[bag_of(i)])) : std::nullopt;
      };
      do_pieces(kept_, changes, keep_going_);
    };
    solve_those(true, [&](std::size_t k) {
      const LoadPath::Step& lightest = typical_.path.steps.front();
      Climb climb(bags[k].scene, std::move(*coarse[k]), lightest.state, lightest.load_factor);
      climb.set_starts(starts_on(typical_.path));
      find_failures(climb, typical_.correction, bags[k].scene, out[k]);
    });
    solve_those(false, [&](std::size_t k) { on_finest_mesh(bags[k].scene, out[k]); });
  }

 private:
  void on_finest_mesh(scenes::Scene scene, Change& out) {
    scene.solve.shapes = 0;
    const HangResult hang =
        hang_tote(scene, library_, [this](const HangProgress&) { return keep_going_(); });
    if (!hang.findings.converged() || hang.stopped_early) {
      out.why_not = "no equilibrium was found";
      return;
    }
    Climb climb(scene, hang.tote, hang.loaded, 1.0);
    find_failures(climb, {}, scene, out);
  }

  void find_failures(Climb& climb, const MeshCorrection& correction, const scenes::Scene& scene,
                     Change& out) {
    climb.set_stop(keep_going_);
    climb.set_limit(std::max(2.0, kLargestMass_kg / scene.contents.mass_kg), "nothing failed");
    const auto fails = [&](FailureClass of) {
      const double first_try = std::max(climb.load_factor(), kBelowTypical * typical_.fails_at(of));
      return climb.first_failure(of, correction, kTolerance, 1, first_try);
    };
    out.spoilt = fails(FailureClass::kSpoilsBag);
    out.drops = fails(FailureClass::kDropsLoad);
    if (out.drops.found && out.drops.load_factor < out.spoilt.load_factor) {
      out.spoilt = not_reached(out.drops.load_factor, "the load drops before");
    }
    // Where only the unchanged bag's failure was found, this one held at least as far as it went.
    out.solved = out.drops.load_factor > 0 && !climb.stopped();
    if (!out.solved) out.why_not = out.drops.why_not;
  }

  const materials::MaterialLibrary& library_;
  const TypicalBag& typical_;
  const KeptWork& kept_;
  const std::string& key_;
  const std::function<bool()>& keep_going_;
};

}  // namespace

std::vector<ChangedScene> possible_changes(const scenes::Scene& scene,
                                           const materials::MaterialLibrary& library) {
  return Changes(scene, library).run();
}

std::vector<Change> try_changes(const scenes::Scene& scene,
                                const materials::MaterialLibrary& library,
                                const TypicalBag& typical, const Rating& rating,
                                const KeptWork& kept, const std::string& key,
                                const std::function<bool()>& keep_going) {
  const std::vector<ChangedScene> bags = possible_changes(scene, library);
  std::vector<Change> changes(bags.size());
  ChangeSolver(library, typical, kept, key, keep_going).run(bags, changes);
  for (Change& change : changes) {
    if (change.solved) change.rated_kg = rated_like(rating, change);
  }
  return changes;
}

}  // namespace totebench::studies
