// Sampled spread against first order and closed forms.
#include "totebench/studies/rate_scatter.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <atomic>
#include <cmath>
#include <cstdio>
#include <fstream>

#include "app/commands/kept_file.hpp"
#include "app/studies/rate/sample_text.hpp"
#include "app/studies/rate/work_key.hpp"
#include "builder_samples.hpp"

namespace totebench {
namespace {

studies::ScatterInput input(double low, double value, double high) {
  studies::ScatterInput in;
  in.kind = "rule";
  in.id = "x";
  in.property = "value";
  in.low = low;
  in.value = value;
  in.high = high;
  return in;
}

// Triangle 1, 2, 6: mean 3, variance 21/18, median 6 - sqrt(20/2) = 2.8377.
TEST(Triangle, QuantilesAndVarianceInClosedForm) {
  const studies::ScatterInput in = input(1, 2, 6);
  EXPECT_NEAR(in.variance(), 21.0 / 18, 1e-12);
  EXPECT_NEAR(studies::triangle_quantile(in, 0.0), 1, 1e-12);
  EXPECT_NEAR(studies::triangle_quantile(in, 0.1), 1 + std::sqrt(0.5), 1e-12);
  EXPECT_NEAR(studies::triangle_quantile(in, 0.2), 2, 1e-12);  // (2 - 1) / (6 - 1)
  EXPECT_NEAR(studies::triangle_quantile(in, 0.3), 6 - std::sqrt(14.0), 1e-12);
  EXPECT_NEAR(studies::triangle_quantile(in, 0.5), 6 - std::sqrt(10.0), 1e-12);
  EXPECT_NEAR(studies::triangle_quantile(in, 1.0), 6, 1e-12);
}

TEST(DrawnBags, StayInRangeAndRepeat) {
  const std::vector<studies::ScatterInput> inputs = {input(1, 2, 6), input(-1, 0, 1),
                                                     input(3, 3, 4)};
  const auto bags = studies::draw_bags(inputs, 50, 7);
  ASSERT_EQ(bags.size(), 50u);
  for (const auto& bag : bags) {
    for (std::size_t i = 0; i < inputs.size(); ++i) {
      EXPECT_GE(bag[i], inputs[i].low);
      EXPECT_LE(bag[i], inputs[i].high);
    }
  }
  EXPECT_EQ(bags, studies::draw_bags(inputs, 50, 7));
  EXPECT_NE(bags, studies::draw_bags(inputs, 50, 8));
}

// Latin hypercube: each fiftieth of an input's chance is used once.
TEST(DrawnBags, UseEachPartOfARangeOnce) {
  const studies::ScatterInput in = input(0, 0, 1);  // chance p at 1 - sqrt(1 - p)
  const auto bags = studies::draw_bags({in, in}, 50, 3);
  for (std::size_t i = 0; i < 2; ++i) {
    std::vector<int> used(50, 0);
    for (const auto& bag : bags) {
      const double chance = 1 - (1 - bag[i]) * (1 - bag[i]);
      ++used[static_cast<std::size_t>(std::min(49.0, std::floor(50 * chance)))];
    }
    EXPECT_EQ(used, std::vector<int>(50, 1));
  }
}

// y = 3 x1 - 2 x2 + 7: deviation sqrt(9 v1 + 4 v2), mean 3 m1 - 2 m2 + 7. Sampled and first order
// have to agree; with 400 bags a sampled deviation is good to about 4 %.
TEST(Spread, SampledAgreesWithFirstOrderOnALinearCase) {
  const std::vector<studies::ScatterInput> inputs = {input(1, 2, 6), input(0, 4, 5)};
  std::vector<double> y;
  for (const auto& bag : studies::draw_bags(inputs, 400, 1))
    y.push_back(3 * bag[0] - 2 * bag[1] + 7);
  const studies::SampleBand band = studies::band_of(y);
  const studies::FirstOrder first = studies::first_order(inputs, {3, -2});
  const double exact = std::sqrt(9 * inputs[0].variance() + 4 * inputs[1].variance());
  EXPECT_NEAR(first.deviation, exact, 1e-12);
  EXPECT_NEAR(band.deviation, exact, 0.05 * exact);
  EXPECT_NEAR(band.mean, 3 * 3.0 - 2 * 3.0 + 7, 0.02 * exact);  // strata leave little to chance
  EXPECT_NEAR(first.share[0], 9 * inputs[0].variance() / (exact * exact), 1e-12);
  EXPECT_LT(band.low, band.middle);
  EXPECT_LT(band.middle, band.high);
}

// A single input is seen through its exact quantiles.
TEST(Spread, BandOfOneInputIsItsTriangle) {
  const studies::ScatterInput in = input(1, 2, 6);
  std::vector<double> y;
  for (const auto& bag : studies::draw_bags({in}, 1000, 5)) y.push_back(bag[0]);
  const studies::SampleBand band = studies::band_of(y);
  EXPECT_NEAR(band.low, studies::triangle_quantile(in, 0.05), 0.01);
  EXPECT_NEAR(band.middle, studies::triangle_quantile(in, 0.5), 0.01);
  EXPECT_NEAR(band.high, studies::triangle_quantile(in, 0.95), 0.02);
}

// Of four bags, 5 % lies 0.15 of the way from the first to the second, and so on from the far end.
TEST(Spread, QuantilesOfFourBagsByHand) {
  const studies::SampleBand band = studies::band_of({40, 10, 30, 20});
  EXPECT_NEAR(band.low, 11.5, 1e-12);
  EXPECT_NEAR(band.middle, 25, 1e-12);
  EXPECT_NEAR(band.high, 38.5, 1e-12);
  EXPECT_NEAR(band.mean, 25, 1e-12);
  EXPECT_NEAR(band.deviation, std::sqrt(500.0 / 3), 1e-12);
}

// One stitch holds F = k T (factor times thread). For independent k and T, exactly,
//   var(F) = (v_k + m_k^2)(v_T + m_T^2) - m_k^2 m_T^2,
// and first order about the values: T^2 v_k + k^2 v_T. Sampled through the library and the tote.
TEST(Spread, OfAStitchAgreesWithTheExactProductAndFirstOrderIsNear) {
  const scenes::Scene scene = samples::boxed();
  std::vector<studies::ScatterInput> two;
  for (const studies::ScatterInput& in : studies::scatter_inputs(scene, samples::library())) {
    if (in.id == "301" || (in.id == "spun_polyester_tex60" && in.property == "breaking_strength")) {
      two.push_back(in);
    }
  }
  ASSERT_EQ(two.size(), 2u);
  std::vector<double> held;
  for (const auto& values : studies::draw_bags(two, 400, 1)) {
    const materials::MaterialLibrary drawn = studies::with_values(samples::library(), two, values);
    held.push_back(scenes::tote_strength(scene, drawn).fastening_shear_N.value);
  }
  const auto mean = [](const studies::ScatterInput& in) {
    return (in.low + in.value + in.high) / 3;
  };
  const double a = mean(two[0]) * mean(two[0]);
  const double b = mean(two[1]) * mean(two[1]);
  const double exact = std::sqrt((two[0].variance() + a) * (two[1].variance() + b) - a * b);
  const studies::SampleBand band = studies::band_of(held);
  EXPECT_NEAR(band.deviation, exact, 0.05 * exact);
  EXPECT_NEAR(band.mean, mean(two[0]) * mean(two[1]), 0.02 * exact);
  const studies::FirstOrder first = studies::first_order(two, {two[1].value, two[0].value});
  EXPECT_NEAR(first.deviation, exact, 0.1 * exact);
}

TEST(KeptFile, FinishedWorkIsReadBackAndACutLineIsNot) {
  const std::string file = testing::TempDir() + "rating.samples";
  std::remove(file.c_str());
  const studies::SampledBag bag{3.25, 1.0 / 3, "strap", "base_sheet"};
  app::KeptFile(file, "samples").keep("k/2", studies::sample_text(bag));
  app::KeptFile(file, "samples").keep("k/0", studies::sample_text({4.5, 0, "tear_out", ""}));
  std::ofstream(file, std::ios::app) << "k/1 7.5 strap 2.2";  // the program was ended here
  app::KeptFile again(file, "samples");
  const studies::KeptWork kept = again.work();
  EXPECT_FALSE(kept.find("k/1"));
  ASSERT_TRUE(kept.find("k/2"));
  const std::optional<studies::SampledBag> back = studies::sample_of(*kept.find("k/2"));
  ASSERT_TRUE(back);
  EXPECT_EQ(back->spoilt, 1.0 / 3);
  EXPECT_EQ(back->spoilt_by, "base_sheet");
  ASSERT_TRUE(kept.find("k/0"));
  EXPECT_EQ(studies::sample_of(*kept.find("k/0"))->spoilt_by, "");
  EXPECT_FALSE(app::KeptFile(file, "other work").find("k/2"));  // begun anew
  app::KeptFile(file, "samples").remove();
  EXPECT_FALSE(std::ifstream(file).good());
}

TEST(WorkKey, ChangesWithTheSceneAndItsData) {
  scenes::Scene scene = samples::boxed();
  auto inputs = studies::scatter_inputs(scene, samples::library());
  const std::string key = studies::work_key(scene, inputs);
  EXPECT_EQ(key, studies::work_key(scene, inputs));
  inputs.front().high *= 1.01;
  EXPECT_NE(key, studies::work_key(scene, inputs));
  scene.bag.width_m += 0.001;
  EXPECT_NE(key, studies::work_key(scene, studies::scatter_inputs(scene, samples::library())));
}

TEST(ScatterInputs, AreWhatTheSceneUsesAndNothingElse) {
  scenes::Scene scene = samples::boxed();
  const auto has = [&](const char* id, const char* property) {
    const auto inputs = studies::scatter_inputs(scene, samples::library());
    return std::any_of(inputs.begin(), inputs.end(), [&](const studies::ScatterInput& in) {
      return in.id == id && in.property == property;
    });
  };
  EXPECT_TRUE(has("cotton_duck_10oz", "strip_strength_weft"));
  EXPECT_TRUE(has("spun_polyester_tex60", "breaking_strength"));
  EXPECT_TRUE(has("301", "factor"));
  EXPECT_TRUE(has("needle_damage", "value"));
  EXPECT_FALSE(has("hdpe_sheet", "yield_stress"));
  EXPECT_FALSE(has("fatigue_slope_nylon", "value"));
  scene.base = {scenes::BaseKind::kStitched, "hdpe_sheet", 0.002, 0.004, 0};
  EXPECT_TRUE(has("hdpe_sheet", "yield_stress"));
}

TEST(ScatterInputs, ReachTheLibraryTheBagIsBuiltFrom) {
  const scenes::Scene scene = samples::boxed();
  const auto inputs = studies::scatter_inputs(scene, samples::library());
  std::vector<double> values;
  for (const studies::ScatterInput& in : inputs) values.push_back(in.low);
  const materials::MaterialLibrary low = studies::with_values(samples::library(), inputs, values);
  EXPECT_EQ(low.find("cotton_duck_10oz")->get("strip_strength_weft").value,
            samples::library().find("cotton_duck_10oz")->get("strip_strength_weft").low);
  EXPECT_EQ(low.find_stitch("301")->factor.value,
            samples::library().find_stitch("301")->factor.low);
  EXPECT_LT(scenes::build_tote(scene, low, 0).strength.fastening_shear_N.value,
            scenes::build_tote(scene, samples::library(), 0).strength.fastening_shear_N.value);
}

TEST(SideBySide, RunsEveryJobOnceAndPassesErrorsOn) {
  std::vector<std::atomic<int>> runs(40);
  studies::run_side_by_side(
      40, [&](int i) { ++runs[static_cast<std::size_t>(i)]; }, [] { return true; });
  for (const auto& n : runs) EXPECT_EQ(n, 1);
  EXPECT_THROW(studies::run_side_by_side(
                   4, [](int) { throw std::runtime_error("no"); }, [] { return true; }),
               std::runtime_error);
}

}  // namespace
}  // namespace totebench
