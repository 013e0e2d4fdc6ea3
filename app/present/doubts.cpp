#include "app/present/doubts.hpp"

#include <fmt/format.h>

#include <cmath>

#include "totebench/scenes/base_shape.hpp"
#include "totebench/scenes/unit_text.hpp"
#include "totebench/studies/likely_range.hpp"

namespace totebench::app {
namespace {

constexpr double kMovedByMesh = 0.2;  // share of the sag that a finer mesh may move unsaid

// Where a use of strength is; of the base its lowest point.
Eigen::Vector3d place_of_use(const studies::HangResult& result, const scenes::Utilisation& use,
                             const Eigen::Vector3d& lowest_m) {
  if (use.triangle < 0) return lowest_m;
  const solver::Triangle& triangle = result.tote.model.mesh.triangles[use.triangle];
  Eigen::Vector3d sum = Eigen::Vector3d::Zero();
  for (int corner = 0; corner < 3; ++corner) sum += result.loaded.x.col(triangle.node[corner]);
  return sum / 3;
}

}  // namespace

std::vector<Doubt> doubts(const studies::HangResult& result, const std::string& units) {
  constexpr const scenes::Figure& kBottomSag = scenes::figure_of<&scenes::Findings::bottom_sag_m>();
  const scenes::Findings& found = result.findings;
  const Eigen::Vector3d lowest = scenes::base_shape(result.tote.model.mesh, result.loaded.x).lowest;
  std::vector<Doubt> list;
  if (!found.loaded.stable || !found.empty.stable) {
    list.push_back({"this shape is not stable, a small push takes the bag to another",
                    {"not stable: a small push takes it to another shape", lowest}});
  }
  if (const auto& other = found.other_shape; other.found) {
    const std::string sag = scenes::length_text(other.bottom_sag_m, units);
    list.push_back({fmt::format("the bag can also rest in another shape{}, with a bottom sag of {}",
                                other.energy_J < other.energy_of_first_J
                                    ? " of lower energy, to which a shake may take it"
                                    : "",
                                sag),
                    {"it can also rest with a bottom sag of " + sag, lowest}});
  }
  if (const std::optional<double> moved = studies::mesh_change(result, kBottomSag);
      moved && std::abs(*moved) > kMovedByMesh * std::abs(found.bottom_sag_m)) {
    const std::string by = scenes::length_text(std::abs(*moved), units);
    list.push_back(
        {fmt::format("the mesh alone moves the sag by {}; a smaller mesh.size tells", by),
         {"the mesh alone moves the sag by " + by, lowest}});
  }
  if (!found.utilisation.empty() && found.utilisation.front().ratio >= 1) {
    const scenes::Utilisation& use = found.utilisation.front();
    list.push_back({use.what + " is loaded beyond its strength, expect it to fail",
                    {use.what + ": beyond its strength", place_of_use(result, use, lowest)}});
  }
  return list;
}

std::vector<viz::PictureMark> doubt_marks(const studies::HangResult& result,
                                          const std::string& units) {
  std::vector<viz::PictureMark> marks;
  if (!result.findings.converged()) return marks;
  for (Doubt& doubt : doubts(result, units)) marks.push_back(std::move(doubt.mark));
  return marks;
}

}  // namespace totebench::app
