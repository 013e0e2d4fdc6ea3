// VERIFICATION  fatigue lines and creep
// Reference   semi-log S-N line 1 - b log10 N and Palmgren-Miner, closed forms; apparent modulus of
//             polyethylene under load: Plastics Pipe Institute, Handbook of PE Pipe, chapter 3,
//             table B.1.1, PE4xxx: 82000, 63000, 55000, 40000 psi at 0.5, 12, 100 h and a year
// Inputs      b = 0.10; the library's base sheet
// Tolerance   closed forms: rounding; table: a power law through rows that do not lie on one
// Not covered the slopes themselves, and cotton: no published table was found
#include "totebench/materials/ageing.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "book.hpp"
#include "totebench/viz/svg_chart.hpp"

namespace totebench::verification {
namespace {

constexpr double kHour_s = 3600;
constexpr double kSlope = 0.10;

TEST(Ageing, CyclesFollowTheLineAndAddUp) {
  const Source line = {"ageing", "S-N line, S / S_ult = 1 - b log10 N with b = 0.10", "rounding"};
  for (const auto& [share, text] : {std::pair{0.9, "0.9"}, {0.8, "0.8"}, {0.6, "0.6"}}) {
    expect_value(line, std::string("cycles to failure at ") + text + " of the strength",
                 materials::cycles_to_failure(share, kSlope), std::pow(10, (1 - share) / kSlope),
                 1e-9);
  }
  const Source miner = {"ageing", "Palmgren-Miner: shares of life add up", "rounding"};
  // 10^5, 10^3 and 10 cycles to failure.
  expect_value(miner, "uses of 100 cycles at 0.5 and 1 at 0.7",
               materials::uses_to_failure({{100, 0.5}, {1, 0.7}}, kSlope),
               1 / (100 / 1e5 + 1 / 1e3), 1e-9);
  expect_value(miner, "uses of 1000 at 0.5, 3 at 0.7 and 0.2 at 0.9",
               materials::uses_to_failure({{1000, 0.5}, {3, 0.7}, {0.2, 0.9}}, kSlope),
               1 / (1e3 / 1e5 + 3 / 1e3 + 0.2 / 10), 1e-9);
}

TEST(Ageing, BaseSheetFollowsTheHandbook) {
  const materials::MaterialLibrary library = materials::MaterialLibrary::load();
  const auto modulus_MPa = [&](double hours) {
    return materials::aged(library, hours * kHour_s)
               .find("hdpe_sheet")
               ->get("youngs_modulus")
               .value /
           1e6;
  };
  const Source table = {"ageing",
                        "Plastics Pipe Institute, Handbook of PE Pipe, chapter 3, table B.1.1",
                        "a power law through rows that scatter by 2.5 %", Quoted::kYes};
  const double psi_MPa = 6.894757e-3;
  viz::LineChart chart{"polyethylene under load", "minutes, log10", "apparent modulus, MPa", {}};
  viz::Line handbook{"handbook", {}, {}}, ours{"ours", {}, {}};
  for (const auto& [hours, psi, text] : {std::tuple{0.5, 82000.0, "half an hour"},
                                         {12.0, 63000.0, "12 hours"},
                                         {100.0, 55000.0, "100 hours"},
                                         {365.25 * 24, 40000.0, "a year"}}) {
    expect_value(table, std::string("apparent modulus of polyethylene after ") + text + " (MPa)",
                 modulus_MPa(hours), psi * psi_MPa, 0.03);
    handbook.x.push_back(std::log10(60 * hours));
    handbook.y.push_back(psi * psi_MPa);
  }
  for (double place = 1.5; place < 5.8; place += 0.25) {
    ours.x.push_back(place);
    ours.y.push_back(modulus_MPa(std::pow(10, place) / 60));
  }
  chart.lines = {handbook, ours};
  leave_picture("ageing", viz::line_chart_svg(chart));
  const Source fit = {"ageing", "power law of exponent 0.0744 fitted to the same table (PE3xxx)",
                      "exponents of the grades differ by 0.0012"};
  expect_value(fit, "sag after 100 hours over sag after one", modulus_MPa(1) / modulus_MPa(100),
               std::pow(100, 0.0744), 0.01);
}

}  // namespace
}  // namespace totebench::verification
