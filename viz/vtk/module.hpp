// Inside the drawing module (see totebench/viz/vtk_module.hpp).
#pragma once

#include <vtkSmartPointer.h>

#include <memory>
#include <string>
#include <vector>

#include "totebench/scenes/scene.hpp"
#include "totebench/viz/dataset.hpp"
#include "totebench/viz/picture.hpp"

class vtkPoints;
class vtkRenderWindow;

namespace totebench::viz {

// Columns as points.
[[nodiscard]] vtkSmartPointer<vtkPoints> points_of(const Eigen::Matrix3Xd& positions);

[[nodiscard]] std::string write_surface(const SurfaceData& data, const std::string& path);
[[nodiscard]] std::string write_points(const PointCloudData& data, const std::string& path);
[[nodiscard]] std::string draw(const Picture& picture, std::string& png);
// Left and Right go through the moments, the last is shown first.
[[nodiscard]] std::string show(const std::vector<Picture>& moments, const std::string& title);
// The polygons of a .vtp file, cut into triangles.
[[nodiscard]] std::string read_faces(const std::string& path, scenes::FlatFaces& faces);

// A render window that needs no display, with whatever it stands on kept alive beside it.
class OffscreenWindow {
 public:
  virtual ~OffscreenWindow() = default;
  [[nodiscard]] virtual vtkRenderWindow* window() = 0;
};

// First choice: an EGL context of its own, without any X server. Second: an X server without a
// screen (Xvfb) started for the purpose. Null when neither works; `error` says what to install.
[[nodiscard]] std::unique_ptr<OffscreenWindow> open_offscreen(int width_px, int height_px,
                                                              std::string& error);

}  // namespace totebench::viz
