#include "totebench/studies/strap_ends.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <mutex>

#include "totebench/scenes/attachment_patterns.hpp"
#include "totebench/studies/rate.hpp"
#include "totebench/studies/side_by_side.hpp"

namespace totebench::studies {
namespace {

using Pattern = scenes::AttachmentPattern;

constexpr double kStrapEndTolerance = 5e-3;     // of the ratio at failure; closed by the slope
constexpr double kBelowLastStitch_m = 0.00635;  // strap left below the stitching
constexpr double kLeastStitched_m = 0.0254;
constexpr int kRowsTried = 3;
constexpr int kPointsTried = 2;  // bartacks, rivets: one above the other

const char* pattern_name(Pattern pattern) {
  switch (pattern) {
    case Pattern::kBox:
      return "box";
    case Pattern::kBoxCross:
      return "box with cross";
    case Pattern::kRows:
      return "rows across";
    case Pattern::kBartacks:
      return "bartacks";
    case Pattern::kRivets:
      return "rivets";
    case Pattern::kInHem:
      return "in the turned hem";
    case Pattern::kToBase:
      return "down to the base seam";
  }
  return "";
}

std::string name_of(const scenes::Attachment& a) {
  const bool counted = a.pattern == Pattern::kRows || a.pattern == Pattern::kBartacks ||
                       a.pattern == Pattern::kRivets;
  return (counted ? fmt::format("{} ", a.rows) : "") + pattern_name(a.pattern) +
         (a.patch ? ", with a patch" : "");
}

// The scene's strap sewn on in another way.
StrapEnd tried(const scenes::Scene& scene, Pattern pattern, bool patch) {
  StrapEnd end;
  end.strap = scene.straps.front();
  scenes::Attachment& a = end.strap.attachment;
  const bool has_box = a.pattern != Pattern::kInHem && a.pattern != Pattern::kToBase;
  const double length = has_box ? a.length_m : std::max(end.strap.width_m, kLeastStitched_m);
  a.pattern = pattern;
  a.patch = patch;
  a.length_m = length;
  a.rows = pattern == Pattern::kRows                                      ? kRowsTried
           : pattern == Pattern::kBartacks || pattern == Pattern::kRivets ? kPointsTried
                                                                          : 1;
  if (pattern == Pattern::kInHem) {
    a.top_offset_m = std::min(a.top_offset_m, scenes::kStitchEdgeDistance_m);
    a.length_m = scene.bag.hem_m - 2 * a.top_offset_m;
  }
  const double asked = scenes::overlap_of_pattern(end.strap, scene.bag);
  end.strap.overlap_m = asked > 0 ? asked : a.top_offset_m + a.length_m + kBelowLastStitch_m;
  end.name = name_of(a);
  return end;
}

// Straight lines of a strap end's stitching.
int lines_of(const scenes::Attachment& a) {
  constexpr int kBoxSides = 4, kDiagonals = 2, kEdgesAndEnd = 3;
  switch (a.pattern) {
    case Pattern::kBox:
      return kBoxSides;
    case Pattern::kBoxCross:
      return kBoxSides + kDiagonals;
    case Pattern::kRows:
      return a.rows;
    case Pattern::kInHem:
      return 2;
    case Pattern::kToBase:
      return kBoxSides + kDiagonals + kEdgesAndEnd;
    case Pattern::kBartacks:
    case Pattern::kRivets:
      return 0;
  }
  return 0;
}

// Modes that are not of a strap's end count for nothing in a climb.
MeshCorrection strap_ends_alone(const std::vector<scenes::Utilisation>& used) {
  MeshCorrection mute;
  for (const scenes::Utilisation& use : used) {
    if (!at_strap_end(use.mode)) mute[use.mode] = 0;
  }
  return mute;
}

class StrapEndStudy {
 public:
  StrapEndStudy(const scenes::Scene& scene, const materials::MaterialLibrary& library,
                const OnHangProgress& on_progress, std::optional<int> level)
      : scene_(scene), library_(library), on_progress_(on_progress), level_(level) {}

  StrapEnds run() {
    const auto begin = std::chrono::steady_clock::now();
    result_.set_mass_kg = scene_.contents.mass_kg;
    result_.ends = strap_ends_of(scene_);
    std::vector<std::function<void()>> work;
    for (StrapEnd& end : result_.ends)
      work.emplace_back([this, &end] {
        solve(end);
        if (!going_) end.why_not = "stopped on request";
        const std::lock_guard<std::mutex> lock(telling_);
        ++done_;
      });
    side_by_side(work);
    result_.interrupted = !going_;
    std::stable_sort(result_.ends.begin(), result_.ends.end(),
                     [](const StrapEnd& a, const StrapEnd& b) {
                       if (a.known() != b.known()) return a.known();
                       return a.fails.load_factor > b.fails.load_factor;
                     });
    result_.seconds =
        std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
    return std::move(result_);
  }

