#include "totebench/scenes/utilisation.hpp"

#include <fmt/format.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <map>

#include "scenes/findings/rest_axes.hpp"
#include "totebench/scenes/attachment_patterns.hpp"
#include "totebench/scenes/base_shape.hpp"
#include "totebench/scenes/strap_seams.hpp"
#include "totebench/scenes/unit_text.hpp"

namespace totebench::scenes {
namespace {

// Almost any strap and hook have this much (estimate).
constexpr double kFrictionToMention = 0.05;
constexpr double kTellUnseenWrinkles = 0.25;  // of the area

using Eigen::Vector2d;
using Eigen::Vector3d;

// The hardest used place of one mode.
struct Peak {
  double ratio = 0;
  double demand = 0;
  double capacity = 0;
  std::string where;
  std::string source;
  std::string grade;
  int triangle = -1;
};

void consider(Peak& peak, double demand, double capacity, const Capacity& from,
              const std::string& where, int triangle) {
  if (!(capacity > 0) || demand / capacity <= peak.ratio) return;
  peak = {demand / capacity, demand, capacity, where, from.source, from.grade, triangle};
}

// Demands of a state, mode by mode.
class Demands {
 public:
  Demands(const Scene& scene, const Tote& tote, const solver::State& state,
          const solver::ShellFields& fields)
      : scene_(scene),
        tote_(tote),
        model_(tote.model),
        state_(state),
        limits_(tote.strength),
        fields_(fields),
        force_(cloth_force(tote, fields_)) {}

  std::vector<Utilisation> run() {
    strap_ends();
    seams();
    panels();
    const double stress =
        base_sheet_stress(scene_, tote_, fields_, SheetStress::kBendingAndStretching);
    add("base_sheet", limits_.sheet_breaks ? "base sheet breaking" : "base sheet bent for good",
        one(stress, limits_.sheet_yield_Pa), "Pa", false);
    add("base_sheet_fold", "base sheet folding", one(stress, limits_.sheet_fold_Pa), "Pa", false);
    add("foot", "a foot pulled out of the base", one(limits_.foot_force_N, limits_.foot_N), "N",
        false);
    std::stable_sort(list_.begin(), list_.end(),
                     [](const Utilisation& a, const Utilisation& b) { return a.ratio > b.ratio; });
    return std::move(list_);
  }

 private:
  static Peak one(double demand, const Capacity& capacity) {
    Peak peak;
    consider(peak, demand, capacity.value, capacity, "", -1);
    return peak;
  }

  void add(const char* mode, const std::string& what, const Peak& peak, const char* unit,
           bool drops_load) {
    if (!(peak.ratio > 0)) return;
    list_.push_back({mode, peak.where.empty() ? what : what + ", " + peak.where, peak.demand,
                     peak.capacity, unit, peak.ratio, peak.source, peak.grade, drops_load,
                     peak.triangle});
  }

  void strap_ends() {
    const Eigen::Matrix3Xd pull = solver::stitch_forces(model_, state_);
    const std::vector<FasteningUse> uses = fastening_uses(scene_, tote_, state_, pull);
    Peak fastening;
    Peak torn;
    Peak beside;
    Peak strap;
    for (const AttachmentSite& site : tote_.attachments) {
      Vector3d total = Vector3d::Zero();
      for (const int s : site.stitches) {
        total += pull.col(s);
        const FasteningUse& use = uses[s];
        const int held_at = model_.stitches[s].b.triangle;
        const Capacity& thread = limits_.fastening_shear_N;
        consider(fastening, use.thread * thread.value, thread.value, thread, site.name, held_at);
        const Capacity& cloth = use.held_by->tear_out_N;
        consider(torn, use.cloth * cloth.value, cloth.value, cloth, site.name, held_at);
      }
      consider(strap, total.norm(), limits_.strap_N.value, limits_.strap_N, site.name,
               model_.stitches[site.stitches.front()].b.triangle);
      for (const int i : panel_beside(tote_, site))
        cloth(beside, i, limits_.needle_kept, site.name);
    }
    add("strap_fastening", limits_.riveted ? "rivet of the strap" : "thread at the strap stitches",
        fastening, "N", true);
    add("tear_out",
        limits_.riveted ? "cloth torn out at a rivet" : "cloth torn out at a strap stitch", torn,
        "N", true);
    add("cloth_at_strap", "cloth beside the strap stitches", beside, "N/m", true);
    add("strap", "strap at its stitching", strap, "N", true);
  }

