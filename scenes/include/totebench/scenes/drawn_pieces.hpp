// Any of the shapes that a scene knows, as pattern pieces: a drawing and the scene that uses it.
#pragma once

#include <string>

#include "totebench/scenes/scene.hpp"

namespace totebench::scenes {

struct DrawnPieces {
  std::string svg;    // 1 mm a user unit, marks as circles "<piece>.<letter>"
  std::string scene;  // the scene with `file` as its bag's pieces; its choice and variants left out
};

// Folds of one cloth become two pieces with a fold between them. Throws std::invalid_argument for a
// scene that is no tote, has pieces already, or crosswise or lengthwise seams.
[[nodiscard]] DrawnPieces drawn_pieces(const Scene& scene, const std::string& file);

}  // namespace totebench::scenes
