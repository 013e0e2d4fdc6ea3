// Hangs totes drawn at random on their coarse mesh, or puts them on a table, and tells how many
// come to rest, why the others do not, and what it costs. A report, no test:
//   random_totes FIRST_SEED LAST_SEED [SECONDS_A_BAG [items|stand|items-stand]]
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <map>
#include <string>
#include <vector>

#include "tests/support/random_scenes.hpp"
#include "totebench/scenes/reader.hpp"
#include "totebench/studies/hang.hpp"
#include "totebench/studies/stand.hpp"

namespace totebench {
namespace {

struct Outcome {
  std::string what;  // "at rest", or why not
  studies::HangEffort effort;
  double seconds = 0;
};

const char* name_of(solver::SolveFailure failure) {
  switch (failure) {
    case solver::SolveFailure::kNone:
      return "no cause";
    case solver::SolveFailure::kTooManyIterations:
      return "too many steps";
    case solver::SolveFailure::kStalled:
      return "stalled";
    case solver::SolveFailure::kContentsOverflow:
      return "contents overflow";
    case solver::SolveFailure::kInterrupted:
      return "out of time";
    case solver::SolveFailure::kCrossing:
      return "surfaces cross";
    case solver::SolveFailure::kRoundOff:
      return "round-off";
  }
  return "?";
}

Outcome hang(const scenes::Scene& scene, const materials::MaterialLibrary& library,
             double limit_s) {
  using Clock = std::chrono::steady_clock;
  const auto begin = Clock::now();
  const auto passed = [&] { return std::chrono::duration<double>(Clock::now() - begin).count(); };
  const studies::HangResult result = studies::hang_tote(
      scene, library, [&](const studies::HangProgress&) { return passed() < limit_s; }, 0);
  const scenes::Findings& found = result.findings;
  const bool empty_failed = found.empty.status != solver::SolveStatus::kConverged;
  Outcome out{"at rest", result.effort, passed()};
  if (!found.converged()) {
    out.what = std::string(empty_failed ? "empty: " : "loaded: ") +
               name_of(empty_failed ? found.empty.failure : found.loaded.failure);
  }
  return out;
}

// On a table: what is told of it empty, then loaded.
Outcome stand(const scenes::Scene& scene, const materials::MaterialLibrary& library,
              double limit_s) {
  using Clock = std::chrono::steady_clock;
  const auto begin = Clock::now();
  const auto passed = [&] { return std::chrono::duration<double>(Clock::now() - begin).count(); };
  const studies::Standing result = studies::stand_tote(
      scene, library, [&](const studies::HangProgress&) { return passed() < limit_s; }, 0);
  const auto told = [](const studies::Stood& stood) {
    if (stood.at_rest()) return stood.up ? "stands" : "comes down";
    return name_of(stood.report.failure);
  };
  return {result.interrupted ? "out of time"
                             : fmt::format("{}, {}", told(result.empty), told(result.loaded)),
          result.effort, passed()};
}

double quantile(std::vector<double> values, double share) {
  std::sort(values.begin(), values.end());
  return values[static_cast<std::size_t>(share * static_cast<double>(values.size() - 1))];
}

int run(unsigned first, unsigned last, double limit_s, const std::string& mode) {
  const materials::MaterialLibrary library = materials::MaterialLibrary::load();
  std::map<std::string, int> outcomes;
  std::vector<double> factorisations, seconds;
  for (unsigned seed = first; seed <= last; ++seed) {
    scenes::Scene scene = test::random_tote(seed, test::Draw::kUsual);
    if (mode.starts_with("items")) scene = test::with_random_items(scene, seed);
    scene.solve.shapes = 0;
    const materials::MaterialLibrary its = scenes::library_of(scene, library);
    if (!scenes::read_scene_text(scenes::resolved_json(scene), "drawn", library).scene) {
      ++outcomes["refused"];
      continue;
    }
    const bool standing = mode.ends_with("stand");
    if (standing && !studies::why_not_stood(scene).empty()) continue;
    const Outcome outcome = standing ? stand(scene, its, limit_s) : hang(scene, its, limit_s);
    ++outcomes[outcome.what];
    factorisations.push_back(outcome.effort.factorisations);
    seconds.push_back(outcome.seconds);
    fmt::print("{:5} {:28} {:5} factorisations {:7.1f} s\n", seed, outcome.what,
               outcome.effort.factorisations, outcome.seconds);
    std::fflush(stdout);
  }
  for (const auto& [what, count] : outcomes) fmt::print("{:4} {}\n", count, what);
  if (seconds.empty()) return EXIT_SUCCESS;
  for (const double share : {0.5, 0.9, 1.0}) {
    fmt::print("{:3.0f} % within {:5.0f} factorisations, {:6.1f} s\n", 100 * share,
               quantile(factorisations, share), quantile(seconds, share));
  }
  return EXIT_SUCCESS;
}

}  // namespace
}  // namespace totebench

int main(int argc, char** argv) {
  if (argc < 3) {
    fmt::print("random_totes FIRST_SEED LAST_SEED [SECONDS_A_BAG [items|stand|items-stand]]\n");
    return EXIT_FAILURE;
  }
  const auto seed = [](const char* text) {
    return static_cast<unsigned>(std::strtoul(text, nullptr, 10));
  };
  return totebench::run(seed(argv[1]), seed(argv[2]), argc > 3 ? std::strtod(argv[3], nullptr) : 60,
                        argc > 4 ? argv[4] : "");
}
