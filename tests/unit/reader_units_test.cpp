// Quantities as people write them: every spelling that is taken, and what is said of the others.
#include <gtest/gtest.h>

#include <cmath>
#include <utility>

#include "scenes/format/told_length.hpp"
#include "totebench/scenes/units.hpp"

namespace totebench {
namespace {

double si(const std::string& text, scenes::Dimension dimension) {
  const scenes::QuantityResult result = scenes::parse_quantity(text, dimension);
  EXPECT_TRUE(result.quantity.has_value()) << text << ": " << result.problem;
  return result.quantity ? result.quantity->si : -1;
}

std::string cure(const std::string& text, scenes::Dimension dimension) {
  const scenes::QuantityResult result = scenes::parse_quantity(text, dimension);
  EXPECT_FALSE(result.quantity.has_value()) << text;
  return result.problem + " / " + result.cure;
}

TEST(Units, InchesAreExactlyTenths) {
  EXPECT_EQ(si("15 in", scenes::Dimension::kLength), 0.381);
  EXPECT_EQ(si("1 in", scenes::Dimension::kLength), 0.0254);
  EXPECT_EQ(si("38 cm", scenes::Dimension::kLength), 0.38);
  EXPECT_EQ(si("3 mm", scenes::Dimension::kLength), 0.003);
}

TEST(Units, FractionsOfTheCuttingTable) {
  EXPECT_EQ(si("3/8 in", scenes::Dimension::kLength), 0.009525);
  EXPECT_EQ(si("1 1/4 in", scenes::Dimension::kLength), 0.03175);
  EXPECT_EQ(si("1-1/4 in", scenes::Dimension::kLength), 0.03175);
  EXPECT_EQ(si("1¼ in", scenes::Dimension::kLength), 0.03175);
  EXPECT_EQ(si("½ in", scenes::Dimension::kLength), 0.0127);
  EXPECT_EQ(si("16 ⅞ in", scenes::Dimension::kLength), 16.875 * 0.0254);
  const std::pair<const char*, double> signs[] = {{"½", 1. / 2}, {"¼", 1. / 4}, {"¾", 3. / 4},
                                                  {"⅛", 1. / 8}, {"⅜", 3. / 8}, {"⅝", 5. / 8},
                                                  {"⅞", 7. / 8}, {"⅓", 1. / 3}, {"⅔", 2. / 3}};
  for (const auto& [sign, share] : signs) {
    EXPECT_DOUBLE_EQ(si(std::string("2") + sign + " in", scenes::Dimension::kLength),
                     (2 + share) * 0.0254);
  }
}

// A length that is told as a limit has three digits, on the side of it that helps.
TEST(ToldLength, IsRoundedTowardsWhatFits) {
  EXPECT_EQ(scenes::told_at_least(0.0012341, "cm"), "1.24 mm");
  EXPECT_EQ(scenes::told_at_most(0.0012349, "cm"), "1.23 mm");
  EXPECT_EQ(scenes::told_at_least(0.3751 * 0.0254, "in"), "13/32 in");
  EXPECT_EQ(scenes::told_at_most(0.4062 * 0.0254, "in"), "3/8 in");
  EXPECT_EQ(scenes::told_at_most(0.375 * 0.0254, "in"), "3/8 in") << "what is on a mark stays";
  EXPECT_EQ(scenes::told_at_most(7.69 * 0.0254, "in"), "7 11/16 in");
  EXPECT_EQ(scenes::told_length(0.004, "in"), "5/32 in");
  EXPECT_EQ(scenes::told_at_least(0.0123 * 0.0254, "in"), "0.0123 in") << "below the first mark";
  EXPECT_EQ(scenes::told_at_least(0.381, "cm"), "38.1 cm") << "what has three digits stays";
}

TEST(Units, NumbersInEveryDress) {
  EXPECT_EQ(si("15in", scenes::Dimension::kLength), 0.381);
  EXPECT_EQ(si("  15   in ", scenes::Dimension::kLength), 0.381);
  EXPECT_EQ(si(".5 in", scenes::Dimension::kLength), 0.0127);
  EXPECT_EQ(si("1e-3 m", scenes::Dimension::kLength), 0.001);
  EXPECT_EQ(si("1.5E2 mm", scenes::Dimension::kLength), 0.15);
  EXPECT_EQ(si("-4 mm", scenes::Dimension::kLength), -0.004);
  EXPECT_EQ(si("+4 mm", scenes::Dimension::kLength), 0.004);
  EXPECT_EQ(si("15\"", scenes::Dimension::kLength), 0.381);
}

TEST(Units, EveryDimensionAgainstItsDefinition) {
  EXPECT_DOUBLE_EQ(si("22 lb", scenes::Dimension::kMass), 22 * 0.45359237);
  EXPECT_DOUBLE_EQ(si("16 oz", scenes::Dimension::kMass), 0.45359237);
  EXPECT_DOUBLE_EQ(si("35 deg", scenes::Dimension::kAngle), 35 * M_PI / 180);
  EXPECT_DOUBLE_EQ(si("35°", scenes::Dimension::kAngle), 35 * M_PI / 180);
  EXPECT_DOUBLE_EQ(si("30 min", scenes::Dimension::kTime), 1800);
  EXPECT_DOUBLE_EQ(si("1 1/2 h", scenes::Dimension::kTime), 5400);
  EXPECT_DOUBLE_EQ(si("45 s", scenes::Dimension::kTime), 45);
  // 1 oz/yd2 = 33.90575 g/m2
  EXPECT_NEAR(si("8 oz/yd2", scenes::Dimension::kArealMass), 8 * 0.03390575, 1e-7);
  EXPECT_DOUBLE_EQ(si("240 g/m2", scenes::Dimension::kArealMass), 0.240);
  EXPECT_DOUBLE_EQ(si("240 gsm", scenes::Dimension::kArealMass), 0.240);
  EXPECT_DOUBLE_EQ(si("0.6 g/cm3", scenes::Dimension::kDensity), 600);
  EXPECT_NEAR(si("1 psi", scenes::Dimension::kPressure), 6894.757, 1e-3);
  EXPECT_DOUBLE_EQ(si("2 MPa", scenes::Dimension::kPressure), 2e6);
  EXPECT_DOUBLE_EQ(si("2 N/mm2", scenes::Dimension::kPressure), 2e6);
  EXPECT_NEAR(si("1 lbf", scenes::Dimension::kForce), 4.4482216, 1e-7);
  EXPECT_NEAR(si("1 lbf/in", scenes::Dimension::kForcePerLength), 175.12684, 1e-5);
  EXPECT_DOUBLE_EQ(si("1 gf/cm", scenes::Dimension::kForcePerLength), 0.980665);
  EXPECT_DOUBLE_EQ(si("5 mN m", scenes::Dimension::kBendingRigidity), 0.005);
  EXPECT_DOUBLE_EQ(si("5 mN·m", scenes::Dimension::kBendingRigidity), 0.005);
  EXPECT_DOUBLE_EQ(si("5 mN.m", scenes::Dimension::kBendingRigidity), 0.005);
  EXPECT_DOUBLE_EQ(si("7 uN m", scenes::Dimension::kBendingRigidity), 7e-6);
  EXPECT_DOUBLE_EQ(si("1 gf cm2/cm", scenes::Dimension::kBendingRigidity), 98.0665e-6);
  EXPECT_DOUBLE_EQ(si("2 N mm/mm", scenes::Dimension::kMomentPerLength), 2);
}

TEST(Units, EverySpellingReadsBackToItself) {
  for (const scenes::Dimension d :
       {scenes::Dimension::kLength, scenes::Dimension::kMass, scenes::Dimension::kAngle,
        scenes::Dimension::kArealMass, scenes::Dimension::kDensity, scenes::Dimension::kPressure,
        scenes::Dimension::kForce, scenes::Dimension::kForcePerLength,
        scenes::Dimension::kMomentPerLength, scenes::Dimension::kBendingRigidity}) {
    for (const scenes::Unit& unit : scenes::units_of(d)) {
      const std::string text = "3 " + std::string(unit.name);
      EXPECT_DOUBLE_EQ(si(text, d), 3 * unit.numerator / unit.denominator) << text;
    }
  }
}

TEST(Units, WrongOnesAreToldTheCure) {
  EXPECT_NE(cure("15", scenes::Dimension::kLength).find("needs its unit"), std::string::npos);
  EXPECT_NE(cure("15", scenes::Dimension::kLength).find("\"15 in\""), std::string::npos);
  EXPECT_NE(cure("1,5 in", scenes::Dimension::kLength).find("\"1.5 in\""), std::string::npos);
  EXPECT_NE(cure("15 inchs", scenes::Dimension::kLength).find("did you mean \"15 inch\"?"),
            std::string::npos);
  EXPECT_NE(cure("15 CM", scenes::Dimension::kLength).find("did you mean \"15 cm\"?"),
            std::string::npos);
  EXPECT_NE(cure("9 N", scenes::Dimension::kMass).find("\"N\" is a unit of force"),
            std::string::npos);
  EXPECT_NE(cure("1 kg", scenes::Dimension::kLength).find("use one of in, cm, mm, m"),
            std::string::npos);
  EXPECT_NE(cure("1/0 in", scenes::Dimension::kLength).find("divides by zero"), std::string::npos);
  EXPECT_NE(cure("about 3 in", scenes::Dimension::kLength).find("begin with a number"),
            std::string::npos);
  for (const char* text : {"1e309 in", "-1e309 in", "1e99999 in", "1e308 km", "9e307/1e309 in"}) {
    EXPECT_EQ(cure(text, scenes::Dimension::kLength).find("begin with a number"), std::string::npos)
        << cure(text, scenes::Dimension::kLength);
  }
  EXPECT_NE(cure("1e309 in", scenes::Dimension::kLength).find("too large"), std::string::npos);
  EXPECT_EQ(si("1e-400 in", scenes::Dimension::kLength), 0);
  for (const char* text : {"", " ", "in", "nan m", "inf m", "0x10 m", "1e999 m", "--3 in", "3 / in",
                           "1 1/ in", "1/2/3 in", "3 in 4", "1..2 m", "1 2 in"}) {
    EXPECT_FALSE(parse_quantity(text, scenes::Dimension::kLength).quantity.has_value()) << text;
  }
}

TEST(Units, WrittenTextReadsBackToTheSameDouble) {
  double x = 1e-9;
  for (int i = 0; i < 2000; ++i) {
    x *= 1.0213;
    for (const scenes::Dimension d : {scenes::Dimension::kLength, scenes::Dimension::kAngle,
                                      scenes::Dimension::kBendingRigidity}) {
      EXPECT_EQ(si(scenes::quantity_text(x, d), d), x);
      EXPECT_EQ(si(scenes::quantity_text(-x, d), d), -x);
    }
  }
  EXPECT_EQ(scenes::quantity_text(0.381, scenes::Dimension::kLength), "0.381 m");
  EXPECT_EQ(scenes::quantity_text(35 * M_PI / 180, scenes::Dimension::kAngle), "35 deg");
  EXPECT_EQ(quantity_in(0.381, "in", scenes::Dimension::kLength), "15 in");
}

}  // namespace
}  // namespace totebench
