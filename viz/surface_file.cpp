#include "viz/surface_file.hpp"

#include "scenes/sheet_file.hpp"
#include "viz/vtk_module.hpp"

namespace totebench {

std::string read_surface_file(Scene& scene) {
  SheetGeometry& geometry = scene.sheet.geometry;
  if (scene.kind != SceneKind::kSheet || geometry.shape != SheetShape::kFile ||
      file_ending(geometry.file) != ".vtp") {
    return "";
  }
  std::string error;
  const VtkModule* vtk = vtk_module(error);
  return vtk == nullptr ? geometry.file + " cannot be read: " + error
                        : vtk->read_faces(geometry.file, geometry.faces);
}

}  // namespace totebench
