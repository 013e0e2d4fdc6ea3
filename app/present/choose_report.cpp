#include "app/present/choose_report.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "app/commands/scene_job.hpp"
#include "app/present/choose_words.hpp"
#include "app/present/rate_report.hpp"
#include "app/present/text_table.hpp"
#include "totebench/scenes/unit_text.hpp"
#include "totebench/studies/cautions.hpp"

namespace totebench::app {
namespace {

// "bottom sag (missed by 6 of the 6 lighter builds; mass by 2)", the limit missed most often first;
// `of` says which builds, "6 lighter builds". Empty where no limit is known to be missed.
std::string missed_text(const studies::ChooseResult& r, const std::string& of) {
  std::vector<std::size_t> order;
  for (std::size_t f = 0; f < studies::kChooseFigures.size(); ++f) {
    if (r.search.missed[f] > 0) order.push_back(f);
  }
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return r.search.missed[a] > r.search.missed[b];
  });
  std::string text;
  for (const std::size_t f : order) {
    text += text.empty()
                ? fmt::format("{} (missed by {} of {}", studies::kChooseFigures[f].name,
                              r.search.missed[f], of)
                : fmt::format("; {} by {}", studies::kChooseFigures[f].name, r.search.missed[f]);
  }
  return text.empty() ? text : text + ")";
}

// Which limit keeps the chosen build from being lighter (cheaper).
std::string binding_text(const studies::ChooseResult& r) {
  const int n = n_less(r);
  if (n == 0) return fmt::format(" None is {}, so no limit stands in its way.", less_word(r));
  const std::string of = fmt::format("the {} {} build{}", n, less_word(r), n == 1 ? "" : "s");
  const std::string missed = missed_text(r, of);
  if (missed.empty()) return fmt::format(" No equilibrium was found of {}.", of);
  return fmt::format(" What keeps {} builds out: {}.", less_word(r), missed);
}

// What the nearest miss misses: "bottom sag 9 mm instead of 7 mm".
std::string misses_of(const studies::ChooseResult& r, int i, const std::string& units) {
  const studies::Figures limits = studies::figure_limits(r.spec.limits);
  std::string text;
  for (std::size_t f = 0; f < studies::kChooseFigures.size(); ++f) {
    const double value = found_of(r, i).figures[f];
    if (!(value > limits[f])) continue;
    if (f == studies::kFigureStands) {
      text += fmt::format("{}standing by itself to {}, not to the {} asked for",
                          text.empty() ? "" : ", ", stands_text(r, i, units),
                          scenes::length_text(r.spec.limits.standing_height_m, units));
      continue;
    }
    const bool use = studies::kChooseFigures[f].share != nullptr;
    text += fmt::format("{}{} {}{} instead of {}", text.empty() ? "" : ", ",
                        studies::kChooseFigures[f].name, use ? "used to " : "",
                        figure_text(f, value, units), figure_text(f, limits[f], units));
  }
  return text;
}

}  // namespace

std::string choose_sentence(const studies::ChooseResult& r, const std::string& units) {
  const std::size_t aim = aim_figure(r);
  const auto with_cost = [&](int i) {
    return fmt::format("{} ({})", studies::build_name(r.spec, build_of(r, i).picks),
                       figure_text(aim, cost_of(r, i), units));
  };
  if (r.search.chosen >= 0) {
    std::string text = fmt::format("The {} of {} builds within the limits: {}.",
                                   lightest(r) ? "lightest" : "cheapest", r.n_possible(),
                                   with_cost(r.search.chosen));
    text += binding_text(r);
    if (r.search.runner_up >= 0) {
      text += fmt::format(" Runner-up: {}{}.", with_cost(r.search.runner_up),
                          found_of(r, r.search.runner_up).known == studies::Known::kFull
                              ? ""
                              : ", on the coarse mesh");
    }
    return text;
  }
  if (r.search.nearest < 0) return "No build came to rest under its load, so none was chosen.";
  return fmt::format(
      "None of {} builds meets the limits. The nearest miss: {}, with {}. In the way: {}.",
      r.n_possible(), with_cost(r.search.nearest), misses_of(r, r.search.nearest, units),
      missed_text(r, "them"));
}

