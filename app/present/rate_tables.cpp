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

// Where dropping and spoiling lie close together it takes a change for each.
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
  return shown < 4 ? fmt::format("{:.1f} {}", std::floor(10 * shown) / 10, unit.name)
                   : fmt::format("{:.0f} {}", std::floor(shown), unit.name);
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
  const studies::FirstFailure& governing = r.spoiling_governs ? r.spoilt : r.drops;
  const std::string at = load_of(governing, r, units);
  const std::string by =
      governing.found ? fmt::format("{}, at {} (strength: {}", governing.governing.what, at,
                                    grade_words(r.weakest_grade))
                      : fmt::format("the largest load computed, {} (nothing fails up to there", at);
  const std::string data =
      r.data.grade.empty() ? "" : "; data behind it: " + short_grade(r.data.grade) + " at worst";
  const std::string factor = r.factor_grade.empty() || r.factor_grade == materials::kGradeSeen
                                 ? ""
                                 : "; shock factor: " + grade_words(r.factor_grade);
  std::string text = fmt::format(
      "{}: rated {} by calculation, limited by {}{}{}). No lifting device; never for people, "
      "infants "
      "or loads overhead; no certificate: test a sample to failure before you rely on it.",
      scene.name.empty() ? "The tote" : scene.name, rated_text(r.rated_kg, units), by, data,
      factor);
  if (r.rated_kg > result.at_rated_load.one_hand_kg) {
    text += fmt::format(" One hand should carry far less: about {}.",
                        scenes::mass_text(result.at_rated_load.one_hand_kg, units));
  }
  return text;
}

// How far sampling and first order agree, and which parts fail first in the sampled bags.
std::vector<std::string> spread_lines(const studies::Rating& r) {
  std::vector<std::string> lines;
  for (const auto& [what, spread] :
       {std::pair("dropped", &r.drops_spread), std::pair("spoilt", &r.spoilt_spread)}) {
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
      lines.back() +=
          " Sampled and first-order deviation lie apart: failure does not follow the data in a "
          "straight line (the shape jumps, or another part takes over). Go by the sampled band.";
    }
  }
  for (const auto& [what, spread] :
       {std::pair("dropped", &r.drops_spread), std::pair("spoilt", &r.spoilt_spread)}) {
    const std::string line = drivers_line(*spread, r.inputs, what);
    if (!line.empty()) lines.push_back(line);
  }
  return lines;
}

std::vector<std::string> factor_lines(const studies::Rating& r, const std::string& units) {
  const auto low = [](const studies::Spread& spread) {
    return spread.sampled_kg.count == 0 ? "the typical bag" : "the 5 % that fail first";
  };
  std::string text = fmt::format("Rated from {}: {} where the load would drop", low(r.drops_spread),
                                 over_text(r.drops_rating_kg, r.design_factor, units));
  if (r.spoilt.found) {
    text += fmt::format(", from {}: {} where the bag would be spoilt; the lesser, rounded down",
                        low(r.spoilt_spread), over_text(r.spoilt_rating_kg, r.shock_factor, units));
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
  if (r.advised >= 0) {
    const studies::Change& change = r.changes[static_cast<std::size_t>(r.advised)];
    return fmt::format("The cheapest change found to raise it: {}, then rated {}.", change.what,
                       rated_text(studies::rounded_down_kg(change.rated_kg), units));
  }
  return fmt::format("No change tried raises the rating by more than {:.0f} %{}.",
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
