// The part of viz/ that needs VTK lives in a module of its own, loaded only when something is to
// be drawn or written: starting a program linked with VTK's 70 shared libraries costs more time
// than `totebench check` takes.
#pragma once

#include <string>
#include <vector>

#include "totebench/scenes/scene.hpp"
#include "totebench/viz/dataset.hpp"
#include "totebench/viz/picture.hpp"

namespace totebench::viz {

// Each returns an empty text, or what went wrong. Files are written in place; callers take care
// of temporary names.
struct VtkModule {
  std::string (*write_surface)(const SurfaceData& data, const std::string& path) = nullptr;
  std::string (*write_points)(const PointCloudData& data, const std::string& path) = nullptr;
  // The picture as a PNG file, in memory.
  std::string (*draw)(const Picture& picture, std::string& png) = nullptr;
  // Opens a window and returns when it is closed.
  std::string (*show)(const std::vector<Picture>& moments, const std::string& title) = nullptr;
  std::string (*read_faces)(const std::string& path, scenes::FlatFaces& faces) = nullptr;
};

// Loads the module once. On failure the result is null and `error` says why and what to do.
[[nodiscard]] const VtkModule* vtk_module(std::string& error);

}  // namespace totebench::viz

// The one symbol the module exports.
extern "C" const totebench::viz::VtkModule* totebench_vtk_module();
