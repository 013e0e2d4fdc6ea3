// The rules for a tote, one function and file a part of it. A value that is NaN could not be read
// and breaks no rule.
#pragma once

#include <string>

#include "scenes/format/scene_report.hpp"
#include "scenes/format/told_length.hpp"
#include "totebench/materials/library.hpp"
#include "totebench/scenes/scene.hpp"

namespace totebench::scenes {

// Cloth left between a strap's end and the next edge, and between two ends (estimate: below that
// there is no room for a row of triangles, nor for a presser foot).
inline constexpr double kStrapMargin_m = 0.004;

// What is judged, and what is told. Lengths are told in the units the scene wants its results in.
struct ToteUnderCheck {
  const Scene& scene;
  const materials::MaterialLibrary& library;  // with the scene's own materials
  SceneReport& report;

  [[nodiscard]] std::string len(double metres) const { return told_length(metres, scene.units); }
  [[nodiscard]] std::string at_most(double metres) const {
    return told_at_most(metres, scene.units);
  }
  [[nodiscard]] std::string at_least(double metres) const {
    return told_at_least(metres, scene.units);
  }
};

void check_body(const ToteUnderCheck& tote);
// Of a bag of one's own pieces: how they are sewn, and what lies on them.
void check_pieces(const ToteUnderCheck& tote);
void check_straps(const ToteUnderCheck& tote);
void check_attachment(const ToteUnderCheck& tote);
// That straps of such a size can be laid from their ends to what holds them; only where nothing
// else is wrong, since it is worked out on the bag as it is built.
void check_reach(const ToteUnderCheck& tote);
void check_support(const ToteUnderCheck& tote);
// That triangles can be laid on pieces of one's own, likewise.
void check_triangles_on_pieces(const ToteUnderCheck& tote);
void check_base(const ToteUnderCheck& tote);
void check_feet(const ToteUnderCheck& tote);

}  // namespace totebench::scenes
