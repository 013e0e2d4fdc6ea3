// What the reader passes can be built, and what it refuses the builder refuses.
#include <gtest/gtest.h>

#include <filesystem>
#include <optional>
#include <string>

#include "tests/support/random_scenes.hpp"
#include "tests/support/source_folder.hpp"
#include "totebench/scenes/build.hpp"
#include "totebench/scenes/reader.hpp"

namespace totebench {
namespace {

const materials::MaterialLibrary& library() {
  static const materials::MaterialLibrary loaded =
      materials::MaterialLibrary::load(test::source_folder() / "materials/library");
  return loaded;
}

// Why a scene cannot be built; nothing when it can.
std::optional<std::string> refusal(const scenes::Scene& scene) {
  const materials::MaterialLibrary its = scenes::library_of(scene, library());
  try {
    if (scene.kind == scenes::SceneKind::kTote) {
      const scenes::Tote tote = scenes::build_tote(scene, its, 0);
      EXPECT_TRUE(tote.model.mesh.position.allFinite());
      EXPECT_GT(tote.bag_mass_kg, 0);
      for (const scenes::AttachmentSite& site : tote.attachments) {
        EXPECT_FALSE(site.stitches.empty());
      }
    } else {
      EXPECT_TRUE(scenes::build_sheet(scene, its).model.mesh.position.allFinite());
    }
  } catch (const std::exception& error) {
    return error.what();
  }
  return std::nullopt;
}

struct Tally {
  int built = 0;
  int refused = 0;
};

void judge_twice(const scenes::Scene& scene, Tally& tally) {
  const std::string text = scenes::resolved_json(scene);
  const scenes::ReadResult read = scenes::read_scene_text(text, "drawn.json", library());
  const std::optional<std::string> why_not = refusal(read.scene ? *read.scene : scene);
  EXPECT_EQ(read.scene.has_value(), !why_not)
      << scene.name << "\nthe builder: " << why_not.value_or("builds it")
      << "\nthe reader: " << scenes::to_text(read.diagnostics);
  (why_not ? tally.refused : tally.built) += 1;
  for (const scenes::Diagnostic& d : read.diagnostics) {
    if (d.severity != scenes::Severity::kError) continue;
    EXPECT_GT(d.line, 0) << d.message;
    EXPECT_FALSE(d.hint.empty()) << d.message;
    if (scene.units == "in") {
      EXPECT_EQ(d.message.find(" mm"), std::string::npos) << d.message;
    }
  }
}

using Maker = scenes::Scene (*)(unsigned, test::Draw);

Tally judge(Maker make, test::Draw draw, unsigned n) {
  Tally tally;
  for (unsigned seed = 1; seed <= n; ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    judge_twice(make(seed, draw), tally);
  }
  return tally;
}

TEST(OneJudge, UsualTotes_AreReadAndBuiltOrRefusedByBoth) {
  const Tally tally = judge(test::random_tote, test::Draw::kUsual, 250);
  EXPECT_GE(tally.built, 125) << tally.refused << " refused";
}

TEST(OneJudge, TotesAtTheEdge_AreReadAndBuiltOrRefusedByBoth) {
  const Tally tally = judge(test::random_tote, test::Draw::kEdge, 250);
  EXPECT_GE(tally.built, 40);
  EXPECT_GE(tally.refused, 40);
}

TEST(OneJudge, UsualSheets_AreReadAndBuiltOrRefusedByBoth) {
  const Tally tally = judge(test::random_sheet, test::Draw::kUsual, 100);
  EXPECT_GE(tally.built, 50) << tally.refused << " refused";
}

TEST(OneJudge, SheetsAtTheEdge_AreReadAndBuiltOrRefusedByBoth) {
  const Tally tally = judge(test::random_sheet, test::Draw::kEdge, 150);
  EXPECT_GE(tally.built, 20);
  EXPECT_GE(tally.refused, 20);
}

TEST(OneJudge, Examples_AreReadAndBuiltWithTheirVariants) {
  int n = 0;
  for (const auto& entry :
       std::filesystem::directory_iterator(test::source_folder() / "scenes/examples")) {
    if (entry.path().extension() != ".json") continue;
    SCOPED_TRACE(entry.path().string());
    const scenes::ReadResult read = scenes::read_scene(entry.path(), library());
    ASSERT_TRUE(read.scene) << scenes::to_text(read.diagnostics);
    EXPECT_EQ(refusal(*read.scene), std::nullopt);
    for (const scenes::Scene& variant : read.variants) EXPECT_EQ(refusal(variant), std::nullopt);
    n += 1;
  }
  EXPECT_GE(n, 5);
}

}  // namespace
}  // namespace totebench
