#include "app/present/sweep_report.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "app/commands/scene_job.hpp"
#include "app/present/sweep_axes.hpp"
#include "totebench/studies/cautions.hpp"

namespace totebench::app {
namespace {

constexpr std::size_t kMostOnTerminal = 40;

// "bag 3: base.thickness 2 mm, contents.mass 4 kg"
std::string bag_name(const studies::SweepResult& r, std::size_t i) {
  std::string values;
  for (std::size_t f = 0; f < r.factors.size(); ++f) {
    values +=
        fmt::format("{}{} {}", f == 0 ? "" : ", ", r.factors[f].key, r.bags[i].values[f].text);
  }
  return fmt::format("bag {}: {}", i + 1, values);
}

}  // namespace

std::string sweep_sentence(const scenes::Scene& scene, const studies::SweepResult& r,
                           const std::string& units) {
  std::string text = fmt::format("{}: {} of {} bags came to rest", scene.name,
                                 r.count(studies::Swept::kAtRest), r.bags.size());
  const int lost = r.count(studies::Swept::kNoRest);
  const int impossible = r.count(studies::Swept::kImpossible);
  if (lost > 0) text += fmt::format(", {} found no equilibrium", lost);
  if (impossible > 0) text += fmt::format(", {} cannot be made", impossible);
  const SweepAxis up = up_axis(r);
  const auto [least, most] = ends_of(up);
  if (least == r.bags.size()) return text + ".";
  text +=
      fmt::format("; {} from {} ({}) to {} ({}).", up.name, axis_text(up.values[least], up, units),
                  bag_name(r, least), axis_text(up.values[most], up, units), bag_name(r, most));
  const TextTable effects = effect_rows(r, units);
  if (effects.size() > 2) text += fmt::format(" What moves it most is {}.", effects[1][0]);
  return text;
}

std::vector<std::string> sweep_cautions(const studies::SweepResult& r) {
  std::vector<std::string> list = studies::load_cautions();
  list.emplace_back(
      "A share of a strength is that of the typical bag with the load of the scene in it: no "
      "rating, "
      "without the scatter of materials and without any margin. Let totebench rate the bag that "
      "you "
      "mean to make before you go by any load.");
  if (std::any_of(r.factors.begin(), r.factors.end(), [](const scenes::SweptFactor& factor) {
        return factor.key.starts_with("contents.");
      })) {
    list.emplace_back(
        "These bags do not carry the same: one may sag less than another, or use less of its "
        "strength, only because it carries less.");
  }
  if (r.coarse) {
    list.emplace_back(
        "These bags hang on the coarse mesh: what single stitches carry comes out up to twice too "
        "large there, and other shapes that a bag may rest in were not looked for. Hang those that "
        "matter without --coarse.");
  }
  return list;
}

std::string sweep_report(const scenes::Scene& scene, const studies::SweepResult& r,
                         const std::string& units, const viz::Written& written,
                         const std::string& folder) {
  if (r.interrupted) {
    return fmt::format(
        "Stopped on request with {} of {} bags hung, which are kept. Run the same command again to "
        "go on with the others.\n",
        r.count(studies::Swept::kAtRest) + r.count(studies::Swept::kNoRest), r.bags.size());
  }
  std::string text = sweep_sentence(scene, r, units) + "\n\n";
  const TextTable rows = sweep_rows(r, units, kMostOnTerminal);
  text += table_text(rows, rows.front().size() - 1);
  if (!unbeaten_bags(r).empty()) {
    text += fmt::format("  * no other bag has less of both, {} and {}\n", across_axis(r).name,
                        up_axis(r).name);
  }
  if (rows.size() - 1 < r.bags.size()) {
    text += fmt::format("  and {} more, all in {}/sweep.csv\n", r.bags.size() - rows.size() + 1,
                        folder);
  }
  const TextTable effects = effect_rows(r, units);
  if (effects.size() > 1) text += "\n" + table_text(effects);
  text += fmt::format("\nHung on the {} mesh in {}.\n\n", r.coarse ? "coarse" : "finest",
                      scenes::time_text(r.seconds)) +
          results_text(written, folder, "sweep.svg", "shows the trade-off.");
  return text + cautions_text(sweep_cautions(r));
}

}  // namespace totebench::app
