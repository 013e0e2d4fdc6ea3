#include "totebench/studies/cautions.hpp"

#include <fmt/format.h>

#include "totebench/materials/library.hpp"
#include "totebench/scenes/unit_text.hpp"

namespace totebench::studies {

std::vector<std::string> load_cautions() {
  return {
      "This is no lifting device. Never use it for people, for infants or animals, or for loads "
      "over anybody's head.",
      "This is a calculation and no certificate. Sew a sample of your own cloth, thread and seams "
      "and pull it until it fails before you rely on any load.",
      "Age, wear, washing, wet, sunlight and damage take strength away: what a used bag holds is "
      "not known from this. Do not use a bag with a broken stitch, a frayed strap or a torn hem.",
      "Local codes, product-safety rules and licensed engineering practice decide wherever "
      "somebody could be hurt or a bag is sold with a stated load."};
}

std::vector<std::string> special_cautions(const scenes::Findings& findings) {
  std::vector<std::string> list;
  for (const std::string& text : findings.cautions) {
    // The general ones of a hanging are said in load_cautions() in other words.
    const bool special =
        text.find("Surfaces pass through") == 0 || text.find("A second stable shape") == 0 ||
        text.find("No strength is known") == 0 || text.find("The contents take") == 0 ||
        text.find("The shape found") == 0 || text.find("No equilibrium") == 0;
    if (special) list.push_back(text);
  }
  return list;
}

std::vector<std::string> rating_cautions(const scenes::Scene& scene, const RateResult& result,
                                         const std::string& units) {
  const Rating& r = result.rating;
  std::vector<std::string> list = load_cautions();
  const auto add = [&list](std::string text) { list.push_back(std::move(text)); };
  if (!r.factor_grade.empty() && r.factor_grade != materials::kGradeSeen) {
    add(fmt::format("The shock factor of {:g} behind this rating is of low grade ({}).",
                    r.shock_factor, r.factor_grade));
  }
  if (!r.weakest_grade.empty() && r.weakest_grade != materials::kGradeSeen) {
    add(
        fmt::format("The strength that governs is data of low grade ({}). A test of that part on "
                    "your own material is worth more than all else here.",
                    r.weakest_grade));
  }
  for (const std::string& text : special_cautions(result.hang.findings)) add(text);
  if (!result.hang.findings.converged() || result.interrupted) return list;
  if (!result.rated()) return list;  // the others are about the rating
  if (r.set_mass_kg > r.rated_kg) {
    add(fmt::format("The load of this scene ({}) is above the rated mass.",
                    scenes::mass_text(r.set_mass_kg, units)));
  }
  if ((r.spoiling_governs ? r.spoilt : r.drops).at_jump) {
    add("The shape jumps at the load that governs; the very load depends on how it is put on, "
        "within some "
        "15 %.");
  }
  if (scene.contents.kind == scenes::ContentsKind::kLoose) {
    add("Loads above the scene's own are computed as heavier contents of the same volume.");
  }
  if (r.spoilt.found && r.drops.found && r.spoilt.load_factor < r.drops.load_factor) {
    add("Beyond the load that leaves lasting damage, the computation goes on as if that part were "
        "still whole: the load at which it drops is less sure than the figures look.");
  }
  if (!r.drops.found) {
    add("The load at which the bag would drop its contents was not reached (" + r.drops.why_not +
        "); the rating rests on the largest load held instead.");
  }
  const bool drops_sampled = !r.drops.found || r.drops_spread.sampled_kg.count > 0;
  const bool spoilt_sampled = !r.spoilt.found || r.spoilt_spread.sampled_kg.count > 0;
  if (r.bags.empty()) {
    add("No bags were sampled: the rating makes no allowance for scatter of the material.");
  } else if (!drops_sampled || !spoilt_sampled) {
    add("For one of the failures no bags could be sampled: there the rating makes no allowance for "
        "scatter of the material.");
  }
  if (r.bags_failed > 0) {
    add(
        fmt::format("For {} of {} sampled bags a failure load was not found; the band is of the "
                    "others.",
                    r.bags_failed, r.bags.size()));
  }
  const Comfort& rated = result.at_rated_load;
  if (!rated.on_shoulder && rated.high_Pa > rated.limit_Pa && r.rated_kg > 0) {
    add("At the rated mass the straps press harder on the hand than its skin can take without "
        "losing its blood flow; the limit is the hand, not the bag.");
  }
  if (r.rated_kg > result.at_rated_load.one_hand_kg) {
    add(fmt::format("Above about {} two hands or two bags are advised, whatever the bag holds.",
                    scenes::mass_text(result.at_rated_load.one_hand_kg, units)));
  }
  return list;
}

}  // namespace totebench::studies
