// What the verification tests leave behind for the verification book (README.md of this folder):
// one row a checked value, one picture a family of cases. Every test writes a file of its own into
// the folder TOTEBENCH_BOOK_DIR; book_page.cpp makes the page from these files.
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace totebench::verification {

// Where an expected value comes from, and why the tolerance is what it is, or why the value is only
// shown. `family` is one of the families listed in book_families.hpp.
enum class Quoted { kNo, kYes };  // whether the values held to stand in the source as they are

struct Source {
  std::string family;
  std::string reference;
  std::string why;
  Quoted quoted = Quoted::kNo;
};

struct BookRow {
  struct OnMesh {
    double size = 0;  // of the mesh, m, or the time step, s; 0 where there is neither
    int triangles = 0;
    double value = 0;
  };
  std::string what;
  double expected = 0;              // what the test holds us to, or shows us beside
  std::optional<double> published;  // the printed value, where it is another; see Quoted
  double scale = 0;                 // what errors are relative to, usually |expected|
  std::optional<double> tolerance;  // relative to the scale; none: shown, not held to
  std::vector<OnMesh> values;       // coarse to fine
};

// Adds a row to the file of the test that is running.
void record(const Source& source, const BookRow& row);

// Checks and records a value that no mesh stands behind.
void expect_value(const Source& source, const std::string& what, double ours, double expected,
                  double tolerance, std::optional<double> published = {});

// Records a value beside another that we are not held to: another theory, a measurement.
void show_value(const Source& source, const std::string& what, double ours, double beside);

// A line of a family that is a table of its own: its first line is the head. A test that writes
// lines records no rows.
void record_line(const std::string& family, const std::vector<std::string>& cells);

// Leaves a picture of the family.
void leave_picture(const std::string& family, const std::string& svg);

}  // namespace totebench::verification
