// Contradictions and impossible geometry, found before anything is solved.
#pragma once

#include "scenes/format/scene_report.hpp"
#include "totebench/materials/library.hpp"
#include "totebench/scenes/scene.hpp"

namespace totebench::scenes {

// `library` holds the scene's own materials. Values that could not be read are NaN and say nothing.
void check_scene(const Scene& scene, const materials::MaterialLibrary& library,
                 SceneReport& report);

// What there is to choose makes a choice.
void check_choose(const ChooseSpec& choose, SceneReport& report);

// Its two halves.
void check_tote(const Scene& scene, const materials::MaterialLibrary& library, SceneReport& report);
void check_sheet(const Scene& scene, const materials::MaterialLibrary& library,
                 SceneReport& report);

// A stack of layers at `pointer`: joins are said, the materials are fit, the stack can be made.
// Straps are tested as sheets too, but no bag is made of them.
void check_layers(const std::vector<Layer>& layers, const std::string& pointer,
                  const materials::MaterialLibrary& library, SceneReport& report,
                  bool straps_allowed);

// Too many triangles to solve, or too few to mean anything. Coupons may be meshed coarsely.
struct TriangleLimits {
  double few;     // a warning below
  double fewest;  // an error below
  double usual;
};
inline constexpr double kMostTriangles = 300000;  // memory of the factorisation runs out about here
inline constexpr TriangleLimits kToteLimits = {250, 40, 1500};
inline constexpr TriangleLimits kSheetLimits = {20, 0, 600};
struct MeshUnderCheck {
  double area_m2;
  double size_m;
  std::string units;  // of the scene
};
void check_triangles(const MeshUnderCheck& mesh, const TriangleLimits& limits, SceneReport& report);

}  // namespace totebench::scenes
