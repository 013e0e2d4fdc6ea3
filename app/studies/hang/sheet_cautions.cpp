#include "totebench/studies/sheet_cautions.hpp"

#include <fmt/format.h>

#include "totebench/studies/jumps.hpp"

namespace totebench::studies {
namespace {

constexpr double kTellUnseen = 0.05;  // of the area

}  // namespace

std::vector<std::string> sheet_cautions(const SheetHangResult& result) {
  std::vector<std::string> list = jump_cautions(result.jumps);
  if (result.report.status == solver::SolveStatus::kConverged && !result.report.stable) {
    list.emplace_back("This is an equilibrium but not a stable one: the least push changes it.");
  }
  if (result.unseen_wrinkles > kTellUnseen) {
    list.push_back(fmt::format(
        "{:.0f} % of the sheet is pressed together harder than any wrinkle that this mesh can show "
        "would bear: the real sheet wrinkles more finely there, and is softer. A plain sheet can "
        "be "
        "given \"wrinkles\": \"finer than the mesh\"; for another take a smaller mesh.size.",
        100 * result.unseen_wrinkles));
  }
  return list;
}

}  // namespace totebench::studies
