// Writes everything there is to look at about one solved scene into a folder.
//
//   tote_empty.vtu  tote_loaded.vtu   second-order triangles with fields (totebench/viz/fields.hpp)
//   stitches.vtp                      a force vector a stitch
//   things.vtu                        what lies in the loaded bag, where that is items
//   steps.pvd  steps/step_NN.vtu      the load rising, on the coarse mesh it was followed on
//   <name>.pvd                        any other series, with its stitches
//   tote.png                          the picture (viz/pictures/tote_picture.hpp)
//   compare.png                       several totes (totebench/viz/compare_picture.hpp)
//   sheet.vtu  sheet.png  steps.pvd   the same for a sheet
//
// Every file is written under a temporary name first, so that none is ever half there.
#pragma once

#include <array>
#include <filesystem>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "totebench/scenes/build.hpp"
#include "totebench/scenes/findings.hpp"
#include "totebench/solver/equilibrium.hpp"
#include "totebench/viz/bag_field.hpp"
#include "totebench/viz/compare_picture.hpp"
#include "totebench/viz/picture_mark.hpp"

namespace totebench::viz {

struct Written {
  std::vector<std::string> files;     // names within the folder
  std::vector<std::string> problems;  // one sentence for each that lacks a display or a program
  std::vector<std::string> failures;  // and for each that was to be written and could not
  std::string picture_png = {};       // the last picture drawn, whole; "" = none
  std::vector<std::array<double, 2>> picture_parts = {};  // of it (Picture::parts)
};

// The loaded state belongs to the last step, or to the whole load where there are none.
struct ToteResult {
  const scenes::Tote& tote;
  const solver::State& empty;
  const solver::State& loaded;
  const scenes::Findings& findings;
  const scenes::Tote& steps_tote;  // the steps' own mesh
  const std::vector<solver::LoadStep>& steps;
};
// Without a colour (or `picture`) nothing is drawn: for who asked for a stop.
[[nodiscard]] Written write_tote_files(const ToteResult& result, const std::string& units,
                                       const std::string& load_text,
                                       const std::filesystem::path& folder,
                                       std::optional<BagField> colour = BagField::kStrength,
                                       const std::vector<PictureMark>& marks = {});

struct SheetResult {
  const scenes::Scene& scene;
  const scenes::SheetModel& sheet;
  const std::vector<solver::LoadStep>& steps;  // not empty; the last is the loaded state
  bool converged = true;
};
[[nodiscard]] Written write_sheet_files(const SheetResult& result, const std::string& units,
                                        const std::filesystem::path& folder, bool picture = true);

// One moment of a bag that comes apart: what still holds has a force, what is gone has none.
struct SeriesStep {
  double time = 0;  // what a viewer counts by
  const solver::State& state;
  Eigen::Matrix3Xd stitch_forces_N;  // 3 x stitches
};
// <name>.pvd with the surface and the stitches of each step: <name>/step_NN.vtu,
// <name>/stitches_NN.vtp.
[[nodiscard]] Written write_series(const scenes::Tote& tote, const Eigen::Matrix3Xd& from_x_m,
                                   const std::vector<SeriesStep>& steps, const std::string& name,
                                   const std::filesystem::path& folder);

// compare.png (totebench/viz/compare_picture.hpp) and the texts given as (name, content), in one
// folder.
[[nodiscard]] Written write_comparison_files(
    const std::vector<std::pair<std::string, std::string>>& texts,
    const std::vector<ComparedView>& views, const std::string& units,
    const std::filesystem::path& folder);

}  // namespace totebench::viz
