// Makes the verification book from what the verification tests left behind.
//   verification_book write ROWS PAGE_FOLDER COMMIT DATE
//                                              writes README.md and pictures/ into PAGE_FOLDER;
//                                              rows that are kept there get the commit (and its
//                                              date) they were made at
//   verification_book check ROWS PAGE_FOLDER   fails where README.md there says something else
//   verification_book summary ROWS PAGE_FOLDER a few lines for the end of a test run
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <iterator>
#include <map>
#include <nlohmann/json.hpp>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "book_compare.hpp"
#include "book_families.hpp"

namespace {

namespace fs = std::filesystem;
using nlohmann::json;

constexpr const char* kKept[] = {"calculix", "slow"};  // folders of rows kept beside the page

using totebench::verification::Family;
using totebench::verification::kFamilies;
using totebench::verification::same_line;

struct Row {
  std::string test;
  json data;

  [[nodiscard]] double error(std::size_t mesh) const {
    return (data["values"][mesh]["value"].get<double>() - data["expected"].get<double>()) /
           data["scale"].get<double>();
  }
  [[nodiscard]] double last_error() const { return error(data["values"].size() - 1); }
  [[nodiscard]] bool held() const { return data.contains("tolerance"); }
  [[nodiscard]] double tolerance() const { return data["tolerance"].get<double>(); }
  // Of a row that is kept: "commit 1d18668 (2026-11-26)".
  [[nodiscard]] std::string made() const {
    return !data.contains("commit")
               ? ""
               : fmt::format("commit {} ({})", data["commit"].get<std::string>(),
                             data["date"].get<std::string>());
  }
};

// Sorted by test, then as recorded.
std::vector<Row> read_rows(const fs::path& folder) {
  std::set<fs::path> files;
  if (fs::exists(folder)) {
    for (const auto& entry : fs::directory_iterator(folder)) {
      if (entry.path().extension() == ".json") files.insert(entry.path());
    }
  }
  std::vector<Row> rows;
  for (const fs::path& file : files) {
    std::ifstream in(file);
    for (const json& data : json::parse(in)) rows.push_back({file.stem().string(), data});
  }
  return rows;
}

std::string number(double value) { return fmt::format("{:.5g}", value); }

std::string percent(double share, const char* format = "{:+.2f}") {
  const std::string text = fmt::format(fmt::runtime(format), 100 * share);
  return text == "-0.00" || text == "+0.00" ? "0.00" : text;
}

// Observed order p from three meshes, (v1 - v2) / (v2 - v3) = (h1^p - h2^p) / (h2^p - h3^p): it
// needs no expected value, so that a difference of theory does not hide it.
std::string order(const json& values, double scale) {
  if (values.size() < 3) return "";
  const std::size_t n = values.size();
  double h[3];
  double v[3];
  for (std::size_t i = 0; i < 3; ++i) {
    h[i] = values[n - 3 + i]["size"].get<double>();
    v[i] = values[n - 3 + i]["value"].get<double>();
  }
  const double first = std::abs(v[0] - v[1]);
  const double second = std::abs(v[1] - v[2]);
  if (second <= 1e-4 * scale) return "settled";
  const auto ratio = [&](double p) {
    return (std::pow(h[0], p) - std::pow(h[1], p)) / (std::pow(h[1], p) - std::pow(h[2], p));
  };
  if (first / second <= ratio(0.05)) return "not yet";
  double low = 0.05;
  double high = 12;
  for (int i = 0; i < 60; ++i) {
    const double middle = 0.5 * (low + high);
    (ratio(middle) < first / second ? low : high) = middle;
  }
  return fmt::format("{:.1f}", low);
}

std::string table_row(const Row& row, std::size_t note) {
  const json& d = row.data;
  const double expected = d["expected"].get<double>();
  const std::string printed =
      d.contains("published") ? number(d["published"].get<double>()) : std::string();
  std::string errors;
  for (std::size_t i = 0; i < d["values"].size(); ++i) {
    errors += (i > 0 ? ", " : "") + percent(row.error(i));
  }
  const json& last = d["values"].back();
  const double value = last["value"].get<double>();
  const double scale = d["scale"].get<double>();
  const int triangles = last["triangles"].get<int>();
  return fmt::format("| {} | {} | {} | {}{} | {} | {} | {} | {} |\n", d["what"].get<std::string>(),
                     printed, number(expected), number(std::abs(value) < 1e-5 * scale ? 0 : value),
                     triangles > 0 ? fmt::format(" ({})", triangles) : "", errors,
                     order(d["values"], scale),
                     row.held() ? fmt::format("{:.3g}", 100 * row.tolerance()) : "shown", note);
}

std::string line_of_cells(const json& cells, bool head) {
  std::string line = "|", rule = "|";
  for (const json& cell : cells) {
    line += " " + cell.get<std::string>() + " |";
    rule += "---|";
  }
  return line + "\n" + (head ? rule + "\n" : "");
}

std::string page(const std::vector<Row>& rows) {
  std::string text =
      "# Verification book\n\n"
      "What the solver has been held against. Made by `tests/verification/book.sh` from the "
      "results of the\ntests in this folder; a test fails when page and results differ. Do not "
      "edit by hand.\n\n"
      "- *published*: as the source prints it; empty where no value is quoted, but worked out here "
      "from\n  the source's formula or by another program. *held to*: what the test compares with, "
      "where an\n  exact computation is better than the printed digits.\n"
      "- *ours*: on the finest mesh of the test, with its number of triangles.\n"
      "- *error*: in % of the value held to (of the length or scale named where that is zero), "
      "coarse to\n  fine mesh.\n"
      "- *order*: observed order of convergence in the mesh size or time step, from the "
      "differences between "
      "the three\n  meshes; *settled* where the last two differ by less than 0.01 %; *not yet* "
      "where they do not\n  approach each other.\n"
      "- *tol.*: in %; why, and the source, in the numbered line below the table. *shown*: no test "
      "holds us\n  to that value; the difference is there to be seen, and the line below says "
      "why.\n";
  for (const Family& family : kFamilies) {
    std::vector<std::string> notes;
    std::string table, lines;
    std::set<std::string> made;
    int count = 0, kept = 0;
    for (const Row& row : rows) {
      if (row.data["family"] != family.id) continue;
      ++count;
      if (!row.made().empty()) {
        made.insert(row.made());
        ++kept;
      }
      if (row.data.contains("cells")) {
        lines += line_of_cells(row.data["cells"], lines.empty());
        continue;
      }
      const std::string note = fmt::format("{}. {}: {}.", row.data["source"].get<std::string>(),
                                           row.held() ? "Tolerance" : "Shown, not held to",
                                           row.data["why"].get<std::string>());
      const auto at = std::find(notes.begin(), notes.end(), note);
      const auto index = static_cast<std::size_t>(at - notes.begin());
      if (at == notes.end()) notes.push_back(note);
      table += table_row(row, index + 1);
    }
    if (table.empty() && lines.empty()) continue;
    text += fmt::format("\n## {}\n\n{}\n\n", family.title, family.text);
    if (family.picture) {
      text += fmt::format("![{}](pictures/{}.svg)\n\n", family.title, family.id);
    }
    if (!made.empty()) {
      const std::string which =
          kept == count ? "Kept" : fmt::format("{} of these {} rows are kept", kept, count);
      text += fmt::format("{} from earlier runs, made at {}.\n\n", which, fmt::join(made, "; "));
    }
    if (!lines.empty()) text += lines;
    if (table.empty()) continue;
    text +=
        "| case | published | held to | ours | error | order | tol. | note |\n"
        "|---|---|---|---|---|---|---|---|\n" +
        table + "\n";
    for (std::size_t i = 0; i < notes.size(); ++i) text += fmt::format("{}. {}\n", i + 1, notes[i]);
  }
  return text;
}

std::vector<std::string> lines(std::istream&& in) {
  std::vector<std::string> all;
  for (std::string line; std::getline(in, line);) all.push_back(line);
  return all;
}

// The rows of the tests, and those kept beside the page: of the other program, which is not
// installed everywhere, and of what is too slow to run every time.
std::vector<Row> page_rows(const fs::path& rows_folder, const fs::path& folder) {
  std::vector<Row> rows = read_rows(rows_folder);
  for (const char* kept : kKept) {
    for (Row& row : read_rows(folder / kept)) rows.push_back(std::move(row));
  }
  return rows;
}

// Rows that are kept, each with what it was made at.
void keep(const fs::path& from, const fs::path& to, const std::string& commit,
          const std::string& date) {
  fs::create_directories(to);
  for (const auto& entry : fs::directory_iterator(from)) {
    if (entry.path().extension() != ".json") continue;
    std::ifstream in(entry.path());
    auto rows = nlohmann::ordered_json::parse(in);
    for (auto& row : rows) {
      row["commit"] = commit;
      row["date"] = date;
    }
    std::ofstream(to / entry.path().filename()) << rows.dump(1) << "\n";
  }
}

// Whole days from a date, "2026-11-26", to today.
int days_since(const std::string& date) {
  int year = 0;
  unsigned month = 0, day = 0;
  if (std::sscanf(date.c_str(), "%d-%u-%u", &year, &month, &day) != 3) return 0;
  namespace chr = std::chrono;
  const chr::sys_days then = chr::year(year) / chr::month(month) / chr::day(day);
  return static_cast<int>((chr::floor<chr::days>(chr::system_clock::now()) - then).count());
}

int write(const fs::path& rows_folder, const fs::path& folder, const std::string& commit,
          const std::string& date) {
  if (read_rows(rows_folder).empty()) {
    std::cerr << "no rows in " << rows_folder << ": run the verification tests first\n";
    return 2;
  }
  for (const char* kept : kKept) {
    if (!fs::exists(rows_folder / kept)) continue;
    keep(rows_folder / kept, folder / kept, commit, date);
  }
  std::ofstream(folder / "README.md") << page(page_rows(rows_folder, folder));
  fs::create_directories(folder / "pictures");
  for (const auto& entry : fs::directory_iterator(rows_folder / "pictures")) {
    fs::copy_file(entry.path(), folder / "pictures" / entry.path().filename(),
                  fs::copy_options::overwrite_existing);
  }
  return 0;
}

int check(const fs::path& rows_folder, const fs::path& folder) {
  const std::vector<std::string> ours =
      lines(std::istringstream(page(page_rows(rows_folder, folder))));
  const std::vector<std::string> printed = lines(std::ifstream(folder / "README.md"));
  int wrong = 0;
  for (std::size_t i = 0; i < std::max(ours.size(), printed.size()); ++i) {
    const std::string& now = i < ours.size() ? ours[i] : "(nothing)";
    const std::string& page_says = i < printed.size() ? printed[i] : "(nothing)";
    if (same_line(now, page_says)) continue;
    if (++wrong <= 10) {
      std::cerr << "README.md:" << i + 1 << "\n  page:  " << page_says << "\n  tests: " << now
                << "\n";
    }
  }
  for (const Family& family : kFamilies) {
    const std::string picture = fmt::format("pictures/{}.svg", family.id);
    const auto links = [&](const std::string& line) {
      return line.find(picture) != std::string::npos;
    };
    if (std::any_of(printed.begin(), printed.end(), links) && !fs::exists(folder / picture)) {
      std::cerr << picture << " is missing\n";
      ++wrong;
    }
  }
  if (wrong > 0) {
    std::cerr << wrong << " lines of the verification book differ from what the tests found. If "
              << "the results are right, run tests/verification/book.sh\n";
  }
  return wrong > 0 ? 1 : 0;
}

// How old what is kept is: it is not made anew by an everyday run.
std::string age_of_kept(const fs::path& folder) {
  int rows = 0;
  std::string oldest_date, oldest;
  for (const char* kept : kKept) {
    for (const Row& row : read_rows(folder / kept)) {
      ++rows;
      const std::string date = row.data.value("date", "");
      if (date.empty() || (!oldest_date.empty() && date >= oldest_date)) continue;
      oldest_date = date;
      oldest = row.made();
    }
  }
  if (rows == 0) return "";
  return fmt::format(
      "{} rows of it are kept from earlier runs of book.sh --slow, the oldest made at {}, {} days "
      "ago.\n",
      rows, oldest, days_since(oldest_date));
}

int summary(const fs::path& rows_folder, const fs::path& folder) {
  std::vector<Row> rows = read_rows(rows_folder);
  rows.erase(std::remove_if(rows.begin(), rows.end(), [](const Row& row) { return !row.held(); }),
             rows.end());
  if (rows.empty()) return 0;  // no verification test was among those that ran
  const Row* worst = &rows.front();
  const auto used = [](const Row& row) { return std::abs(row.last_error()) / row.tolerance(); };
  for (const Row& row : rows) {
    if (!(used(row) <= used(*worst))) worst = &row;
  }
  fmt::print(
      "\nVerification: {} values checked against independent ones.\n"
      "Worst error over tolerance {:.2f}: {} ({} {} %, tolerance {:.3g} %).\n"
      "All of them: tests/verification/README.md\n{}",
      rows.size(), used(*worst), worst->data["what"].get<std::string>(), worst->test,
      percent(worst->last_error()), 100 * worst->tolerance(), age_of_kept(folder));
  return 0;
}

}  // namespace

int main(int argc, char** argv) {
  const std::vector<std::string> args(argv + 1, argv + argc);
  try {
    if (args.size() == 5 && args[0] == "write") return write(args[1], args[2], args[3], args[4]);
    if (args.size() == 3 && args[0] == "check") return check(args[1], args[2]);
    if (args.size() == 3 && args[0] == "summary") return summary(args[1], args[2]);
  } catch (const std::exception& error) {
    std::cerr << error.what() << "\n";
    return 1;
  }
  std::cerr << "usage: verification_book write ROWS PAGE_FOLDER COMMIT DATE\n"
               "       verification_book check|summary ROWS PAGE_FOLDER\n";
  return 2;
}
