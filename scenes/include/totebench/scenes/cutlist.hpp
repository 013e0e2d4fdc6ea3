// The pieces to cut for the bag that is tested: what is sewn, plus allowances.
//
// Cutting rules, all common practice, no source:
//   cloth, fusible: the sewn outline, a seam allowance on every sewn edge, the hem at the opening
//   stabilizer: one piece without the allowances inside, as it is trimmed to the sewing line
//   base sheet: the finished base less its clearance, corners rounded
//   pocket of a loose base sheet: the finished base with a seam allowance all round, of the base's
//           innermost cloth, sewn in with the base on three sides
//   straps: visible length and both overlaps; a folded strap is cut as wide as its finished width
//           times its plies (a 1 1/4 in strip gives a 5/8 in strap)
//   binding: an opening without a hem: a strip 2 in wide, once round and two allowances
//   feet: a square of base sheet or stiff board under each
// A boxed bag is cut as two pieces whose lower corners are notched by half the depth.
#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

#include "totebench/materials/library.hpp"
#include "totebench/scenes/scene.hpp"

namespace totebench::scenes {

// Where a mark of the bag's own pieces meets the edge: snipped or marked there, it is what edges
// are sewn together by.
struct Notch {
  std::string mark;
  std::vector<Eigen::Vector2d> line_m;  // from the line to cut to the sewing line
};

struct CutPiece {
  std::string name;      // "front and back, outer", "strap"
  std::string material;  // library id
  int count = 1;
  std::vector<Eigen::Vector2d> cut_m;   // closed outline to cut along, counter-clockwise
  std::vector<Eigen::Vector2d> sewn_m;  // sewing line; empty where nothing is added to it
  std::vector<Notch> notches;
  double grain_rad = 0;  // of the warp, from the x axis of the outline
  bool has_grain = true;
  std::string note;  // lengths in the scene's units
  // Edges all along or across it (and corners rounded as the note says): a ruler draws it, no
  // pattern is needed.
  [[nodiscard]] bool by_ruler() const;
  bool round_corners = false;  // the only edges that are not straight

  [[nodiscard]] double width_m() const;   // of the cut outline, along x
  [[nodiscard]] double height_m() const;  // along y
};

// Area inside a closed outline.
[[nodiscard]] double outline_area_m2(const std::vector<Eigen::Vector2d>& outline);

// Throws std::invalid_argument when the scene is no tote.
[[nodiscard]] std::vector<CutPiece> cut_pieces(const Scene& scene,
                                               const materials::MaterialLibrary& library);

inline constexpr double kBindingWidth_m = 0.0508;  // cut; a double-fold binding of 1/2 in

}  // namespace totebench::scenes
