// Stitches, seams, straps and creep: worked examples of the sources named beside them.
#include <gtest/gtest.h>

#include <cmath>

#include "tests/unit/shipped_library.hpp"
#include "totebench/materials/strength.hpp"

namespace totebench {
namespace {

constexpr double kPoundN = 4.4482216;
constexpr double kInchM = 0.0254;

materials::Thread thread_of(double strength_N) {
  materials::Thread t;
  t.id = "test";
  t.breaking_strength = materials::Quantity::own(strength_N, "N");
  return t;
}

// Seam strength in pounds per inch from stitches per inch and thread strength in pounds.
double seam_lbf_per_in(const char* stitch, double stitches_per_inch, double thread_lbf) {
  const materials::Quantity each =
      materials::stitch_capacity(*library().find_stitch(stitch), thread_of(thread_lbf * kPoundN));
  const materials::SeamStrength seam =
      materials::seam_strength(library(), each, kInchM / stitches_per_inch, materials::Quantity{});
  EXPECT_EQ(seam.governed_by, "thread");
  return seam.strength.value * kInchM / kPoundN;
}

// Trade chart on seam strength: 2.6 lbf thread at 6, 8, 10, 12 stitches an inch.
TEST(SeamStrength, LockstitchWorkedExamples) {
  EXPECT_NEAR(seam_lbf_per_in("301", 6, 2.6), 23.4, 1e-6);
  EXPECT_NEAR(seam_lbf_per_in("301", 8, 2.6), 31.2, 1e-6);
  EXPECT_NEAR(seam_lbf_per_in("301", 10, 2.6), 39.0, 1e-6);
  EXPECT_NEAR(seam_lbf_per_in("301", 12, 2.6), 46.8, 1e-6);
}

// Trade chart on seam strength: 10 stitches an inch, 4.0 lbf thread.
TEST(SeamStrength, LockstitchAgainstChainstitch) {
  EXPECT_NEAR(seam_lbf_per_in("301", 10, 4.0), 60, 1e-6);
  EXPECT_NEAR(seam_lbf_per_in("401", 10, 4.0), 68, 1e-6);
}

// Trade chart: going from 3 to 4.5 stitches a centimetre raises the strength by half.
TEST(SeamStrength, RisesWithStitchDensity) {
  EXPECT_NEAR(seam_lbf_per_in("301", 4.5, 3.0) / seam_lbf_per_in("301", 3, 3.0), 1.5, 1e-12);
}

TEST(SeamStrength, WeakerThreadGoverns) {
  const materials::Thread& needle = *library().find_thread("spun_polyester_tex40");
  const materials::Thread& bobbin = *library().find_thread("spun_polyester_tex27");
  const materials::StitchType& lock = *library().find_stitch("301");
  EXPECT_EQ(materials::weaker_thread(needle, bobbin).id, "spun_polyester_tex27");
  EXPECT_EQ(materials::weaker_thread(bobbin, needle).id, "spun_polyester_tex27");
  EXPECT_NEAR(materials::stitch_capacity(lock, needle, bobbin).value, 1.5 * 9.8, 1e-9);
  EXPECT_NEAR(materials::stitch_capacity(lock, needle).value, 20.7, 1e-9);
}

TEST(SeamStrength, CarriesBandSourceAndGrade) {
  const materials::Quantity lock = materials::stitch_capacity(
      *library().find_stitch("301"), *library().find_thread("spun_polyester_tex40"));
  EXPECT_NEAR(lock.low, 1.1 * 11.7, 1e-9);
  EXPECT_NEAR(lock.high, 1.8 * 15.2, 1e-9);
  EXPECT_EQ(lock.source, "S2, S7");
  EXPECT_EQ(lock.grade, materials::kGradeTrade);
  const materials::Quantity overlock = materials::stitch_capacity(
      *library().find_stitch("504"), *library().find_thread("spun_polyester_tex40"));
  EXPECT_EQ(overlock.grade, materials::kGradeMemory);
  EXPECT_NEAR(overlock.value, 1.2 * 13.8, 1e-9);
}

// The SI form of the same law at a 3 mm stitch: thin thread gives about half of quilting cotton's
// strip strength, a coarse one more than the cloth, which then governs less its needle damage.
TEST(SeamStrength, ClothCapsTheSeam) {
  const materials::StitchType& lock = *library().find_stitch("301");
  const materials::Quantity cloth = library().find("quilting_cotton")->get("strip_strength_warp");
  const materials::SeamStrength thin = materials::seam_strength(
      library(), materials::stitch_capacity(lock, *library().find_thread("spun_polyester_tex27")),
      3e-3, cloth);
  EXPECT_NEAR(thin.strength.value, 4900, 1);
  EXPECT_EQ(thin.governed_by, "thread");
  EXPECT_NEAR(thin.efficiency, 0.5, 0.01);
  const materials::Quantity coarse =
      materials::stitch_capacity(lock, *library().find_thread("spun_polyester_tex60"));
  EXPECT_NEAR(coarse.value / 3e-3, 10950, 60);
  const materials::SeamStrength capped = materials::seam_strength(library(), coarse, 3e-3, cloth);
  EXPECT_EQ(capped.governed_by, "cloth");
  EXPECT_NEAR(capped.strength.value, 9800 * 0.95, 1e-6);
  EXPECT_LE(capped.strength.low, capped.strength.value);
  EXPECT_LE(capped.strength.value, capped.strength.high);
  // The weakest of such seams: cloth of 6000 N/m that loses 20 % to the needle, less than the
  // thread's 1.1 x 18.6 N / 3 mm; the strongest loses nothing.
  materials::Quantity strip = materials::Quantity::own(9800, "N/m");
  strip.low = 6000;
  strip.high = 12000;
  const materials::SeamStrength band = materials::seam_strength(library(), coarse, 3e-3, strip);
  EXPECT_NEAR(band.strength.low, 4800, 1e-9);
  EXPECT_NEAR(band.strength.high, 12000, 1e-9);
  EXPECT_THROW((void)materials::seam_strength(library(), coarse, 0, cloth), std::invalid_argument);
}

// Box with a cross, 25 x 38 mm at a 3 mm stitch: 72 penetrations carry 1.49 kN, 1.1 kN shared; one
// end row peeled carries a seventh of it (estimate from the same law).
TEST(SeamStrength, BoxInShearAgainstRowInPeel) {
  const materials::Quantity each = materials::stitch_capacity(
      *library().find_stitch("301"), *library().find_thread("spun_polyester_tex40"));
  const double outline = 2 * (25 + 38), diagonals = 2 * std::hypot(25, 38);
  const int stitches = static_cast<int>((outline + diagonals) / 3);
  EXPECT_EQ(stitches, 72);
  const double shear = materials::patch_capacity(library(), each, stitches).value;
  EXPECT_NEAR(shear, 1490 * 0.75, 1);
  const double peel = materials::peeled_row_capacity(each, 25e-3, 3e-3).value;
  EXPECT_NEAR(peel, 8 * 20.7, 1e-9);
  EXPECT_NEAR(shear / peel, 7, 0.3);
}

TEST(StrapStrength, ByKindOfStrap) {
  const auto strength = [](const char* id, double width_m, int plies) {
    return materials::strap_strength(library(), *library().find(id), width_m, plies);
  };
  // Cotton webbing: 300 to 500 lbf per inch of width (trade chart).
  EXPECT_NEAR(strength("web_cotton_25", kInchM, 1).value, 400 * kPoundN, 1);
  EXPECT_NEAR(strength("web_cotton_25", 2 * kInchM, 1).value, 800 * kPoundN, 2);
  // Four plies x 25 mm x 9800 N/m x 0.85 of quilting cotton, as the ready-made folded strap says.
  EXPECT_NEAR(strength("quilting_cotton", 0.025, 4).value, 833, 0.5);
  EXPECT_NEAR(strength("strap_folded_4ply_quilting", 0.025, 1).value, 830, 1e-9);
  // Folded once it loses as much; a single ply nothing.
  EXPECT_NEAR(strength("quilting_cotton", 0.025, 2).value, 2 * 0.025 * 9800 * 0.85, 1e-9);
  EXPECT_NEAR(strength("quilting_cotton", 0.025, 1).value, 0.025 * 9800, 1e-9);
  EXPECT_NEAR(strength("leather_strap_3mm", 0.025, 1).value, 18e6 * 0.025 * 3e-3, 1e-6);
  EXPECT_EQ(strength("buckram", 0.025, 1).value, 0);
}

TEST(StrapSection, StiffnessOfWebbingAndFoldedCloth) {
  const materials::StrapSection web =
      materials::strap_section(library(), *library().find("web_cotton_25"), kInchM);
  EXPECT_NEAR(web.axial_stiffness_N, 14000, 1e-6);
  EXPECT_NEAR(web.bending_rigidity_N_m2, 1500e-6 * kInchM, 1e-12);
  // Folded quilting cotton: initially about 1600 N, four plies at least bend four times one.
  const materials::Material& cotton = *library().find("quilting_cotton");
  const materials::StrapSection folded = materials::strap_section(library(), cotton, 0.025, 4);
  EXPECT_NEAR(folded.axial_stiffness_N, 1630, 1e-6);
  EXPECT_NEAR(folded.mass_per_length_kg_per_m, 4 * 0.140 * 0.025, 1e-12);
  EXPECT_GT(folded.bending_rigidity_N_m2, 4 * 7e-6 * 0.025);
  EXPECT_LT(folded.bending_rigidity_N_m2, 16 * 7e-6 * 0.025);
  EXPECT_THROW((void)materials::strap_section(library(), cotton, 0, 4), std::invalid_argument);
  EXPECT_THROW((void)materials::strap_section(library(), cotton, 0.025, 0), std::invalid_argument);
}

TEST(SheetLimit, YieldOfPlasticOrStrengthOfBoard) {
  EXPECT_DOUBLE_EQ(materials::sheet_stress_limit(*library().find("hdpe_sheet"))->value, 22e6);
  EXPECT_DOUBLE_EQ(materials::sheet_stress_limit(*library().find("chipboard_2mm"))->value, 25e6);
  EXPECT_EQ(materials::sheet_stress_limit(*library().find("quilting_cotton")), nullptr);
}

// Apparent modulus of polyethylene at 23 C, polyethylene pipe handbook table B.1.1: 565, 510, 434,
// 379, 276, 200 MPa at 0.5 h, 2 h, 12 h, 100 h, 1 year, 50 years; the law fits within 3 %.
TEST(Creep, PolyethyleneFollowsThePipeHandbook) {
  const materials::Material& hdpe = *library().find("hdpe_sheet");
  const double hour = 3600, year = 8766 * hour;
  const double times[] = {0.5 * hour, 2 * hour, 12 * hour, 100 * hour, year, 50 * year};
  const double moduli[] = {565e6, 510e6, 434e6, 379e6, 276e6, 200e6};
  for (int i = 0; i < 6; ++i) {
    EXPECT_NEAR(materials::creep_modulus(hdpe, times[i]) / moduli[i], 1, 0.03) << i;
  }
  // Ratio one year to half an hour from the same table: 0.488.
  EXPECT_NEAR(materials::creep_modulus(hdpe, year) / materials::creep_modulus(hdpe, 0.5 * hour),
              0.488, 0.01);
  EXPECT_DOUBLE_EQ(materials::creep_modulus(hdpe, 0), 900e6);
}

TEST(Creep, OtherSheetsReachTheirRatioAtAThousandHours) {
  const materials::Material& pp = *library().find("pp_sheet");
  EXPECT_NEAR(materials::creep_modulus(pp, 3.6e6) / 1350e6, 0.33, 1e-9);
  EXPECT_DOUBLE_EQ(materials::creep_modulus(pp, 1), 1350e6);
  EXPECT_THROW((void)materials::creep_modulus(*library().find("quilting_cotton"), 60),
               std::invalid_argument);
}

}  // namespace
}  // namespace totebench
