// What `compare` says: the sentence first, then the table, where to look, cautions; and the same
// for programs.
#pragma once

#include <string>

#include "app/present/text_table.hpp"
#include "totebench/studies/compare.hpp"
#include "totebench/viz/results.hpp"
#include "totebench/viz/svg_chart.hpp"

namespace totebench::app {

// One row a quantity, one column a bag; after the first column each cell has the difference from it
// in brackets. The first row holds the names.
struct ComparisonTable {
  std::vector<std::string> names;
  struct Row {
    std::string what;  // with its unit
    std::vector<std::string> cells;
  };
  std::vector<Row> rows;
};
[[nodiscard]] ComparisonTable comparison_table(const studies::Comparison& comparison,
                                               const std::string& units);

// Where nine in ten differences of the headlines from the first bag lie, one row a headline; empty
// where the scatter of the data was not asked for.
[[nodiscard]] TextTable difference_rows(const studies::Comparison& comparison,
                                        const std::string& units);

// "Adding ... takes the bottom sag from 41 mm to 1.4 mm."
[[nodiscard]] std::string comparison_sentence(const studies::Comparison& comparison,
                                              const std::string& units);

// Cautions of all bags, each once, with the bags it is about.
[[nodiscard]] std::vector<std::string> comparison_cautions(const studies::Comparison& comparison);

[[nodiscard]] std::string comparison_report(const studies::Comparison& comparison,
                                            const std::string& units, const viz::Written& written,
                                            const std::string& folder);

// Bottom sag, then strap drop: one quantity a chart.
[[nodiscard]] std::vector<viz::BarChart> comparison_charts(const studies::Comparison& comparison,
                                                           const std::string& units);

// comparison.json, SI: "bags" holds name, what is different from the first, its findings (keys of
// scenes/findings.schema.json) and the differences of the headlines from the first.
[[nodiscard]] std::string comparison_json(const studies::Comparison& comparison);

}  // namespace totebench::app
