#include "app/rate_changes.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <mutex>
#include <stdexcept>

#include "scenes/attachment_patterns.hpp"

namespace totebench {
namespace {

constexpr double kLongerBox = 1.5;
constexpr double kWiderStrap = 1.5;
constexpr double kThickerSheet = 1.5;
constexpr double kHeavierThread = 1.3;  // in tex, at least
constexpr double kTolerance = 0.02;     // closed by the local slope
constexpr double kBelowTypical = 0.8;   // of the unchanged bag's failure load: the first one tried

// The next heavier thread of the same make that the stitches have room for; nullptr when none.
const Thread* heavier(const MaterialLibrary& library, const std::string& id, double stitch_m) {
  const Thread* now = library.find_thread(id);
  const std::size_t stem = id.rfind("_tex");
  if (now == nullptr || stem == std::string::npos) return nullptr;
  const Thread* next = nullptr;
  for (const Thread& t : library.threads()) {
    if (t.id.compare(0, stem + 4, id, 0, stem + 4) != 0 || t.tex < kHeavierThread * now->tex ||
        thread_fault(t.tex, stitch_m) ||
        t.breaking_strength.value <= now->breaking_strength.value) {
      continue;
    }
    if (next == nullptr || t.tex < next->tex) next = &t;
  }
  return next;
}

double mm(double metres) { return 1e3 * metres; }

class Changes {
 public:
  Changes(const Scene& scene, const MaterialLibrary& library) : scene_(scene), library_(library) {}

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
  void add(int cost, std::string what, const Edit& edit) {
    ChangedScene changed{std::move(what), cost, scene_};
    edit(changed.scene);
    const Strap& strap = changed.scene.straps.front();
    if (!attachment_faults(strap, changed.scene.bag, 0).empty()) return;
    list_.push_back(std::move(changed));
  }

  void threads() {
    const Attachment& a = scene_.straps.front().attachment;
    const Thread* thread = heavier(library_, a.thread, a.stitch_length_m);
    if (thread != nullptr && is_stitched(a.pattern)) {
      add(1, fmt::format("heavier thread at the straps ({})", thread->id),
          [&](Scene& s) { s.straps.front().attachment.thread = thread->id; });
    }
    const Thread* seam = heavier(library_, scene_.seams.thread, scene_.seams.stitch_length_m);
    if (seam != nullptr) {
      add(1, fmt::format("heavier thread in the seams ({})", seam->id),
          [&](Scene& s) { s.seams.thread = seam->id; });
    }
  }

  void stitching() {
    const Attachment& a = scene_.straps.front().attachment;
    using Pattern = AttachmentPattern;
    if (a.pattern == Pattern::kRows || a.pattern == Pattern::kBartacks ||
        a.pattern == Pattern::kRivets) {
      const char* things = a.pattern == Pattern::kRows       ? "rows of stitches"
                           : a.pattern == Pattern::kBartacks ? "bartacks"
                                                             : "rivets";
      add(2, fmt::format("{} {} instead of {}", a.rows + 1, things, a.rows), [&](Scene& s) {
        Strap& strap = s.straps.front();
        strap.attachment.rows += 1;
        if (a.rows > 1) lengthen(strap, a.length_m * a.rows / (a.rows - 1));
        if (a.rows == 1) lengthen(strap, std::max(a.length_m, strap.width_m / 2));
      });
    }
    if (a.pattern == Pattern::kBox) {
      add(2, "a cross sewn into the box",
          [](Scene& s) { s.straps.front().attachment.pattern = Pattern::kBoxCross; });
    }
  }

  void larger() {
    const Strap& strap = scene_.straps.front();
    const Attachment& a = strap.attachment;
    if (a.pattern == AttachmentPattern::kBox || a.pattern == AttachmentPattern::kBoxCross) {
      add(3, fmt::format("a box half as long again ({:.0f} mm)", mm(kLongerBox * a.length_m)),
          [&](Scene& s) { lengthen(s.straps.front(), kLongerBox * a.length_m); });
    }
    if (!a.patch) {
      add(4, "a backing patch behind the strap ends",
          [](Scene& s) { s.straps.front().attachment.patch = true; });
    }
    if (scene_.base.kind != BaseKind::kNone && scene_.base.thickness_m > 0) {
      const double t = kThickerSheet * scene_.base.thickness_m;
      add(5, fmt::format("a base sheet {:.2g} mm thick", mm(t)),
          [&](Scene& s) { s.base.thickness_m = t; });
    }
    const double wide = kWiderStrap * strap.width_m;
    const bool fits = strap.style == StrapStyle::kTwoHandles && strap.spacing_m > 1.2 * wide &&
                      strap.spacing_m + 1.2 * wide < scene_.bag.width_m;
    if (fits) {
      add(6, fmt::format("a strap {:.0f} mm wide", mm(wide)),
          [&](Scene& s) { s.straps.front().width_m = wide; });
    }
  }

