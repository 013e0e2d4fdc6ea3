// A bag put on a table: how it stands empty and loaded at one scale, and below each the cut through
// it from front to back, with the walls as its pattern has them.
#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

#include "totebench/scenes/build.hpp"
#include "totebench/viz/picture.hpp"
#include "totebench/viz/results.hpp"

namespace totebench::viz {

// All members must outlive the call; the state belongs to tote.model.
struct StoodView {
  std::string name;     // of its files: tote_<name>.vtu
  std::string label;    // "with 8 kg"
  std::string caption;  // "rim 31 cm high"
  const scenes::Tote& tote;
  const solver::State& state;
};

// `views` are of one mesh and not empty; `as_placed_x_m` are its nodes as the pattern has them.
[[nodiscard]] Picture standing_picture(const Eigen::Matrix3Xd& as_placed_x_m,
                                       const std::vector<StoodView>& views,
                                       const std::string& units);

// The same bag, its table no wider than is looked at: a margin around what lies or stands on it.
[[nodiscard]] scenes::Tote with_table_trimmed(scenes::Tote tote, const solver::State& state);

// tote_<name>.vtu of each view; things.vtu, what lies in the last and what it stands on; and
// stand.png unless `picture` is false: for who asked for a stop.
[[nodiscard]] Written write_standing_files(const Eigen::Matrix3Xd& as_placed_x_m,
                                           const std::vector<StoodView>& views,
                                           const std::string& units,
                                           const std::filesystem::path& folder, bool picture);

}  // namespace totebench::viz