 private:
  bool tell() {
    const std::lock_guard<std::mutex> lock(telling_);
    const std::size_t n = result_.ends.size();
    const HangProgress now = {fmt::format("ways to sew the strap on: {} of {}", done_, n),
                              {},
                              static_cast<double>(done_) / static_cast<double>(n)};
    if (going_ && on_progress_ && !on_progress_(now)) going_ = false;
    return going_;
  }

  void solve(StrapEnd& end) {
    if (!tell()) return;
    scenes::Scene scene = scene_;
    scene.straps.front() = end.strap;
    scene.solve.shapes = 0;
    end.why_not = scenes::faults_of(scene, library_);
    if (!end.why_not.empty()) return;
    add_work(end, library_);
    const HangResult hang = hang_tote(
        scene, library_, [&](const HangProgress&) { return tell(); }, level_);
    if (!hang.findings.converged() || hang.stopped_early) {
      end.why_not = "the bag did not come to rest";
      return;
    }
    const MeshCorrection mute = strap_ends_alone(hang.findings.utilisation);
    const scenes::Utilisation* nearest =
        most_used(hang.findings.utilisation, FailureClass::kAny, mute);
    if (nearest == nullptr || !at_strap_end(nearest->mode)) {
      end.why_not = "no strength of the strap's end is known";
      return;
    }
    end.nearest = *nearest;
    Climb climb(scene, hang.tote, hang.loaded, 1.0);
    climb.set_stop([&] { return tell(); });
    climb.set_limit(std::max(2.0, kLargestMass_kg / scene.contents.mass_kg), "nothing failed");
    // From the set load up: far from it a first try may find no rest.
    end.fails = climb.first_failure(FailureClass::kAny, mute, kStrapEndTolerance);
    if (end.fails.load_factor == 0) end.why_not = end.fails.why_not;
  }

  const scenes::Scene& scene_;
  const materials::MaterialLibrary& library_;
  const OnHangProgress& on_progress_;
  std::optional<int> level_;
  StrapEnds result_;
  std::mutex telling_;
  std::size_t done_ = 0;  // of the ways
  std::atomic<bool> going_{true};
};

}  // namespace

bool at_strap_end(const std::string& mode) {
  return mode == "strap_fastening" || mode == "tear_out" || mode == "cloth_at_strap" ||
         mode == "strap";
}

std::vector<StrapEnd> strap_ends_of(const scenes::Scene& scene) {
  StrapEnd own;
  own.strap = scene.straps.front();
  own.in_scene = true;
  own.name = name_of(own.strap.attachment);
  std::vector<StrapEnd> ends = {own};
  const auto add = [&](Pattern pattern, bool patch) {
    const scenes::Attachment& a = own.strap.attachment;
    if (a.pattern == pattern && a.patch == patch) return;
    ends.push_back(tried(scene, pattern, patch));
  };
  for (const Pattern pattern :
       {Pattern::kBox, Pattern::kBoxCross, Pattern::kRows, Pattern::kBartacks, Pattern::kRivets,
        Pattern::kInHem, Pattern::kToBase}) {
    add(pattern, false);
  }
  add(Pattern::kBoxCross, true);
  return ends;
}

void add_work(StrapEnd& end, const materials::MaterialLibrary& library) {
  const auto rule = [&](const char* id) { return library.rule(id).value; };
  const scenes::Attachment& a = end.strap.attachment;
  const scenes::StitchRows rows = scenes::attachment_points(end.strap);
  end.fastenings = static_cast<int>(rows.points.size());
  end.sewing_s = rule("sewing_time_strap_end");
  if (a.patch) end.sewing_s += rule("sewing_time_patch");
  if (!scenes::is_stitched(a.pattern)) {
    end.sewing_s += a.rows * rule("sewing_time_rivet");
    return;
  }
  end.thread_m = rule("seam_thread_ratio") * rows.line_length_m + rule("seam_thread_ends");
  end.sewing_s +=
      lines_of(a) * rule("sewing_time_per_line") + end.fastenings * rule("sewing_time_per_stitch");
  if (a.pattern == Pattern::kBartacks) end.sewing_s += a.rows * rule("sewing_time_bartack");
}

const StrapEnd* StrapEnds::of_scene() const {
  for (const StrapEnd& end : ends) {
    if (end.in_scene && end.known()) return &end;
  }
  return nullptr;
}

std::vector<const StrapEnd*> StrapEnds::strongest() const {
  std::vector<const StrapEnd*> list;
  for (const StrapEnd& end : ends) {
    if (!end.known()) break;
    if (end.fails.load_factor * kStrapEndsToldApart >= ends.front().fails.load_factor) {
      list.push_back(&end);
    }
  }
  return list;
}

StrapEnds compare_strap_ends(const scenes::Scene& scene, const materials::MaterialLibrary& library,
                             const OnHangProgress& on_progress, std::optional<int> level) {
  return StrapEndStudy(scene, library, on_progress, level).run();
}

}  // namespace totebench::studies
