// Triangle meshes drawn elsewhere, read as the rest shape of a coupon.
#pragma once

#include <string>

#include "totebench/scenes/scene.hpp"
#include "totebench/solver/mesh.hpp"

namespace totebench::scenes {

// Reads a Wavefront .obj (faces of any number of corners, cut into fans) or an .stl (text or
// binary; equal corners are joined). Lengths are taken as metres. Mid-edge nodes lie on straight
// edges; rest = position.
//
// Throws std::invalid_argument with a sentence a person can act on: the file cannot be read, is
// cut short, holds no triangle, a triangle without area, or neighbours that face opposite ways.
[[nodiscard]] solver::ShellMesh read_sheet_file(const std::string& path);

// ".obj" of "hull.OBJ".
[[nodiscard]] std::string file_ending(const std::string& path);

// The same from faces that were read elsewhere; `path` names their file in errors.
[[nodiscard]] solver::ShellMesh sheet_of_faces(FlatFaces faces, const std::string& path);

}  // namespace totebench::scenes
