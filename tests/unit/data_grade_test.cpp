// Which grade holds a rating, on a small library whose grades are known by hand.
#include "totebench/studies/data_grade.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

namespace totebench {
namespace {

std::string number(const char* unit, const char* grade) {
  return fmt::format(
      R"({{"value": 1, "low": 1, "high": 1, "unit": "{}", "source": "X", "grade": "{}", "note": "-"}})",
      unit, grade);
}

constexpr const char* kSeen = "measured or specification seen";
constexpr const char* kTrade = "trade or second-hand figure";
constexpr const char* kMemory = "from memory";
constexpr const char* kEstimate = "estimate";

struct Grades {
  const char* mass = kSeen;
  const char* bending = kSeen;
  const char* strip_strength = kSeen;
  const char* thread = kSeen;
  const char* slip = kSeen;
  const char* thickness = kSeen;
};

// One cloth and one thread; all is seen but what `g` says.
materials::MaterialLibrary library_of_grades(const Grades& g) {
  std::string cloth;
  for (const auto& [name, unit, grade] : {std::tuple("areal_mass", "g/m2", g.mass),
                                          {"thickness", "mm", g.thickness},
                                          {"poisson_ratio", "1", kSeen},
                                          {"tensile_stiffness_initial", "N/m", kSeen},
                                          {"shear_stiffness", "N/m", kSeen},
                                          {"bending_rigidity_warp", "uN.m", g.bending},
                                          {"bending_rigidity_weft", "uN.m", kSeen},
                                          {"strip_strength", "N/m", g.strip_strength}}) {
    cloth += fmt::format("{}\"{}\": {}", cloth.empty() ? "" : ", ", name, number(unit, grade));
  }
  const std::string thread =
      fmt::format("\"breaking_strength\": {}, \"elongation\": {}, \"loop_ratio\": {}",
                  number("N", kSeen), number("1", g.thread), number("1", kEstimate));
  return materials::MaterialLibrary::parse(
      {{"small.json", fmt::format(
                          R"({{"sources": {{"X": {{"cite": "x", "kind": "paper table"}}}},
                "materials": [{{"id": "cloth", "name": "cloth", "category": "fabric",
                                "properties": {{{}}}}}],
                "threads": [{{"id": "thread", "name": "thread", "tex": 40,
                              "properties": {{{}}}}}],
                "rules": {{"grid_slip_length": {}}}}})",
                          cloth, thread, number("mm", g.slip))}});
}

scenes::Scene bag_of_cloth() {
  scenes::Scene scene;
  scenes::Layer layer;
  layer.material = "cloth";
  layer.join = scenes::LayerJoin::kSewnAtEdges;
  scene.layers["upper"] = {layer};
  scenes::Strap strap;
  strap.material = "cloth";
  strap.attachment.thread = "thread";
  scene.straps = {strap};
  return scene;
}

studies::DataGrade graded(const Grades& grades, const char* strength = kSeen,
                          const scenes::Scene& scene = bag_of_cloth()) {
  scenes::Utilisation governing;
  governing.what = "cloth of the front";
  governing.grade = strength;
  return studies::data_grade(scene, library_of_grades(grades), governing);
}

using Names = std::vector<std::string>;

TEST(DataGrade, TheStrengthThatGovernsCounts) {
  const studies::DataGrade data = graded({}, kTrade);
  EXPECT_EQ(data.grade, kTrade);
  EXPECT_EQ(data.of, Names{"strength of the cloth of the front"});
}

TEST(DataGrade, StrengthSeenButLoadsFromMemory) {
  Grades grades;
  grades.bending = kMemory;
  const studies::DataGrade data = graded(grades);
  EXPECT_EQ(data.grade, kMemory);
  EXPECT_EQ(data.of, Names{"bending stiffness along the warp of cloth"});
}

TEST(DataGrade, TheWorstHoldsWhereverItStands) {
  Grades grades;
  grades.mass = kTrade;
  grades.bending = kEstimate;
  grades.thread = kEstimate;
  const studies::DataGrade data = graded(grades, kMemory);
  EXPECT_EQ(data.grade, kEstimate);
  EXPECT_EQ(data.of, (Names{"bending stiffness along the warp of cloth",
                            "stretch at break of the thread at the straps"}));
}

// Neither what no load follows from (another part's strength, the loop ratio, which is an estimate
// in this library) nor a number that the scene replaces by its own.
TEST(DataGrade, WhatIsNotReadDoesNotCount) {
  Grades grades;
  grades.strip_strength = kEstimate;
  EXPECT_EQ(graded(grades).grade, kSeen);
  grades.thickness = kMemory;
  EXPECT_EQ(graded(grades).grade, kMemory);
  scenes::Scene thick = bag_of_cloth();
  thick.layers["upper"][0].thickness_m = 1e-3;
  thick.straps[0].thickness_m = 1e-3;
  EXPECT_EQ(graded(grades, kSeen, thick).grade, kSeen);
}

TEST(DataGrade, SlipCountsWhereSomethingIsQuilted) {
  Grades grades;
  grades.slip = kEstimate;
  EXPECT_EQ(graded(grades).grade, kSeen);
  scenes::Scene quilted = bag_of_cloth();
  quilted.layers["upper"][0].join = scenes::LayerJoin::kStitchedGrid;
  EXPECT_EQ(graded(grades, kSeen, quilted).of, Names{"slip of quilted layers between the rows"});
}

}  // namespace
}  // namespace totebench
