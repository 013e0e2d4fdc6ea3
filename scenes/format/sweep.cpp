#include "scenes/format/sweep.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "scenes/format/json_text.hpp"
#include "scenes/format/sweep_factors.hpp"
#include "totebench/scenes/design.hpp"

namespace totebench::scenes {
namespace {

using nlohmann::json;

// How many bags; 0 where that is wrong, which is reported.
std::size_t count_bags(const json& sweep, const std::vector<PlannedFactor>& factors, bool latin,
                       SceneReport& report) {
  const json* said = value_at(sweep, "bags");
  const double bags = said != nullptr && said->is_number_integer() ? said->get<double>() : 0;
  double combinations = 1;
  std::size_t most_levels = 1;
  for (const PlannedFactor& factor : factors) {
    const std::size_t n = factor.range ? 1 : factor.levels.size();
    combinations *= static_cast<double>(n);
    most_levels = std::max(most_levels, n);
  }
  const double n = latin ? bags : combinations;
  const auto refuse = [&](const char* at, std::string message, std::string cure) {
    report.error(at, std::move(message), std::move(cure));
    return std::size_t{0};
  };
  if (latin && said == nullptr) {
    return refuse("/sweep", "a Latin hypercube does not say how many bags it has",
                  "add \"bags\": 40");
  }
  if (latin && n > 1 && n < static_cast<double>(most_levels)) {
    return refuse("/sweep/bags",
                  fmt::format("{:.0f} bags cannot have all {} levels of a factor", n, most_levels),
                  fmt::format("hang {} or more", most_levels));
  }
  if (n > kMostSwept) {
    return refuse("/sweep/factors", fmt::format("these levels make {:.6g} bags", n),
                  fmt::format("{} are possible: leave out levels, or say \"design\": \"latin "
                              "hypercube\"",
                              kMostSwept));
  }
  if (n == 1) {
    return refuse(latin ? "/sweep/bags" : "/sweep/factors", "this is only one bag",
                  "totebench hang takes one; give a factor a second level");
  }
  if (!latin && said != nullptr && bags != n) {
    return refuse("/sweep/bags", fmt::format("these levels make {:.0f} bags, not {:.0f}", n, bags),
                  fmt::format("say {:.0f}, or leave \"bags\" out", n));
  }
  if (!latin && said == nullptr && n > kMostUnasked) {
    return refuse(
        "/sweep/factors", fmt::format("these levels make {:.0f} bags", n),
        fmt::format("if that is meant, say so: \"bags\": {:.0f}; else leave out levels, or "
                    "say \"design\": \"latin hypercube\"",
                    n));
  }
  return static_cast<std::size_t>(n);
}

// What every bag is made from.
struct Plan {
  json base;
  std::string file;
  SourceMap places;
  ReadRoot read;
  std::vector<PlannedFactor> factors;
  std::vector<int> levels;                  // of a full factorial
  std::vector<std::vector<double>> shares;  // of a Latin hypercube

  [[nodiscard]] std::size_t n_bags() const {
    return shares.empty() ? n_combinations(levels) : shares.size();
  }

  [[nodiscard]] std::vector<Level> bag(std::size_t i) const {
    std::vector<Level> out;
    const std::vector<int> picks = shares.empty() ? combination(levels, i) : std::vector<int>();
    for (std::size_t f = 0; f < factors.size(); ++f) {
      const PlannedFactor& factor = factors[f];
      if (!picks.empty()) {
        out.push_back(factor.levels[static_cast<std::size_t>(picks[f])]);
      } else if (factor.range) {
        out.push_back(within(factor, shares[i][f]));
      } else {
        out.push_back(factor.levels[level_of(shares[i][f], factor.levels.size())]);
      }
    }
    return out;
  }

 private:
  // Bags are dealt out to the levels in the order of their shares.
  [[nodiscard]] std::size_t level_of(double share, std::size_t n_levels) const {
    const std::size_t n = shares.size();
    const auto part = std::min(n - 1, static_cast<std::size_t>(share * static_cast<double>(n)));
    return part * n_levels / n;
  }

  static Level within(const PlannedFactor& factor, double share) {
    const double low = factor.levels[0].told.number, high = factor.levels[1].told.number;
    Level level = factor.levels[0];
    if (factor.key->type == KeyType::kInteger) {
      level.told.number = std::min(high, low + std::floor(share * (high - low + 1)));
      level.told.text = level.json = fmt::format("{:.0f}", level.told.number);
    } else if (takes_quantities(*factor.key)) {
      level.told.number = low + share * (high - low);
      level.json = json(quantity_text(level.told.number, factor.key->dimension)).dump();
      level.told.text = quantity_in(level.told.number, factor.unit, factor.key->dimension);
    } else {
      level.told.number = low + share * (high - low);
      level.json = json(level.told.number).dump();
      level.told.text = fmt::format("{:.4g}", level.told.number);
    }
    return level;
  }
};

ReadResult scene_of(const Plan& plan, std::size_t bag) {
  json text = plan.base;
  SourceMap places = plan.places;
  const std::vector<Level> values = plan.bag(bag);
  for (std::size_t f = 0; f < values.size(); ++f) {
    text[json::json_pointer(plan.factors[f].target)] = json::parse(values[f].json);
    places.put(plan.factors[f].target, values[f].at);
  }
  SceneReport report(plan.file, std::move(places));
  ReadResult result;
  Scene scene = plan.read(text, report);
  if (!report.has_errors()) result.scene = std::move(scene);
  result.diagnostics = report.take();
  return result;
}

ReadSweep bags_of(const std::shared_ptr<const Plan>& plan) {
  ReadSweep out;
  out.n_bags = plan->n_bags();
  for (const PlannedFactor& factor : plan->factors) out.factors.push_back(factor.told);
  out.values = [plan](std::size_t bag) {
    std::vector<SweptValue> values;
    for (Level& level : plan->bag(bag)) values.push_back(std::move(level.told));
    return values;
  };
  out.read = [plan](std::size_t bag) { return scene_of(*plan, bag); };
  return out;
}

}  // namespace

ReadSweep read_sweep(const json& root, const std::string& file, const ReadRoot& read,
                     SceneReport& report) {
  const json* sweep = value_at(root, "sweep");
  if (sweep == nullptr || !sweep->is_object()) return {};
  const json* list = value_at(*sweep, "factors");
  if (list == nullptr || !list->is_array() || list->empty()) return {};
  const json* design = value_at(*sweep, "design");
  const bool latin = design != nullptr && *design == "latin hypercube";
  ChangedScenes scenes(root, file, read, report);
  bool good = true;
  std::vector<PlannedFactor> factors = read_factors(*list, latin, scenes, report, good);
  if (!good) return {};
  const std::size_t n = count_bags(*sweep, factors, latin, report);
  if (n == 0 || report.has_errors()) return {};
  auto plan = std::make_shared<Plan>();
  plan->base = scenes.base();
  plan->file = file;
  plan->places = report.places();
  plan->read = read;
  if (latin) {
    const json* seed = value_at(*sweep, "seed");
    plan->shares = latin_hypercube(factors.size(), n, seed == nullptr ? 1U : seed->get<unsigned>());
  } else {
    for (const PlannedFactor& f : factors)
      plan->levels.push_back(static_cast<int>(f.levels.size()));
  }
  plan->factors = std::move(factors);
  return bags_of(plan);
}

}  // namespace totebench::scenes
