#include "app/present/circumstances_table.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>

#include "app/present/demand_text.hpp"
#include "totebench/scenes/figure.hpp"
#include "totebench/scenes/unit_text.hpp"
#include "totebench/studies/circumstances.hpp"

namespace totebench::app {
namespace {

const scenes::Figure& sag_figure() { return scenes::figure_of<&scenes::Findings::bottom_sag_m>(); }

// The figures that change with the load, and so with its circumstances.
const std::array<const scenes::Figure*, 4>& moved_figures() {
  static const std::array<const scenes::Figure*, 4> figures = {
      &sag_figure(), &scenes::figure_of<&scenes::Findings::overall_lengthening_m>(),
      &scenes::figure_of<&scenes::Findings::strap_drop_lengthening_m>(),
      &scenes::figure_of(scenes::peak_stitch_N)};
  return figures;
}

// What is not seen: of a length a tenth of a millimetre, of a force a hundredth of itself.
double unseen(const scenes::Figure& figure, const scenes::Findings& before) {
  return figure.dimension == scenes::Dimension::kLength ? 1e-4 : 0.01 * figure.value(before);
}

// "+0.31 in"; of a force on a stitch in proportion, "+40 %", since it hangs on the mesh.
std::string circumstance_text(double move, const scenes::Figure& figure,
                              const scenes::Findings& before, const std::string& units) {
  if (std::abs(move) < unseen(figure, before)) return "-";
  if (figure.dimension == scenes::Dimension::kLength) {
    return move_text(move, figure.dimension, units);
  }
  return fmt::format("{:+.0f} %", 100 * move / figure.value(before));
}

}  // namespace

TextTable circumstance_rows(const studies::HangResult& result, const std::string& units) {
  const scenes::Findings* before = studies::unchanged(result);
  if (!result.circumstances || before == nullptr) return {};
  TextTable rows = {{"what would move this"}};
  for (const scenes::Figure* figure : moved_figures()) rows.front().emplace_back(figure->name);
  for (const studies::Circumstance& circumstance : *result.circumstances) {
    std::vector<std::string> row = {circumstance.what};
    if (!circumstance.moved) {
      rows.push_back({circumstance.what, "no rest found"});
      continue;
    }
    bool moves = false;
    for (const scenes::Figure* figure : moved_figures()) {
      row.push_back(circumstance_text((*circumstance.moved)[scenes::place_of(*figure)], *figure,
                                      *before, units));
      moves = moves || row.back() != "-";
    }
    if (moves) rows.push_back(std::move(row));
  }
  return rows.size() > 1 ? rows : TextTable{};
}

std::string circumstance_sentence(const studies::HangResult& result, const std::string& units) {
  const scenes::Findings* before = studies::unchanged(result);
  if (!result.circumstances || before == nullptr) return "";
  const scenes::Figure& sag = sag_figure();
  const studies::Circumstance* most =
      studies::moves_most(*result.circumstances, sag, unseen(sag, *before));
  if (most == nullptr) return "";
  return fmt::format(
      "Not in these ranges: how the bag is filled, held and put together. The sag is moved most by "
      "\"{}\": {}.",
      most->what, circumstance_text((*most->moved)[scenes::place_of(sag)], sag, *before, units));
}

}  // namespace totebench::app
