// A broken library is refused with the file and the place.
#include <gtest/gtest.h>
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "totebench/materials/library.hpp"

namespace totebench {
namespace {

namespace fs = std::filesystem;

class BrokenLibrary : public testing::Test {
 protected:
  void SetUp() override {
    folder_ =
        fs::temp_directory_path() / ("totebench_library_" + std::to_string(getpid()) + "_" +
                                     testing::UnitTest::GetInstance()->current_test_info()->name());
    fs::create_directories(folder_);
    write("sources.json", R"({"sources": {"E": {"cite": "estimate", "kind": "estimate"}}})");
  }
  void TearDown() override { fs::remove_all(folder_); }

  void write(const std::string& name, const std::string& text) const {
    std::ofstream(folder_ / name) << text;
  }
  // One cloth whose areal mass is `quantity`, on line 3.
  void write_cloth(const std::string& quantity) const {
    write("cloth.json",
          "{\"materials\": [{\"id\": \"mine\", \"name\": \"mine\", \"category\": \"fabric\",\n"
          "  \"properties\": {\n    \"areal_mass\": " +
              quantity + "\n  }}]}\n");
  }
  [[nodiscard]] std::string complaint() const {
    try {
      (void)materials::MaterialLibrary::load(folder_.string());
    } catch (const std::runtime_error& e) {
      return e.what();
    }
    return "loaded";
  }
  void expect_complaint(const std::string& place, const std::string& about) const {
    const std::string text = complaint();
    EXPECT_NE(text.find(place), std::string::npos) << text;
    EXPECT_NE(text.find(about), std::string::npos) << text;
  }

  fs::path folder_;
};

constexpr const char* kGood =
    R"({"value": 1, "low": 1, "high": 2, "unit": "g/m2", "source": "E", "grade": "estimate"})";

TEST_F(BrokenLibrary, GoodOneLoads) {
  write_cloth(kGood);
  EXPECT_EQ(complaint(), "loaded");
}

TEST_F(BrokenLibrary, SyntaxErrorHasLineAndColumn) {
  write("cloth.json", "{\"materials\": [\n  {\"id\": }\n]}\n");
  expect_complaint("cloth.json:2:10: ", "syntax error");
}

TEST_F(BrokenLibrary, UnknownSource) {
  write_cloth(R"({"value": 1, "low": 1, "high": 2, "unit": "g/m2", "source": "S99",
                  "grade": "estimate"})");
  expect_complaint("cloth.json:3:5: ", "S99");
}

TEST_F(BrokenLibrary, BandInTheWrongOrder) {
  write_cloth(R"({"value": 3, "low": 1, "high": 2, "unit": "g/m2", "source": "E",
                  "grade": "estimate"})");
  expect_complaint("cloth.json:3:5: ", "low <= value <= high");
}

TEST_F(BrokenLibrary, UnknownUnit) {
  write_cloth(R"({"value": 1, "low": 1, "high": 2, "unit": "stone", "source": "E",
                  "grade": "estimate"})");
  expect_complaint("cloth.json:3:5: ", "stone");
}

TEST_F(BrokenLibrary, UnknownGrade) {
  write_cloth(R"({"value": 1, "low": 1, "high": 2, "unit": "g/m2", "source": "E",
                  "grade": "hearsay"})");
  expect_complaint("cloth.json:3:5: ", "grade must be");
}

TEST_F(BrokenLibrary, MissingAndWrongFields) {
  write_cloth(R"({"low": 1, "high": 2, "unit": "g/m2", "source": "E", "grade": "estimate"})");
  expect_complaint("cloth.json:3:5: ", "\"value\" is missing");
  write_cloth(R"({"value": "1", "low": 1, "high": 2, "unit": "g/m2", "source": "E",
                  "grade": "estimate"})");
  expect_complaint("cloth.json:3:20: ", "must be a number");
  write_cloth(R"({"value": 1, "low": 1, "high": 2, "unit": "g/m2", "sauce": "E",
                  "grade": "estimate"})");
  expect_complaint("cloth.json:3:", "unknown key \"sauce\"");
}

TEST_F(BrokenLibrary, SameIdTwice) {
  const std::string entry =
      R"({"id": "mine", "name": "mine", "category": "fabric", "properties": {}})";
  write("cloth.json", "{\"materials\": [" + entry + ",\n" + entry + "]}");
  expect_complaint("cloth.json:1:", "defined twice");
}

TEST_F(BrokenLibrary, UnknownCategory) {
  write("cloth.json",
        R"({"materials": [{"id": "a", "name": "a", "category": "metal", "properties": {}}]})");
  expect_complaint("cloth.json:1:", "metal");
}

TEST_F(BrokenLibrary, FolderWithoutALibrary) {
  const std::string missing = (folder_ / "nowhere").string();
  EXPECT_THROW((void)materials::MaterialLibrary::load(missing), std::runtime_error);
}

TEST_F(BrokenLibrary, EnvironmentVariablePointsToTheLibrary) {
  write_cloth(kGood);
  ASSERT_EQ(setenv("TOTEBENCH_MATERIALS", folder_.c_str(), 1), 0);
  const materials::MaterialLibrary own = materials::MaterialLibrary::load();
  EXPECT_EQ(own.ids(), std::vector<std::string>{"mine"});
  setenv("TOTEBENCH_MATERIALS", (folder_ / "nowhere").c_str(), 1);
  EXPECT_THROW((void)materials::MaterialLibrary::load(), std::runtime_error);
  unsetenv("TOTEBENCH_MATERIALS");
  EXPECT_GT(materials::MaterialLibrary::load().ids().size(), 30u);
}

}  // namespace
}  // namespace totebench