  static void lengthen(Strap& strap, double length_m) {
    strap.overlap_m += std::max(0.0, length_m - strap.attachment.length_m);
    strap.attachment.length_m = length_m;
  }

  const Scene& scene_;
  const MaterialLibrary& library_;
  std::vector<ChangedScene> list_;
};

// Rated mass of a changed bag: the unchanged one's, by the ratio of the two solved the same way.
double rated_like(const Rating& rating, const Change& unchanged, const Change& change) {
  const auto part = [&](const FirstFailure& was, const FirstFailure& is, double was_rated) {
    return was.load_factor > 0 ? was_rated * is.load_factor / was.load_factor : 0.0;
  };
  const double drops = part(unchanged.drops, change.drops, rating.drops_rating_kg);
  if (!rating.spoilt.found) return drops;
  return std::min(drops, part(unchanged.spoilt, change.spoilt, rating.spoilt_rating_kg));
}

bool same_mesh(const ShellMesh& a, const ShellMesh& b) {
  const auto same = [](const Triangle& s, const Triangle& t) { return s.node == t.node; };
  return a.n_nodes() == b.n_nodes() && std::equal(a.triangles.begin(), a.triangles.end(),
                                                  b.triangles.begin(), b.triangles.end(), same);
}

// Hung with the set load where its mesh is its own.
bool hang_set_load(Climb& climb) {
  for (const double factor : {0.0, 0.25, 0.5, 1.0}) {
    if (climb.to(factor) == nullptr) return false;
  }
  return true;
}

Change solve_change(const ChangedScene& changed, const MaterialLibrary& library,
                    const TypicalBag& typical, const std::function<bool()>& keep_going,
                    std::mutex& building) {
  Change out;
  out.what = changed.what;
  out.cost_rank = changed.cost_rank;
  Tote tote;
  {
    const std::lock_guard<std::mutex> lock(building);
    tote = build_tote(changed.scene, library, 0);
  }
  const bool on_path = same_mesh(tote.model.mesh, typical.coarse.model.mesh);
  State start = start_state(tote.model);
  Climb climb(changed.scene, std::move(tote), std::move(start), 0);
  climb.set_stop(keep_going);
  if (on_path) {
    climb.restart(typical.path.steps.front().state, typical.path.steps.front().load_factor);
    climb.set_starts(starts_on(typical.path));
  } else if (!hang_set_load(climb)) {
    out.why_not = "no equilibrium was found";
    return out;
  }
  climb.set_limit(std::max(2.0, kLargestMass_kg / changed.scene.contents.mass_kg),
                  "nothing failed");
  const auto fails = [&](FailureClass of) {
    const double first_try = std::max(climb.load_factor(), kBelowTypical * typical.fails_at(of));
    return climb.first_failure(of, typical.correction, kTolerance, 1, first_try);
  };
  out.spoilt = fails(FailureClass::kSpoilsBag);
  out.drops = fails(FailureClass::kDropsLoad);
  if (out.drops.found && out.drops.load_factor < out.spoilt.load_factor) {
    out.spoilt = not_reached(out.drops.load_factor, "the load drops before");
  }
  // Where only the unchanged bag's failure was found, this one held at least as far as it went.
  out.solved = out.drops.load_factor > 0 && !climb.stopped();
  if (!out.solved) out.why_not = out.drops.why_not;
  return out;
}

}  // namespace

std::vector<ChangedScene> possible_changes(const Scene& scene, const MaterialLibrary& library) {
  return Changes(scene, library).run();
}

std::vector<Change> try_changes(const Scene& scene, const MaterialLibrary& library,
                                const TypicalBag& typical, const Rating& rating,
                                const std::function<bool()>& keep_going) {
  std::vector<ChangedScene> bags = {{"unchanged", 0, scene}};
  for (ChangedScene& changed : possible_changes(scene, library)) bags.push_back(std::move(changed));
  std::vector<Change> solved(bags.size());
  std::mutex building;
  run_side_by_side(
      static_cast<int>(bags.size()),
      [&](int i) {
        const auto k = static_cast<std::size_t>(i);
        try {
          solved[k] = solve_change(bags[k], library, typical, keep_going, building);
        } catch (const std::invalid_argument& error) {  // a change that cannot be built is none
          solved[k].what = bags[k].what;
          solved[k].cost_rank = bags[k].cost_rank;
          solved[k].why_not = error.what();
        }
      },
      keep_going);
  if (!solved.front().solved) return {};
  for (Change& change : solved) {
    if (change.solved) change.rated_kg = rated_like(rating, solved.front(), change);
  }
  solved.erase(solved.begin());
  return solved;
}

}  // namespace totebench
