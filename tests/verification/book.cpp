#include "book.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <map>
#include <nlohmann/json.hpp>

namespace totebench::verification {
namespace {

std::filesystem::path book_folder() { return TOTEBENCH_BOOK_DIR; }

void write(const std::filesystem::path& path, const std::string& text) {
  std::filesystem::create_directories(path.parent_path());
  std::ofstream(path) << text;
}

std::string running_test() {
  const testing::TestInfo* info = testing::UnitTest::GetInstance()->current_test_info();
  return std::string(info->test_suite_name()) + "." + info->name();
}

// Rows of what does not run everywhere and every time keep apart: of another program, and of suites
// called Slow...
std::string kept_in(const std::string& family) {
  if (family == "calculix") return "calculix";
  return running_test().starts_with("Slow") ? "slow" : ".";
}

}  // namespace

void record(const Source& source, const BookRow& row) {
  nlohmann::ordered_json entry = {{"family", source.family},    {"what", row.what},
                                  {"source", source.reference}, {"why", source.why},
                                  {"expected", row.expected},   {"scale", row.scale}};
  if (row.tolerance) entry["tolerance"] = *row.tolerance;
  if (row.published) {
    entry["published"] = *row.published;
  } else if (source.quoted == Quoted::kYes) {
    entry["published"] = row.expected;
  }
  for (const BookRow::OnMesh& value : row.values) {
    entry["values"].push_back(
        {{"size", value.size}, {"triangles", value.triangles}, {"value", value.value}});
  }
  // Written anew with each row, so that a test that stops half-way leaves what it has.
  static std::map<std::string, nlohmann::ordered_json> rows;
  const std::string test = running_test();
  rows[test].push_back(entry);
  write(book_folder() / kept_in(source.family) / (test + ".json"), rows[test].dump(1) + "\n");
}

void record_line(const std::string& family, const std::vector<std::string>& cells) {
  static std::map<std::string, nlohmann::ordered_json> lines;
  const std::string test = running_test();
  lines[test].push_back({{"family", family}, {"cells", cells}});
  write(book_folder() / kept_in(family) / (test + ".json"), lines[test].dump(1) + "\n");
}

namespace {

BookRow without_mesh(const std::string& what, double ours, double expected) {
  BookRow row;
  row.what = what;
  row.expected = expected;
  row.scale = std::abs(expected);
  row.values = {{0, 0, ours}};
  return row;
}

}  // namespace

void expect_value(const Source& source, const std::string& what, double ours, double expected,
                  double tolerance, std::optional<double> published) {
  EXPECT_NEAR(ours, expected, tolerance * std::abs(expected)) << what;
  BookRow row = without_mesh(what, ours, expected);
  row.tolerance = tolerance;
  row.published = published;
  record(source, row);
}

void show_value(const Source& source, const std::string& what, double ours, double beside) {
  record(source, without_mesh(what, ours, beside));
}

void leave_picture(const std::string& family, const std::string& svg) {
  write(book_folder() / "pictures" / (family + ".svg"), svg);
}

}  // namespace totebench::verification
