// From a scene to a solver model, and back from a state to the numbers a person asked for.
//
//   Scene --build_tote--> Tote{Model + what each part is} --solver--> State --findings--> Findings
#pragma once

#include <Eigen/Core>
#include <array>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "totebench/materials/library.hpp"
#include "totebench/scenes/scene.hpp"
#include "totebench/scenes/tote_strength.hpp"
#include "totebench/solver/equilibrium.hpp"

namespace totebench::scenes {

// Triangle::region values of a tote mesh.
enum Region : int {
  kRegionUpper = 0,  // walls above the crosswise seam (the whole wall when there is none)
  kRegionLower = 1,  // walls below it
  kRegionBase = 2,
  kRegionHem = 3,
  kRegionStrap = 4,
  kRegionStrapHeld = 5,  // the part of a strap inside the hand or on the peg
  kRegionBaseSheet = 6   // loose sheet in a pocket
};
[[nodiscard]] const char* region_name(int region);
[[nodiscard]] inline bool is_strap(int region) {
  return region == kRegionStrap || region == kRegionStrapHeld;
}
// Cloth of the bag: neither strap nor loose sheet.
[[nodiscard]] inline bool is_panel(int region) {
  return !is_strap(region) && region != kRegionBaseSheet;
}

// LabelledEdge::label values of a tote mesh.
enum EdgeLabel : int {
  kEdgeOpening = 1,    // top edge of the bag
  kEdgeSeam = 2,       // seams between panels (side, bottom, gusset)
  kEdgeCrosswise = 3,  // upper to lower section
  kEdgeLengthwise = 4,
  kEdgeBaseOutline = 5,  // crease or seam around the base
  kEdgeCrease = 6,       // fold of one cloth (vertical corners of a boxed bag)
  kEdgeBaseSeam = 7,     // seam across the middle of a boxed bag's base
  kEdgeHold = 8          // where a strap comes out of the hand or leaves the peg
};

// One end of a strap sewn on a panel.
struct AttachmentSite {
  std::string name;                  // "front left", ...
  std::vector<int> stitches;         // indices into Model::stitches
  std::vector<double> stitch_row_m;  // per stitch: distance below the first row, rest
  double width_m = 0;                // of the strap
  double stitch_length_m = 0;
  double line_length_m = 0;  // total length of stitching
};

struct Tote {
  solver::Model model;
  std::vector<AttachmentSite> attachments;
  std::vector<std::string>
      triangle_part;      // names by part index: "front", "side left", "strap front"
  std::vector<int> part;  // per triangle: index into triangle_part
  std::vector<std::array<solver::SurfacePoint, 2>>
      strap_feet;  // one a strap: where its centre line crosses the opening at its two ends
  std::vector<solver::SurfacePoint>
      strap_midpoints;                        // one a strap that is held: there, on its centre line
  std::vector<double> thickness_m;            // per triangle
  std::vector<double> strength_warp_N_per_m;  // per triangle; 0 = not known
  std::vector<double> strength_weft_N_per_m;
  // Of a stitched-in base sheet: the share of each triangle it covers, and its stretching (N/m) and
  // bending stiffness (N m). A triangle's membrane force is that of cloth and sheet together. Empty
  // = no such sheet.
  std::vector<double> sheet_share;
  Eigen::Matrix3d sheet_A = Eigen::Matrix3d::Zero();
  Eigen::Matrix3d sheet_D = Eigen::Matrix3d::Zero();
  ToteStrength strength;
  double base_sheet_modulus_Pa = 0;  // of the plastic base, 0 = none
  double base_sheet_thickness_m = 0;
  double base_sheet_poisson_ratio = 0;
  std::optional<double> table_m;  // height of what it stands on (SupportKind::kTable)
  double hung_for_s = 0;  // how long what creeps has been under load; 0 = nothing of it creeps
  double bag_mass_kg = 0;
  double volume_m3 = 0;  // rough inside volume when open, for warnings
};

// Builds the model with the mesh of `level`: 0 is the coarsest, each further level splits every
// triangle in four. finest_level(scene) meets MeshSpec::size_m and has still smaller triangles at
// the strap seams (seam_refinement.hpp). Level l+1's mesh is made from level l's
// (ShellMesh::child_of).
// Throws std::invalid_argument with a sentence a person can act on when the geometry is impossible.
[[nodiscard]] int finest_level(const Scene& scene);
[[nodiscard]] Tote build_tote(const Scene& scene, const materials::MaterialLibrary& library,
                              int level);

// Things as they are put into the bag hanging empty: `empty` with the model's bodies above its base
// as they stand above the base where the model starts. Where they do not go in so, the start of the
// model: the bag held open.
[[nodiscard]] solver::State with_things_put_in(const Tote& tote, const solver::State& empty);

// The same for one scene, built again and again on other levels or of other materials: its panels
// are meshed once, since their mesh depends on the scene alone. Several threads may build at once.
class ToteBuilder {
 public:
  explicit ToteBuilder(const Scene& scene);  // which must outlive it
  ~ToteBuilder();
  ToteBuilder(const ToteBuilder&) = delete;
  ToteBuilder& operator=(const ToteBuilder&) = delete;
  ToteBuilder(ToteBuilder&&) = delete;
  ToteBuilder& operator=(ToteBuilder&&) = delete;

  [[nodiscard]] Tote build(const materials::MaterialLibrary& library, int level) const;

 private:
  struct Panels;
  const Scene& scene_;
  std::unique_ptr<Panels> panels_;
};
// The coarsest mesh with seams refined in proportion: every edge of the finest, 2^finest_level
// times as long. Made from level 0's mesh.
[[nodiscard]] Tote build_coarse_with_refined_seams(const Scene& scene,
                                                   const materials::MaterialLibrary& library);

struct SheetModel {
  solver::Model model;
  std::vector<int> probe_nodes;                 // one a Probe
  std::vector<std::vector<int>> support_nodes;  // one list a SheetSupport
};
// All that is wrong with a scene, by the rules that the reader reports by; "" when it can be built.
// A scene that was read without errors has none. `library` holds its own materials.
[[nodiscard]] std::string faults_of(const Scene& scene, const materials::MaterialLibrary& library);

[[nodiscard]] SheetModel build_sheet(const Scene& scene, const materials::MaterialLibrary& library);

}  // namespace totebench::scenes