std::vector<std::string> search_lines(const studies::ChooseResult& r) {
  const studies::SearchResult& s = r.search;
  // The widest of those that belong to a limit.
  const studies::Figures limits = studies::figure_limits(r.spec.limits);
  const auto percent = [&](const studies::Figures& margins) {
    double widest = 0;
    for (std::size_t f = 0; f < studies::kFigureMass; ++f) {
      if (std::isfinite(limits[f])) widest = std::max(widest, margins[f]);
    }
    return fmt::format("{:.0f} %", 100 * (std::exp(widest) - 1));
  };
  std::vector<std::string> lines = {
      fmt::format("{} of {} builds were solved on the coarse mesh, {} on the full one.",
                  r.n_solved(false), r.builds.size(), r.n_solved(true))};
  const char* less = r.spec.aim == scenes::ChooseAim::kLightest ? "lighter" : "cheaper";
  const char* more = r.spec.aim == scenes::ChooseAim::kLightest ? "heavier" : "dearer";
  if (s.ruled_out > 0) {
    lines.push_back(fmt::format(
        "{} {} builds were ruled out by prediction alone and not solved: what their alternatives "
        "did one at a time puts them beyond a limit by more than such predictions were found to "
        "err "
        "(up to {}).",
        s.ruled_out, s.chosen >= 0 ? less : "other", percent(s.predict_margin)));
  }
  if (s.dearer > 0) {
    lines.push_back(
        fmt::format("{} {} builds were not solved, since they cannot be chosen.", s.dearer, more));
  }
  if (s.undecided > 0) {
    lines.push_back(fmt::format(
        "{} {} builds miss a limit on the coarse mesh by no more than the meshes were found to "
        "differ (up to {}), and were not solved on the full one.",
        s.undecided, s.chosen >= 0 ? less : "other", percent(s.coarse_margin)));
  }
  for (const int i : s.fell) {
    const std::size_t k = static_cast<std::size_t>(i);
    lines.push_back(
        fmt::format("Within the limits on the coarse mesh, not on the full one: {}{}.",
                    studies::build_name(r.spec, r.builds[k].picks),
                    std::isnan(s.builds[k].use) ? " (no equilibrium was found there)" : ""));
  }
  int lost = 0;
  for (const studies::FoundBuild& build : s.builds)
    lost += build.solved() && std::isnan(build.use) ? 1 : 0;
  if (lost > 0) {
    lines.push_back(fmt::format(
        "{} builds found no equilibrium (or no known strength) and count as missing the limits.",
        lost));
  }
  if (std::any_of(s.builds.begin(), s.builds.end(), [](const studies::FoundBuild& build) {
        return build.solved() && build.figures[studies::kFigureSpoilsUse] == 0;
      })) {
    lines.emplace_back(
        "A build without a known strength against lasting damage counts as undamaged: that limit "
        "was not tested there (give the cloth its strength, and a base sheet its yield stress).");
  }
  const auto none =
      std::find_if(r.builds.begin(), r.builds.end(),
                   [](const studies::ChooseBuild& b) { return !b.impossible.empty(); });
  if (none != r.builds.end()) {
    lines.push_back(fmt::format("{} builds cannot be made, the first of them ({}) because: {}.",
                                static_cast<int>(r.builds.size()) - r.n_possible(),
                                studies::build_name(r.spec, none->picks), none->impossible));
  }
  lines.emplace_back(
      "Figures of the coarse mesh are multiplied by the ratio between the meshes at the nearest "
      "build solved on both.");
  return lines;
}

std::vector<std::string> choose_cautions(const studies::ChooseResult& r, const std::string& units) {
  std::vector<std::string> list = studies::load_cautions();
  if (r.load.carries_kg > 0) {
    list.push_back(fmt::format(
        "That a build carries {} is said of the typical bag, with the usual value of each "
        "material; it is no rating. The scatter of materials is not in it: totebench rate the "
        "chosen build before you go by any load.",
        scenes::mass_text(r.load.carries_kg, units)));
  } else {
    list.emplace_back(
        "No limit says what the bag must carry (limits.carries), so nothing was chosen for its "
        "strength.");
  }
  if (r.shown() >= 0) {
    for (const std::string& text : studies::special_cautions(r.hang.findings)) list.push_back(text);
  }
  return list;
}

std::string choose_report(const studies::ChooseResult& r, const std::string& units,
                          const viz::Written& written, const std::string& folder) {
  if (r.interrupted) {
    return "Stopped on request: nothing was chosen. Run the same command again to go on with the "
           "builds that were solved.\n";
  }
  std::string text = choose_sentence(r, units) + "\n\n";
  if (r.shown() >= 0) {
    text += table_text(choose_rows(r, units));
    if (!r.search.front.empty()) {
      text += fmt::format(
          "  1 to {}: no build within the other limits beats it both in cost and in bottom sag. "
          "Numbers are those of the chart.\n",
          r.search.front.size());
    }
    text += "\n";
    text += table_text(limit_rows(r, units)) + "\n";
  }
  for (const std::string& line : search_lines(r)) text += line + "\n";
  text += fmt::format("Computed in {}.\n\n", scenes::time_text(r.seconds)) +
          results_text(written, folder);
  return text + cautions_text(choose_cautions(r, units));
}

}  // namespace totebench::app
