#include "totebench/viz/surface_file.hpp"

#include "totebench/scenes/sheet_file.hpp"
#include "totebench/viz/vtk_module.hpp"

namespace totebench::viz {

std::string read_surface_file(scenes::Scene& scene) {
  scenes::SheetGeometry& geometry = scene.sheet.geometry;
  if (scene.kind != scenes::SceneKind::kSheet || geometry.shape != scenes::SheetShape::kFile ||
      scenes::file_ending(geometry.file) != ".vtp") {
    return "";
  }
  std::string error;
  const VtkModule* vtk = vtk_module(error);
  return vtk == nullptr ? geometry.file + " cannot be read: " + error
                        : vtk->read_faces(geometry.file, geometry.faces);
}

}  // namespace totebench::viz
