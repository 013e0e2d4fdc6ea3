// The numbers a person asked for, read off a solved tote. SI; the definitions are part of the
// contract with the user (README, scenes/findings.schema.json).
#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

#include "totebench/scenes/base_stress.hpp"
#include "totebench/scenes/build.hpp"

namespace totebench::scenes {

struct StrapSeamFinding {
  std::string name;
  Eigen::Vector3d force_N = Eigen::Vector3d::Zero();  // of the strap on the panel
  double peak_stitch_N = 0;
  double mean_stitch_N = 0;
  double peak_N_per_m = 0;          // largest stitch force / stitch length
  double mean_N_per_m = 0;          // total force / length of stitching
  double shear_along_N_per_m = 0;   // along the strap, of the mean line force
  double shear_across_N_per_m = 0;  // across it, in the panel
  double peel_N_per_m = 0;          // out of the panel
  int peak_stitch = -1;             // index into Model::stitches
  double panel_force_N_per_m = 0;   // largest principal membrane force of the panel beside it
};

struct Utilisation {
  std::string mode;  // short name, see utilisation.hpp
  std::string what;  // "thread at the strap stitches, front left", "cloth of the front", ...
  double demand = 0;
  double capacity = 0;
  std::string unit;
  double ratio = 0;
  std::string source;  // of the capacity, with its grade
  std::string grade;
  bool drops_load = false;  // else the bag is spoilt but goes on carrying
  int triangle = -1;        // of the tote's mesh, where it is; -1 = its base
};

// A thing in the bag, as it came to rest.
struct ThingFinding {
  std::string what;                                // name_of(Item)
  Eigen::Vector3d at_m = Eigen::Vector3d::Zero();  // its middle, from the lowest point of the bag
  double leans_rad = 0;                            // off the way it was put in
  double moved_m = 0;                              // sideways, from where it was put in
};

struct Findings {
  solver::SolveReport empty;
  solver::SolveReport loaded;
  int triangles = 0;
  int vertices = 0;
  double weight_N = 0;  // bag and contents
  double bag_mass_kg = 0;
  double hung_for_s = 0;  // Tote::hung_for_s
  double bottom_sag_m = 0;
  double overall_lengthening_m = 0;
  double strap_drop_empty_m = 0;
  double strap_drop_loaded_m = 0;
  double strap_drop_lengthening_m = 0;
  std::vector<StrapSeamFinding> strap_seams;
  double hook_friction_needed = 0;  // coefficient, see hook_grip.hpp
  double peak_panel_force_N_per_m = 0;
  std::string peak_panel_where;
  double base_sheet_stress_Pa = 0;
  double fill_level_m = 0;               // above the lowest point; 0 when not used
  std::vector<ThingFinding> things;      // in the order in which they were put in
  std::vector<Utilisation> utilisation;  // most used up first
  // Pairs of triangles that pass through each other. A loaded state with such is not converged
  // (SolveFailure::kCrossing), whatever the solver said of it.
  int surface_crossings = 0;
  std::string surface_crossings_where;
  double unseen_wrinkles = 0;  // solver::unseen_wrinkles of the loaded state
  // Where another stable shape was found: its sag, strap drop and energy against the first, all on
  // the coarse mesh.
  struct OtherShape {
    bool found = false;
    double bottom_sag_m = 0;
    double strap_drop_m = 0;
    double energy_J = 0;
    double energy_of_first_J = 0;
    int starts_tried = 0;
    double sag_low_m = 0;  // over all starts
    double sag_high_m = 0;
  } other_shape;
  std::vector<std::string> cautions;
  solver::ShellFields loaded_fields;  // of the loaded state, triangle by triangle
  [[nodiscard]] bool interrupted() const {
    return empty.status == solver::SolveStatus::kInterrupted ||
           loaded.status == solver::SolveStatus::kInterrupted;
  }
  [[nodiscard]] bool converged() const {
    return empty.status == solver::SolveStatus::kConverged &&
           loaded.status == solver::SolveStatus::kConverged;
  }
};

// Greatest depth of the base below the mean height of its outline, loaded less empty, m. Without a
// base of its own (rounded bags, sacks): how much lower the lowest point of the bag hangs. Below
// zero where the load draws flat what dipped more when the bag hung empty, or spreads the walls and
// so lifts the bottom.
[[nodiscard]] double bottom_sag(const Tote& tote, const solver::State& empty,
                                const solver::State& loaded);

// A strap's drop as it is measured with a tape: from the underside of the strap at its highest
// point, which is where it is held, straight down to the level of the opening where the strap is
// sewn on, midway between its two ends (common practice, no source). Between the ends the opening
// may hang lower.
struct StrapDrop {
  Eigen::Vector3d underside = Eigen::Vector3d::Zero();
  Eigen::Vector3d foot = Eigen::Vector3d::Zero();  // straight below, at the level of the ends
  [[nodiscard]] double length_m() const { return underside.z() - foot.z(); }
};
// Of each strap, in the places `x_m` of the nodes (3 x n_nodes, m).
[[nodiscard]] std::vector<StrapDrop> strap_drops(const Tote& tote, const Eigen::Matrix3Xd& x_m);
// Mean length over the straps, m; 0 without any.
[[nodiscard]] double strap_drop(const Tote& tote, const solver::State& state);

// Of all strap seams the one with the hardest pulled stitch; null where there is none.
[[nodiscard]] const StrapSeamFinding* hardest_pulled(const Findings& found);
// Of all strap seams the largest force on a stitch, and per length of stitching; 0 without any.
[[nodiscard]] double peak_stitch_N(const Findings& found);
[[nodiscard]] double peak_along_strap_seam_N_per_m(const Findings& found);

// Geometry-dependent numbers of one solved pair (empty, loaded). Reports are copied in.
[[nodiscard]] Findings make_findings(const Scene& scene, const Tote& tote,
                                     const solver::State& empty,
                                     const solver::SolveReport& empty_report,
                                     const solver::State& loaded,
                                     const solver::SolveReport& loaded_report,
                                     const Findings::OtherShape& other_shape = {});

}  // namespace totebench::scenes
