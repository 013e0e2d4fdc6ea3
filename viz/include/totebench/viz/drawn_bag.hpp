// A hung tote as what is drawn of it: surfaces, outlines, cuts. Shared by all pictures of totes.
#pragma once

#include <Eigen/Core>
#include <vector>

#include "totebench/scenes/build.hpp"
#include "totebench/viz/picture.hpp"
#include "totebench/viz/tessellate.hpp"

namespace totebench::viz {

inline const Colour kClothColour{0.90, 0.86, 0.78};
inline const Colour kStrapColour{0.50, 0.47, 0.45};
inline const Colour kSheetColour{0.55, 0.62, 0.70};
inline const Colour kThingColour{0.72, 0.62, 0.50};
inline const Colour kSeamColour{0.25, 0.23, 0.22};
inline const Colour kForceColour{0.80, 0.15, 0.12};

// From where all pictures see a bag: a little from above, its front half turned to the viewer.
[[nodiscard]] View bag_view();

// Triangle numbers by what they are drawn as.
struct DrawnParts {
  std::vector<int> cloth, straps, sheet;
  explicit DrawnParts(const solver::ShellMesh& mesh);
};

// Straps lie exactly on the panel they are sewn to: nodes of the straps moved outwards by about
// half of both thicknesses, so that the strap is seen and not the panel.
[[nodiscard]] Eigen::Matrix3Xd with_straps_lifted(const scenes::Tote& tote,
                                                  const Eigen::Matrix3Xd& x_m,
                                                  const std::vector<int>& straps);

// What something covers, in view coordinates (m).
struct Box {
  Eigen::Vector2d low{1e9, 1e9}, high{-1e9, -1e9};
  void add(const Eigen::Vector2d& p);
  void add(const Eigen::Matrix3Xd& points, const View& view);
  [[nodiscard]] double width() const { return high.x() - low.x(); }
  [[nodiscard]] double height() const { return high.y() - low.y(); }
};

struct DrawnBag {
  DrawnSurface cloth, straps, sheet, things;
  std::vector<Eigen::Matrix3Xd> outlines;
  void move(const Eigen::Vector3d& by);
  [[nodiscard]] Box box(const View& view) const;
};

// `value` (may be null) colours the cloth, in the unit of the colour bar.
[[nodiscard]] DrawnBag draw_bag(const scenes::Tote& tote, const DrawnParts& parts,
                                const Eigen::Matrix3Xd& x_m, const CornerValues* value);
void add_bag(Picture& picture, const DrawnBag& bag);

// The skins of the bag's bodies where they are, as flat triangles.
[[nodiscard]] DrawnSurface draw_things(const scenes::Tote& tote,
                                       const std::vector<solver::BodyPose>& bodies);
// The bag's mesh and, after its triangles, those of the skins in their order: to be drawn in one.
// `part_of` goes on from the bag's parts, one a flat face or a round side; triangles of a part
// share their nodes.
struct MeshWithThings {
  solver::ShellMesh mesh;
  std::vector<int> part_of;
  std::vector<int> things;  // triangles of the skins
};
[[nodiscard]] MeshWithThings mesh_with_things(const scenes::Tote& tote);
// Places of its nodes (3 x n, m): the bag's `x_m`, and the free bodies of `size` times theirs
// about their middles.
[[nodiscard]] Eigen::Matrix3Xd places_with_things(const scenes::Tote& tote,
                                                  const Eigen::Matrix3Xd& x_m,
                                                  const std::vector<solver::BodyPose>& bodies,
                                                  double size = 1);

// Largest value to tell apart on the bar: what 98 % of the wall's area stays below, so that the few
// hot spots beside stitches, and a stiff base, do not wash out the rest. `largest` becomes the
// largest value of all if that is more.
[[nodiscard]] double bar_top(const scenes::Tote& tote, const CornerValues& values,
                             const std::vector<int>& cloth, double& largest);

struct Cuts {
  std::vector<Eigen::Matrix3Xd> empty, loaded, empty_sheet, loaded_sheet, things;
  [[nodiscard]] Box box(const View& view) const;
  void move(const Eigen::Vector3d& by);
};

// The cut through `normal . p = offset_m`, laid flat into the picture: `along` becomes the
// horizontal, z the vertical.
[[nodiscard]] Cuts cut_both(const DrawnBag& empty, const DrawnBag& loaded,
                            const Eigen::Vector3d& normal, const Eigen::Vector3d& along,
                            double offset_m, const View& view);
// Empty dashed, loaded in ink.
void add_cuts(Picture& picture, const Cuts& cuts);

// The largest principal membrane force of the cloth at the triangles' corners, smooth within each
// part, times `per_SI`.
[[nodiscard]] CornerValues shown_membrane_force(const scenes::Tote& tote,
                                                const solver::ShellFields& fields, double per_SI);

}  // namespace totebench::viz