  void cloth(Peak& peak, int triangle, double kept, const std::string& where) const {
    const Vector3d f = force_.col(triangle);
    consider(peak, f[0], kept * tote_.strength_warp_N_per_m[triangle], limits_.cloth, where,
             triangle);
    consider(peak, f[1], kept * tote_.strength_weft_N_per_m[triangle], limits_.cloth, where,
             triangle);
  }

  // Pull across (x) and along (y) an edge of a triangle, N/m.
  [[nodiscard]] Vector2d traction(int triangle, int side) const {
    const auto& rest = model_.mesh.rest[triangle];
    const Vector2d along = rest_axes(model_.mesh, triangle).transpose() *
                           (rest.col((side + 1) % 3) - rest.col(side)).normalized();
    const Vector2d across(along.y(), -along.x());
    const Vector3d n = force_.col(triangle);
    const Vector2d t(n[0] * across.x() + n[2] * across.y(), n[2] * across.x() + n[1] * across.y());
    return {t.dot(across), t.dot(along)};
  }

  void seams() {
    std::map<std::pair<int, int>, int> label;
    for (const solver::LabelledEdge& e : model_.mesh.labelled_edges) {
      const bool sewn = e.label == kEdgeSeam || e.label == kEdgeCrosswise ||
                        e.label == kEdgeLengthwise || e.label == kEdgeBaseSeam ||
                        (e.label == kEdgeBaseOutline && base_is_sewn_on(scene_.bag));
      if (sewn) label[std::minmax(e.a, e.b)] = e.label;
    }
    struct Pull {
      Vector2d sum = Vector2d::Zero();
      int sides = 0;
      int triangle = -1;
    };
    std::map<std::pair<int, int>, Pull> pulls;
    for (int i = 0; i < model_.mesh.n_triangles(); ++i) {
      const solver::Triangle& t = model_.mesh.triangles[i];
      if (!is_panel(t.region)) continue;
      for (int k = 0; k < 3; ++k) {
        const auto key = std::minmax(t.node[k], t.node[(k + 1) % 3]);
        const auto found = label.find(key);
        if (found == label.end()) continue;
        // Beside a stitched-in sheet the base passes its force on through the sheet; what the seam
        // at the base's outline carries is seen on the wall alone.
        const bool under_sheet = !tote_.sheet_share.empty() && tote_.sheet_share[i] > 0;
        if (under_sheet && found->second != kEdgeBaseSeam) continue;
        Pull& pull = pulls[key];
        const Vector2d here = traction(i, k);
        pull.sum += Vector2d(std::max(here.x(), 0.0), std::abs(here.y()));
        pull.sides += 1;
        pull.triangle = i;
      }
    }
    Peak seam;
    Peak slip;
    for (const auto& [key, pull] : pulls) {
      const Vector2d mean = pull.sum / pull.sides;
      const std::string where = tote_.triangle_part[tote_.part[pull.triangle]];
      consider(seam, mean.norm(), limits_.seam_N_per_m.value, limits_.seam_N_per_m, where,
               pull.triangle);
      consider(slip, mean.x(), limits_.slippage_N_per_m.value, limits_.slippage_N_per_m, where,
               pull.triangle);
    }
    add("body_seam", "body seam (" + limits_.seam_governed_by + ")", seam, "N/m", true);
    add("seam_slippage",
        scene_.units == "in" ? "body seam sliding open by 1/4 in"
                             : "body seam sliding open by 6 mm",
        slip, "N/m", false);
  }

