// How numbers are shown, and files that are whole or not there.
#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>

#include "totebench/scenes/unit_text.hpp"
#include "totebench/viz/atomic_file.hpp"
#include "viz/pictures/drafting.hpp"

namespace totebench {
namespace {

namespace fs = std::filesystem;

class AtomicFile : public testing::Test {
 protected:
  void SetUp() override {
    folder_ = fs::path(testing::TempDir()) /
              ("totebench_atomic_" +
               std::string(testing::UnitTest::GetInstance()->current_test_info()->name()));
    fs::remove_all(folder_);
    fs::create_directories(folder_);
  }
  void TearDown() override { fs::remove_all(folder_); }
  [[nodiscard]] int n_files() const {
    int n = 0;
    for (const auto& entry : fs::directory_iterator(folder_)) n += entry.is_regular_file() ? 1 : 0;
    return n;
  }
  static std::string content(const fs::path& path) {
    std::ifstream file(path);
    return {std::istreambuf_iterator<char>(file), {}};
  }
  fs::path folder_;
};

TEST(UnitText, LengthsAreShownInTheChosenUnit) {
  EXPECT_EQ(scenes::length_text(0.0254, "in"), "1 in");
  EXPECT_EQ(scenes::length_text(0.273, "cm"), "27.3 cm");
  EXPECT_EQ(scenes::length_text(0.0084, "cm"), "8.4 mm");
  EXPECT_EQ(scenes::length_text(0.273, "si"), "0.273 m");
}

TEST(UnitText, ForcesAreShownInTheChosenUnit) {
  EXPECT_EQ(scenes::force_text(4.4482216152605, "in"), "1.0 lb");  // one pound-force by definition
  EXPECT_EQ(scenes::force_text(78.45, "cm"), "78 N");
  EXPECT_EQ(scenes::line_force_text(1000, "cm"), "1.0 N/mm");
  EXPECT_EQ(scenes::line_force_text(175.126835, "in"), "1.0 lb/in");
  EXPECT_EQ(scenes::mass_text(0.45359237, "in"), "1 lb");
}

constexpr double kInch_m = 0.0254, kPound_kg = 0.45359237, kPound_N = 4.4482216152605;

TEST(UnitText, InchesAreToldAsARulerShowsThem) {
  EXPECT_EQ(scenes::inches_text(0), "0");
  EXPECT_EQ(scenes::inches_text(15.375), "15 3/8");
  EXPECT_EQ(scenes::inches_text(15.374), "15 3/8");
  EXPECT_EQ(scenes::inches_text(2.97), "3");          // 2 31/32 is nearer to 3 than to 2 15/16
  EXPECT_EQ(scenes::inches_text(0.40625), "13/32");   // exact
  EXPECT_EQ(scenes::inches_text(1.40625), "1 7/16");  // halfway, away from zero
  EXPECT_EQ(scenes::inches_text(0.5), "1/2");
  EXPECT_EQ(scenes::inches_text(0.99), "1");
  EXPECT_EQ(scenes::inches_text(-0.25), "-1/4");
  EXPECT_EQ(scenes::inches_text(0.015), "under 1/32");  // 0.48 of 1/32
  EXPECT_EQ(scenes::inches_text(0.016), "1/32");        // 0.51 of it
  EXPECT_EQ(scenes::inches_text(std::nan("")), "not known");
}

TEST(UnitText, MassesAreToldInPoundsAndOunces) {
  EXPECT_EQ(scenes::mass_text(17.625 * kPound_kg, "in"), "17 lb 10 oz");
  EXPECT_EQ(scenes::mass_text(18 * kPound_kg, "in"), "18 lb");
  EXPECT_EQ(scenes::mass_text(17.999 * kPound_kg, "in"), "18 lb");
  EXPECT_EQ(scenes::mass_text(22.3 * kPound_kg, "in"), "22 lb");
  EXPECT_EQ(scenes::mass_text(10.0 / 16 * kPound_kg, "in"), "10 oz");
  EXPECT_EQ(scenes::mass_text(8, "cm"), "8 kg");
  EXPECT_EQ(scenes::mass_text(0.356, "cm"), "356 g");
}

TEST(UnitText, ForcesAreToldToTwoDigitsAndSmallOnesInOunces) {
  EXPECT_EQ(scenes::force_text(10.2 / 16 * kPound_N, "in"), "10 oz");
  EXPECT_EQ(scenes::force_text(3.44 / 16 * kPound_N, "in"), "3.4 oz");
  EXPECT_EQ(scenes::force_text(633.4, "cm"), "633 N");
  EXPECT_EQ(scenes::rough_text(0.996), "1.0");
  EXPECT_EQ(scenes::rough_text(9.96), "10");
  EXPECT_EQ(scenes::rough_text(0.0123), "0.012");
}

TEST(UnitText, RangesTellTheirEndsApartAndNoMore) {
  using D = scenes::Dimension;
  EXPECT_EQ(scenes::range_text(0.25 * kInch_m, 0.4375 * kInch_m, D::kLength, "in"),
            "1/4 to 7/16 in");
  EXPECT_EQ(scenes::range_text(0.25 * kInch_m, 0.252 * kInch_m, D::kLength, "in"), "about 1/4 in");
  EXPECT_EQ(scenes::range_text(0.0062, 0.0093, D::kLength, "cm"), "6 to 9 mm");
  EXPECT_EQ(scenes::range_text(0.112, 0.153, D::kLength, "cm"), "11 to 15 cm");
}

TEST(UnitText, ThicknessesKeepTheirDecimals) {
  EXPECT_EQ(scenes::thickness_text(0.002, "cm"), "2 mm");
  EXPECT_EQ(scenes::thickness_text(0.002, "in"), "0.079 in");
}

TEST(UnitText, EnergiesStayInTheReadersUnits) {
  EXPECT_EQ(scenes::energy_text(0.012, "cm"), "12 mJ");
  EXPECT_EQ(scenes::energy_text(kPound_N * kInch_m, "in"), "1.0 in lb");
}

TEST(UnitText, TimesAreShownInTheUnitTheyAreSaidIn) {
  EXPECT_EQ(scenes::time_text(45), "45 s");
  EXPECT_EQ(scenes::time_text(1800), "30 min");
  EXPECT_EQ(scenes::time_text(9000), "2.5 h");
}

TEST(UnitText, ThreeDigitsAreKeptWithoutExponents) {
  EXPECT_EQ(scenes::number_text(0), "0");
  EXPECT_EQ(scenes::number_text(1e-13), "0");
  EXPECT_EQ(scenes::number_text(0.012345), "0.0123");
  EXPECT_EQ(scenes::number_text(12345), "12345");
  EXPECT_EQ(scenes::number_text(0.99996), "1.00");
  EXPECT_EQ(scenes::number_text(9.9996), "10.0");
  EXPECT_EQ(scenes::number_text(-3.14159), "-3.14");
  EXPECT_EQ(scenes::number_text(std::nan("")), "not known");
}

TEST(Drafting, RoundBelow_GivesOneTwoOrFive) {
  EXPECT_DOUBLE_EQ(viz::round_below(0.3), 0.2);
  EXPECT_DOUBLE_EQ(viz::round_below(5.0), 5.0);
  EXPECT_DOUBLE_EQ(viz::round_below(19.9), 10.0);
}

TEST_F(AtomicFile, TextArrivesWhole) {
  ASSERT_EQ(viz::write_text_atomically(folder_ / "a.txt", "all of it"), "");
  EXPECT_EQ(content(folder_ / "a.txt"), "all of it");
  EXPECT_EQ(n_files(), 1);
}

TEST_F(AtomicFile, AFailedWriteLeavesTheOldFileAndNothingElse) {
  ASSERT_EQ(viz::write_text_atomically(folder_ / "a.txt", "old"), "");
  const std::string problem =
      viz::write_atomically(folder_ / "a.txt", [](const fs::path& part) -> std::string {
        std::ofstream(part) << "half of the n";
        return "disk full";
      });
  EXPECT_EQ(problem, "disk full");
  EXPECT_EQ(content(folder_ / "a.txt"), "old");
  EXPECT_EQ(n_files(), 1);
}

// Two runs that write one file at once: each has a name of its own until it is done, and the file
// is always that of one of them, whole.
TEST_F(AtomicFile, TwoRunsAtOnceDoNotMixTheirFiles) {
  const fs::path file = folder_ / "a.txt";
  const std::string one(200000, '1'), other(200000, '2');
  const pid_t child = fork();
  if (child == 0) {
    bool good = true;
    for (int i = 0; i < 50; ++i) good = viz::write_text_atomically(file, other).empty() && good;
    _exit(good ? 0 : 1);
  }
  for (int i = 0; i < 50; ++i) {
    ASSERT_EQ(viz::write_text_atomically(file, one), "");
    const std::string found = content(file);
    ASSERT_TRUE(found == one || found == other) << found.size();
  }
  int status = 0;
  waitpid(child, &status, 0);
  EXPECT_EQ(status, 0);
  EXPECT_EQ(n_files(), 1);
}

// A run that was ended while it wrote leaves its temporary file; the next one takes it away, but
// neither that of a run that goes on nor what only looks alike.
TEST_F(AtomicFile, WhatAnEndedRunLeftIsSweptAway) {
  const pid_t child = fork();
  if (child == 0) {
    (void)viz::write_atomically(folder_ / "a.txt", [](const fs::path& part) -> std::string {
      std::ofstream(part) << "half";
      _exit(0);
    });
  }
  waitpid(child, nullptr, 0);
  ASSERT_EQ(n_files(), 1);
  for (const char* kept : {".a.part", "a.4711.part", ".4711.part", ".a.x.part"}) {
    std::ofstream(folder_ / kept) << "x";
  }
  std::ofstream(folder_ / (".b.txt." + std::to_string(getpid()) + ".part")) << "being written";
  EXPECT_EQ(viz::check_writable(folder_), "");
  EXPECT_EQ(n_files(), 5);
}

TEST_F(AtomicFile, AFolderThatIsAFileIsRefused) {
  std::ofstream(folder_ / "taken") << "x";
  EXPECT_NE(viz::check_writable(folder_ / "taken").find("is a file, not a folder"),
            std::string::npos);
  EXPECT_NE(viz::check_writable(folder_ / "taken" / "below").find("cannot make the folder"),
            std::string::npos);
}

TEST_F(AtomicFile, AWritableFolderIsMadeAndLeftEmpty) {
  EXPECT_EQ(viz::check_writable(folder_ / "new" / "deep"), "");
  EXPECT_TRUE(fs::is_empty(folder_ / "new" / "deep"));
}

}  // namespace
}  // namespace totebench
