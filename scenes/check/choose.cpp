// Contradictions in what there is to choose.
#include <fmt/format.h>

#include <cmath>
#include <string>

#include "scenes/check/scene.hpp"

namespace totebench::scenes {
namespace {

// Given, be it so that it cannot be read: that is told where it stands.
bool any_limit(const SourceMap& places) {
  for (const char* key : {"bottom_sag", "overall_lengthening", "strap_drop", "carries", "mass",
                          "standing_height", "price"}) {
    if (places.contains(std::string("/choose/limits/") + key)) return true;
  }
  return false;
}

void check_prices(const ChooseSpec& choose, SceneReport& report) {
  const bool asked = choose.aim == ChooseAim::kCheapest;
  if (!asked && std::isnan(choose.limits.price)) return;
  for (std::size_t i = 0; i < choose.options.size(); ++i) {
    const Option& option = choose.options[i];
    for (std::size_t k = 0; k < option.alternatives.size(); ++k) {
      if (!std::isnan(option.alternatives[k].price)) continue;
      const std::string at = fmt::format("/choose/options/{}/alternatives/{}", i, k);
      if (report.places().contains(at + "/price")) continue;  // told already
      report.error(
          at,
          fmt::format("alternative \"{}\" of \"{}\" has no price",
                      option.alternatives[k].name.substr(0, 60), option.name.substr(0, 60)),
          asked ? "the cheapest build can be told only when each has one; 0 is a price"
                : "a limit of price needs the price of each; 0 is a price");
    }
  }
}

}  // namespace

void check_choose(const ChooseSpec& choose, SceneReport& report) {
  double builds = 1;
  for (const Option& option : choose.options) {
    builds *= static_cast<double>(option.alternatives.size());
  }
  if (builds > kMostBuilds) {
    report.error(
        "/choose/options",
        fmt::format("these options make {:.6g} builds, more than can be told apart", builds),
        fmt::format("{} builds are possible: leave out alternatives, or options that "
                    "matter less",
                    kMostBuilds));
  } else if (builds == 1 && !choose.options.empty()) {
    report.error("/choose/options", "there is only one build to choose from",
                 "give an option a second alternative");
  }
  if (!any_limit(report.places()) && report.places().contains("/choose/limits")) {
    report.error("/choose/limits", "no limit is given: the least build would be the answer",
                 "add one, such as \"bottom_sag\": \"10 mm\" or \"carries\": \"8 kg\"");
  }
  check_prices(choose, report);
}

}  // namespace totebench::scenes