  void panels() {
    Peak anywhere;
    Peak bond;
    for (int i = 0; i < model_.mesh.n_triangles(); ++i) {
      const int region = model_.mesh.triangles[i].region;
      if (!is_panel(region)) continue;
      const std::string& part = tote_.triangle_part[tote_.part[i]];
      cloth(anywhere, i, 1, part);
      const auto known = limits_.bond.find(region);
      if (known == limits_.bond.end()) continue;
      const Vector3d f = force_.col(i);
      consider(bond, f[0], known->second.warp.value, known->second.warp, part, i);
      consider(bond, f[1], known->second.weft.value, known->second.weft, part, i);
    }
    add("cloth", "cloth of the panels", anywhere, "N/m", true);
    add("fused_bond", "fused bond opening from an edge", bond, "N/m", false);
  }

  const Scene& scene_;
  const Tote& tote_;
  const solver::Model& model_;
  const solver::State& state_;
  const ToteStrength& limits_;
  const solver::ShellFields& fields_;
  Eigen::Matrix3Xd force_;  // per triangle, of the cloth alone
  std::vector<Utilisation> list_;
};

}  // namespace

double combined_use(const Vector3d& f_N, const Vector3d& panel_normal, double shear_capacity_N,
                    double peel_capacity_N, bool held_on_both_sides) {
  const double out = f_N.dot(panel_normal);
  const double peel = held_on_both_sides ? std::abs(out) : std::max(out, 0.0);
  const double shear = (f_N - out * panel_normal).norm();
  const double by_shear = shear_capacity_N > 0 ? shear / shear_capacity_N : 0;
  const double by_peel = peel_capacity_N > 0 ? peel / peel_capacity_N : 0;
  return std::hypot(by_shear, by_peel);
}

std::vector<FasteningUse> fastening_uses(const Scene& scene, const Tote& tote,
                                         const solver::State& state,
                                         const Eigen::Matrix3Xd& pull_N) {
  constexpr double kOnTheEdge_m = 1e-6;
  const Attachment& a = scene.straps.front().attachment;
  const bool both = a.pattern == AttachmentPattern::kInHem;
  const ToteStrength& limits = tote.strength;
  std::vector<FasteningUse> uses(tote.model.stitches.size());
  for (const AttachmentSite& site : tote.attachments) {
    for (std::size_t i = 0; i < site.stitches.size(); ++i) {
      const int s = site.stitches[i];
      const Vector3d n = solver::normal_of(tote.model.mesh, state.x, tote.model.stitches[s].b);
      const bool in_hem = a.top_offset_m + site.stitch_row_m[i] <= scene.bag.hem_m + kOnTheEdge_m;
      FasteningUse& use = uses[s];
      use.held_by = in_hem ? &limits.held_in_hem : &limits.held;
      use.thread = combined_use(pull_N.col(s), n, limits.fastening_shear_N.value,
                                limits.fastening_peel_N.value, both);
      use.cloth = combined_use(pull_N.col(s), n, use.held_by->tear_out_N.value,
                               use.held_by->pull_through_N.value, both);
    }
  }
  return uses;
}

Eigen::Matrix3Xd cloth_force(const Tote& tote, const solver::ShellFields& fields) {
  Eigen::Matrix3Xd force = triangle_mean(fields.membrane_force);
  for (std::size_t i = 0; i < tote.sheet_share.size(); ++i) {
    if (tote.sheet_share[i] == 0) continue;
    const Eigen::Vector3d strain = fields.membrane_strain[i].rowwise().mean();
    force.col(static_cast<Eigen::Index>(i)) -= tote.sheet_share[i] * (tote.sheet_A * strain);
  }
  return force;
}

std::vector<Utilisation> utilisations(const Scene& scene, const Tote& tote,
                                      const solver::State& loaded,
                                      const solver::ShellFields& fields) {
  return Demands(scene, tote, loaded, fields).run();
}

std::vector<Utilisation> utilisations(const Scene& scene, const Tote& tote,
                                      const solver::State& loaded) {
  return utilisations(scene, tote, loaded, solver::shell_fields(tote.model, loaded));
}

std::vector<std::string> cautions(const Scene& scene, const Tote& tote, const Findings& findings) {
  std::vector<std::string> list{
      "This is a calculation for a bag carried by hand. It is no lifting device: do not lift "
      "people, "
      "do not lift loads over people, do not carry infants or animals in it on the strength of "
      "these "
      "numbers.",
      "Many material numbers are of low grade (from memory or estimates; each is marked in the "
      "library). Test a sample of your own cloth, thread and seams to failure before you rely on a "
      "load.",
      "Strength falls with age, wear, washing, wet and sunlight, and with any damage; a used bag "
      "holds "
      "less than the numbers here.",
      kSteadyLoad,
      "Local codes and a licensed engineer decide wherever somebody could be hurt by a failure."};
  const auto add = [&list](std::string text) { list.push_back(std::move(text)); };

  if (!findings.converged()) {
    add("No equilibrium was reached: the numbers belong to the last good state and answer "
        "nothing.");
  } else if (!findings.loaded.stable || !findings.empty.stable) {
    add("The shape found is not stable: a small push would take the bag to another one.");
  }
  if (scene.solve.contact && !tote.model.contact.active()) {
    add("Contact was left out: parts of this bag start in each other.");
  }
  if (findings.surface_crossings > 0) {
    add(fmt::format("Surfaces pass through each other in this state, in {} pairs of triangles: {}.",
                    findings.surface_crossings, findings.surface_crossings_where));
  }
  if (findings.unseen_wrinkles > kTellUnseenWrinkles) {
    add(fmt::format(
        "On {:.0f} % of the cloth the real bag would wrinkle more finely than this mesh can show, "
        "and gives more there. A smaller mesh.size shows more of it.",
        100 * findings.unseen_wrinkles));
  }
  if (findings.other_shape.found) {
    const auto length = [&](double length_m) { return length_text(length_m, scene.units); };
    add(fmt::format(
        "A second stable shape was found, with a bottom sag of {} and a strap drop of {} instead "
        "of {} and {}; a real bag may take either.",
        length(findings.other_shape.bottom_sag_m), length(findings.other_shape.strap_drop_m),
        length(findings.bottom_sag_m), length(findings.strap_drop_loaded_m)));
  }
  if (findings.hook_friction_needed > kFrictionToMention) {
    add(
        fmt::format("The strap is taken to stay where it lies on the hook. It slides unless the "
                    "friction between them has a coefficient of {:.2f} or more.",
                    findings.hook_friction_needed));
  }
  std::string unknown;
  const auto missing = [&unknown](const char* what) {
    unknown += (unknown.empty() ? "" : ", ") + std::string(what);
  };
  if (!tote.strength.fastening_shear_N.known()) missing("the thread at the straps");
  if (!tote.strength.strap_N.known()) missing("the strap");
  if (std::none_of(tote.strength_weft_N_per_m.begin(), tote.strength_weft_N_per_m.end(),
                   [](double s) { return s > 0; })) {
    missing("the panels' cloth");
  }
  if (scene.base.kind != BaseKind::kNone && !tote.strength.sheet_yield_Pa.known()) {
    missing("the base sheet");
  }
  if (!unknown.empty()) {
    add(fmt::format("No strength is known for {}: what share of it is used cannot be said.",
                    unknown));
  }
  for (const Utilisation& use : findings.utilisation) {
    if (use.ratio < 1) break;
    add(fmt::format("{} is loaded beyond its typical strength ({:.0f} %): expect it to fail.",
                    use.what, 100 * use.ratio));
  }
  if (scene.contents.kind == ContentsKind::kLoose && scene.contents.bulk_density_kg_per_m3 > 0 &&
      scene.contents.mass_kg / scene.contents.bulk_density_kg_per_m3 > tote.volume_m3) {
    add(fmt::format("The contents take {:.1f} l; the open bag holds about {:.1f} l.",
                    1e3 * scene.contents.mass_kg / scene.contents.bulk_density_kg_per_m3,
                    1e3 * tote.volume_m3));
  }
  return list;
}

}  // namespace totebench::scenes
