// Whether the likely ranges that `hang` prints cover: bags drawn at random from the ranges of the
// library's data and from meshes, hung whole, and the share of them that lie inside. Then the same
// with what the ranges do not speak of: where the load lies, how layers are joined, what the bag
// hangs on and for how long.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <array>
#include <atomic>
#include <cmath>
#include <mutex>
#include <random>
#include <string>
#include <vector>

#include "book.hpp"
#include "tests/support/source_folder.hpp"
#include "totebench/materials/ageing.hpp"
#include "totebench/scenes/reader.hpp"
#include "totebench/studies/circumstances.hpp"
#include "totebench/studies/coarser_mesh.hpp"
#include "totebench/studies/data_scatter.hpp"
#include "totebench/studies/likely_range.hpp"
#include "totebench/studies/rate_scatter.hpp"
#include "totebench/studies/stitch_band.hpp"

namespace totebench::verification {
namespace {

constexpr int kDrawnBags = 100;  // of either kind
constexpr unsigned kSeed = 11;
// Edge lengths drawn, in shares of the scene's.
constexpr double kFinestShare = 0.7;
// Nine in ten are to lie inside. Of 100 bags of which 90 % do, fewer than 84 do once in fifty
// (binomial).
constexpr double kLeastInside = 0.84;

std::vector<const scenes::Figure*> ranged_figures() {
  std::vector<const scenes::Figure*> figures;
  for (const scenes::Figure& figure : scenes::kFigures) {
    if (figure.headline() && figure.likely_from != scenes::LikelyFrom::kNotKnown) {
      figures.push_back(&figure);
    }
  }
  return figures;
}

struct Inside {
  int bags = 0;  // that came to rest
  std::vector<int> of_figure;
};

class Coverage {
 public:
  explicit Coverage(const std::string& example) {
    const scenes::ReadResult read =
        scenes::read_scene(test::source_folder() / "scenes/examples" / example, shipped_);
    EXPECT_TRUE(read.scene) << scenes::to_text(read.diagnostics);
    scene_ = *read.scene;
    library_ = scenes::library_of(scene_, shipped_);
    hung_ = studies::hang_tote(scene_, library_, nullptr);
    hung_.coarser = studies::coarser_findings(scene_, library_, hung_, nullptr);
    hung_.stitch_band = studies::stitch_band(hung_, nullptr);
    hung_.data_scatter = studies::data_scatter(scene_, library_, hung_, nullptr);
    inputs_ = studies::scatter_inputs(scene_, library_);
  }

  // Of bags with their own data and mesh; with `all_drawn` also with a circumstance of
  // changed_circumstances(), or none of them.
  Inside inside(bool all_drawn) {
    const std::vector<std::vector<double>> values = studies::draw_bags(inputs_, kDrawnBags, kSeed);
    Inside inside{0, std::vector<int>(figures_.size(), 0)};
    std::mutex counting;
    std::atomic<int> done{0};
    studies::run_side_by_side(
        kDrawnBags,
        [&](int i) {
          std::mt19937 random(kSeed + static_cast<unsigned>(i));
          std::uniform_real_distribution<double> share(kFinestShare, 1);
          scenes::Scene scene = scene_;
          if (all_drawn) {
            const auto changed = studies::changed_circumstances(scene_, hung_.coarse);
            const std::size_t pick = random() % (changed.size() + 1);
            if (pick < changed.size()) scene = changed[pick].scene;
          }
          scene.mesh.size_m *= share(random);
          scene.solve.shapes = 0;
          // Drawn values count for the time that the scene hangs; another time changes the library.
          materials::MaterialLibrary its =
              studies::with_values(library_, inputs_, values[static_cast<std::size_t>(i)]);
          if (scene.contents.carried_for_s != scene_.contents.carried_for_s) {
            its = materials::under_load(its, scene.contents.carried_for_s);
          }
          const studies::HangResult bag = studies::hang_tote(scene, its, nullptr);
          if (!bag.findings.converged()) return;
          const std::lock_guard lock(counting);
          ++inside.bags;
          for (std::size_t k = 0; k < figures_.size(); ++k) {
            const auto range = studies::likely_range(hung_, *figures_[k]);
            const double value = figures_[k]->value(bag.findings);
            inside.of_figure[k] += range && value >= range->low && value <= range->high ? 1 : 0;
          }
        },
        [&done] {
          fmt::print(stderr, "{} of {} bags hung\n", ++done, kDrawnBags);
          return true;
        });
    return inside;
  }

  void record(const std::string& what, const Inside& inside) const {
    std::vector<std::string> cells = {scene_.name, what,
                                      fmt::format("{} of {}", inside.bags, kDrawnBags)};
    for (const int n : inside.of_figure) {
      cells.push_back(fmt::format("{:.0f} %", 100.0 * n / std::max(1, inside.bags)));
    }
    record_line("coverage", cells);
    fmt::print("{}\n", fmt::join(cells, " | "));
  }

  [[nodiscard]] const std::vector<const scenes::Figure*>& figures() const { return figures_; }

 private:
  materials::MaterialLibrary shipped_ = materials::MaterialLibrary::load();
  scenes::Scene scene_;
  materials::MaterialLibrary library_;
  studies::HangResult hung_;
  std::vector<studies::ScatterInput> inputs_;
  std::vector<const scenes::Figure*> figures_ = ranged_figures();
};

void head_of(const Coverage& coverage) {
  std::vector<std::string> cells = {"bag", "drawn", "came to rest"};
  for (const scenes::Figure* figure : coverage.figures()) cells.emplace_back(figure->name);
  record_line("coverage", cells);
}

void hold_coverage(const std::string& example) {
  Coverage coverage(example);
  head_of(coverage);
  const Inside data = coverage.inside(false);
  coverage.record("material data and mesh", data);
  for (std::size_t k = 0; k < data.of_figure.size(); ++k) {
    if (coverage.figures()[k]->likely_from != scenes::LikelyFrom::kMaterials) continue;
    EXPECT_GE(data.of_figure[k], kLeastInside * data.bags) << coverage.figures()[k]->name;
  }
  coverage.record("also load, joins, support, time", coverage.inside(true));
}

TEST(SlowCoverage, Demo) { hold_coverage("demo.json"); }

}  // namespace
}  // namespace totebench::verification
