#include "app/present/rate_tables.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "app/present/demand_text.hpp"
#include "totebench/scenes/unit_text.hpp"

namespace totebench::app {
namespace {

constexpr double kFarApart = 0.25;  // sampled and first-order deviation, of the former

std::string grade_words(const std::string& grade) {
  return grade == materials::kGradeSeen ? "published" : grade + ", low grade";
}

std::string load_of(const studies::FirstFailure& f, const studies::Rating& r,
                    const std::string& units) {
  return scenes::mass_text(f.load_factor * r.set_mass_kg, units);
}

std::string drivers_line(const studies::Spread& spread,
                         const std::vector<studies::ScatterInput>& inputs, const char* what) {
  std::vector<studies::Driver> drivers;
  for (std::size_t i = 0; i < spread.first_order.share.size(); ++i) {
    drivers.push_back({inputs[i].label(), spread.first_order.share[i]});
  }
  const std::string text = studies::drivers_text(std::move(drivers));
  return text.empty() ? text : fmt::format("What that spread comes from ({}): {}.", what, text);
}

// Why the typical bag does not lie in the band of the sampled ones, where it does not. A range that
// reaches further up than down moves the mean of the samples by slope x (its mean - its value).
std::string outside_band(const studies::Rating& r, const studies::FirstFailure& failure,
                         const studies::Spread& spread, const char* what) {
  const studies::SampleBand& band = spread.sampled_kg;
  const double typical = failure.load_factor * r.set_mass_kg;
  if (!failure.found || band.count == 0 || (typical >= band.low && typical <= band.high)) return "";
  double moved = 0, most = 0;
  std::string by;
  for (std::size_t i = 0; i < std::min(r.inputs.size(), spread.first_order.slope.size()); ++i) {
    const studies::ScatterInput& in = r.inputs[i];
    const double one = spread.first_order.slope[i] * ((in.low + in.value + in.high) / 3 - in.value);
    moved += one;
    if ((one > 0) == (typical < band.low) && std::abs(one) > most) {
      most = std::abs(one);
      by = in.label();
    }
  }
  const double apart = band.mean - typical;
  const std::string side = typical < band.low ? "below" : "above";
  std::string text =
      fmt::format("{}: the typical bag lies {} the band of nine in ten sampled ones. ", what, side);
  if (!by.empty() && moved * apart > 0 && std::abs(moved) > 0.5 * std::abs(apart)) {
    text += fmt::format(
        "Ranges of the data reach further to one side of the usual value than to the other, most "
        "of all that of {}, so that most bags lie on that side.",
        by);
  } else {
    text +=
        "The ranges of the data do not explain it: the typical bag is solved on the fine mesh, the "
        "sampled ones on the coarse one, and the shape jumps or another part takes over between "
        "them. Read both as uncertain by at least the gap.";
  }
  return text + " The rating goes by the lower of the two.";
}

std::string over_text(double kg, double factor, const std::string& units) {
  return fmt::format("{} / {:g} = {}", scenes::mass_text(kg * factor, units), factor,
                     scenes::mass_text(kg, units));
}

// Which data hold the rating at its grade, and how that is worked out.
std::string data_grade_line(const studies::DataGrade& data) {
  constexpr std::size_t kMost = 4;
  if (data.grade.empty()) return "No part governs, so no data hold this rating.";
  std::string names;
  for (std::size_t i = 0; i < std::min(kMost, data.of.size()); ++i) {
    names += (i == 0 ? "" : ", ") + data.of[i];
  }
  if (data.of.size() > kMost) names += fmt::format(" and {} more", data.of.size() - kMost);
  return fmt::format(
      "The data behind it: {} at worst ({}). That is the worst grade among the strength that "
      "governs and the masses and stiffnesses which the loads of the typical bag follow from.",
      short_grade(data.grade), names);
}

// Where dropping the load and lasting damage lie close together it takes a change for each.
std::string pair_text(const studies::Rating& r) {
  const auto cheapest = [&](const studies::FirstFailure& was,
                            studies::FirstFailure studies::Change::*its) {
    const auto better = [&](const studies::Change& c) {
      return c.solved && (c.*its).load_factor > r.worthwhile() * was.load_factor;
    };
    return std::find_if(r.changes.begin(), r.changes.end(), better);
  };
  const auto drops = cheapest(r.drops, &studies::Change::drops);
  const auto spoilt = cheapest(r.spoilt, &studies::Change::spoilt);
  if (!r.drops.found || !r.spoilt.found || drops == spoilt || drops == r.changes.end() ||
      spoilt == r.changes.end()) {
    return "";
  }
  return fmt::format("; two limits lie close together, and it would take {} with {} (not solved)",
                     drops->what, spoilt->what);
}

}  // namespace

std::string rated_text(double kg, const std::string& units) {
  const scenes::ShownUnit unit = scenes::mass_unit(units);
  if (unit.name == "kg") return fmt::format("{:g} kg", kg);
  const double shown = kg * unit.per_SI;
  // Whole ounces below 4 lb; the epsilon takes 3 lb that were 2.9999999 for 3 lb.
  const double parts = shown < 4 ? 16 : 1;
  return scenes::mass_text(std::floor(parts * shown + 1e-9) / parts / unit.per_SI, units);
}

std::string mode_words(const std::string& mode) {
  if (mode == "strap_fastening") return "strap stitches or rivets";
  if (mode == "tear_out") return "cloth at a stitch";
  if (mode == "cloth_at_strap") return "cloth beside the stitching";
  std::string words = mode;
  std::replace(words.begin(), words.end(), '_', ' ');
  return words;
}

std::string rate_sentence(const scenes::Scene& scene, const studies::RateResult& result,
                          const std::string& units) {
  const studies::Rating& r = result.rating;
  const studies::FirstFailure& limiting = r.limiting();
  const std::string at = load_of(limiting, r, units);
  const std::string name = scene.name.empty() ? "The tote" : scene.name;
  std::string text = fmt::format(
      "{}, meant for {}: one hand should carry no more than about {}, whatever the bag holds. ",
      name, scenes::mass_text(r.set_mass_kg, units),
      scenes::mass_text(result.at_rated_load.one_hand_kg, units));
  text += limiting.found
              ? fmt::format("What limits it: {}, at {} in a typical bag ({}; strength: {}). ",
                            limiting.governing.what, at,
                            r.spoiling_governs ? "lasting damage" : "the load would drop",
                            grade_words(r.weakest_grade))
              : fmt::format("Nothing fails up to the largest load computed, {}. ", at);
  text += fmt::format("By calculation that makes a rating of {}", rated_text(r.rated_kg, units));
  if (!r.data.grade.empty()) {
    text += "; data behind it: " + short_grade(r.data.grade) + " at worst";
  }
  if (!r.factor_grade.empty() && r.factor_grade != materials::kGradeSeen) {
    text += "; shock factor: " + grade_words(r.factor_grade);
  }
  return text +
         ". No lifting device; never for people, infants or loads overhead; no certificate: test a "
         "sample to failure before you rely on it.";
}

std::string unrated_sentence(const scenes::Scene& scene, const studies::RateResult& result,
                             const std::string& units) {
  const std::string name = scene.name.empty() ? "The tote" : scene.name;
  const studies::Rating& r = result.rating;
  if (!result.hang.findings.converged()) {
    return name + " is not rated: it did not come to rest under its own load.";
  }
  if (r.can_be_given()) {
    return fmt::format(
        "{} is not rated: of {} bags with sampled materials {} found no load at which they fail. "
        "The typical one fails at {} ({}).",
        name, r.bags.size(), r.bags_failed, load_of(r.limiting(), r, units),
        r.limiting().governing.what);
  }
  std::string text = fmt::format(
      "{} is not rated: the load at which it would drop its contents is not known ({}).", name,
      r.drops.why_not);
  if (!(r.drops.load_factor > 0)) return text;
  text += " The largest load it was seen to hold is " + load_of(r.drops, r, units);
  if (r.drops.nearest.mode.empty()) return text + ".";
  return text + fmt::format("; nearest to its strength there is {}, with {} % of it used.",
                            r.drops.nearest.what, scenes::rough_text(100 * r.drops.nearest.ratio));
}

TextTable rated_head() {
  return {{"bag", "meant for", "rated", "load dropped at", "lasting damage at", "what limits it"}};
}

std::vector<std::string> rated_row(const scenes::Scene& scene, const studies::RateResult& result,
                                   const std::string& units) {
  const studies::Rating& r = result.rating;
  const std::string set = scenes::mass_text(r.set_mass_kg, units);
  if (result.interrupted) return {scene.name, set, "", "", "", kStoppedCell};
  const auto at = [&](const studies::FirstFailure& f) {
    if (!(f.load_factor > 0)) return std::string("-");
    return (f.found ? "" : "above ") + load_of(f, r, units);
  };
  return {scene.name,
          set,
          result.rated() ? rated_text(r.rated_kg, units) : "not rated",
          at(r.drops),
          at(r.spoilt),
          r.limiting().found ? r.limiting().governing.what : r.drops.why_not};
}

// How far sampling and first order agree, and which parts fail first in the sampled bags.
std::vector<std::string> spread_lines(const studies::Rating& r, const std::string& units) {
  std::vector<std::string> lines;
  for (const auto& [what, spread] :
       {std::pair("dropped", &r.drops_spread), std::pair("lasting damage", &r.spoilt_spread)}) {
    const studies::SampleBand& band = spread->sampled_kg;
    if (band.count == 0) continue;
    std::string parts;
    for (const auto& [mode, count] : spread->governed_by) {
      parts += fmt::format("{}{} in {}", parts.empty() ? "" : ", ", mode_words(mode), count);
    }
    lines.push_back(
        fmt::format("First to fail in {} sampled bags ({}): {}.", band.count, what, parts));
    if (!spread->first_order.slope.empty() &&
        std::abs(spread->first_order_kg - band.deviation) > kFarApart * band.deviation) {
      lines.back() += fmt::format(
          " They scatter by {} (standard deviation), where adding up what each number of the data "
          "does alone gives {}: the shape jumps, or another part takes over. What the sampled bags "
          "do counts.",
          scenes::mass_text(band.deviation, units),
          scenes::mass_text(spread->first_order_kg, units));
    }
  }
  for (const std::string& line : {outside_band(r, r.drops, r.drops_spread, "Load dropped"),
                                  outside_band(r, r.spoilt, r.spoilt_spread, "Lasting damage")}) {
    if (!line.empty()) lines.push_back(line);
  }
  for (const auto& [what, spread] :
       {std::pair("dropped", &r.drops_spread), std::pair("lasting damage", &r.spoilt_spread)}) {
    const std::string line = drivers_line(*spread, r.inputs, what);
    if (!line.empty()) lines.push_back(line);
  }
  return lines;
}

std::vector<std::string> factor_lines(const studies::Rating& r, const std::string& units) {
  const auto low = [&](const studies::FirstFailure& failure, const studies::Spread& spread) {
    const bool typical =
        spread.sampled_kg.count == 0 || failure.load_factor * r.set_mass_kg < spread.sampled_kg.low;
    return typical ? "the typical bag" : "the 1 in 20 that fails first";
  };
  std::string text =
      fmt::format("Rated from {}: {} where the load would drop", low(r.drops, r.drops_spread),
                  over_text(r.drops_rating_kg, r.design_factor, units));
  if (r.spoilt.found) {
    text += fmt::format(
        ", from {}: {} where it would take lasting damage; the lesser, rounded down, is {}",
        low(r.spoilt, r.spoilt_spread), over_text(r.spoilt_rating_kg, r.shock_factor, units),
        rated_text(r.rated_kg, units));
  }
  return {text + ".", data_grade_line(r.data),
          fmt::format("Why {:g}: published for sewn bulk bags 5 (one trip) and 6 (used again), for "
                      "sewn webbing "
                      "slings 5 to 7. Those cover scatter of a tested, controlled make, lifting "
                      "shocks and some "
                      "wear; they do not cover an untested design, home sewing, unknown cloth, "
                      "sun, wet, washing "
                      "or damage. {:g} is the shock of stairs or a snatch lift (estimate).",
                      r.design_factor, r.shock_factor)};
}

std::string advice_text(const studies::Rating& r, const std::string& units) {
  if (r.changes.empty()) return "";
  std::string text;
  if (r.limiting().found) {
    std::string elsewhere;
    for (const studies::Change& change : r.changes) {
      if (!r.touches_limit(change)) elsewhere += (elsewhere.empty() ? "" : ", ") + change.what;
    }
    text = fmt::format("What limits this bag: {}", r.limiting().governing.what);
    text += elsewhere.empty()
                ? ". "
                : fmt::format(
                      "; that is not touched by: {}. Where their rated mass differs all the "
                      "same, that is what the coarse mesh of the changes leaves open. ",
                      elsewhere);
  }
  if (r.advised >= 0) {
    const studies::Change& change = r.changes[static_cast<std::size_t>(r.advised)];
    return text + fmt::format("The cheapest change found to raise it: {}, then rated {}.",
                              change.what,
                              rated_text(studies::rounded_down_kg(change.rated_kg), units));
  }
  return text + fmt::format(
                    "No change made to it raises the rating by more than {:.0f} %, which "
                    "is what the meshes can tell apart{}.",
                    100 * (r.worthwhile() - 1), pair_text(r));
}

std::vector<std::string> comfort_lines(const scenes::Scene& scene,
                                       const studies::RateResult& result,
                                       const std::string& units) {
  const studies::Comfort& c = result.at_set_load;
  std::vector<std::string> lines;
  if (c.high_Pa > 0 && c.on_shoulder) {
    lines.push_back(fmt::format(
        "On the shoulder with {}: {} under {} of strap; school bags change gait and "
        "posture above {:.0f} % of the carrier's mass.",
        scenes::mass_text(result.rating.set_mass_kg, units),
        scenes::pressure_text(c.high_Pa, units),
        scenes::length_text(scene.support.grip_width_m, units), 100 * c.body_mass_share));
  } else if (c.high_Pa > 0) {
    lines.push_back(fmt::format(
        "On the hand with {}: {} to {} (handles side by side, or on each other); the skin's "
        "blood flow stops near {}.",
        scenes::mass_text(result.rating.set_mass_kg, units), scenes::pressure_text(c.low_Pa, units),
        scenes::pressure_text(c.high_Pa, units), scenes::pressure_text(c.limit_Pa, units)));
  }
  lines.push_back(fmt::format(
      "To carry: the NIOSH lifting equation starts from {} for two hands in the best posture and "
      "is not meant for carrying; ISO 11228-1 takes {:g} of it for one hand (from memory). Above "
      "about {} two hands or two bags are advised (estimate).",
      scenes::mass_text(c.load_constant_kg, units), c.one_hand_share,
      scenes::mass_text(c.one_hand_kg, units)));
  return lines;
}

}  // namespace totebench::app
