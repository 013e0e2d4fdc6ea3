#include <fmt/format.h>
#include <vtkCamera.h>
#include <vtkErrorCode.h>
#include <vtkNew.h>
#include <vtkPNGWriter.h>
#include <vtkRenderWindow.h>
#include <vtkRenderer.h>
#include <vtkUnsignedCharArray.h>
#include <vtkWindowToImageFilter.h>

#include "viz/vtk/module.hpp"
#include "viz/vtk/paint.hpp"

namespace totebench::viz {

std::string draw(const Picture& picture, std::string& png) {
  std::string error;
  // Beyond it neither the drawing surface nor the packing of the picture holds out.
  constexpr double kMostPixels = 16000;
  const double tall = (picture.high_m.y() - picture.low_m.y()) / picture.metres_per_px();
  if (!(picture.width_px <= kMostPixels && tall <= kMostPixels && tall >= 1)) {
    return fmt::format("it would be {} x {:.0f} pixels large", picture.width_px, tall);
  }
  const int width = picture.width_px, height = picture.height_px();
  const auto offscreen = open_offscreen(width, height, error);
  if (offscreen == nullptr) return error;
  vtkRenderWindow* window = offscreen->window();
  window->SetMultiSamples(8);
  window->SetNumberOfLayers(2);

  vtkNew<vtkRenderer> scene, overlay;
  paint_scene(picture, scene);
  paint_notes(picture, overlay);
  vtkCamera* camera = scene->GetActiveCamera();
  aim(camera, picture);
  overlay->SetActiveCamera(camera);
  overlay->SetLayer(1);
  window->AddRenderer(scene);
  window->AddRenderer(overlay);
  scene->ResetCameraClippingRange();

  window->Render();
  vtkNew<vtkWindowToImageFilter> image;
  image->SetInput(window);
  image->SetInputBufferTypeToRGB();
  image->ReadFrontBufferOff();
  image->ShouldRerenderOff();
  vtkNew<vtkPNGWriter> writer;
  writer->WriteToMemoryOn();
  writer->SetInputConnection(image->GetOutputPort());
  writer->Write();
  if (writer->GetErrorCode() != vtkErrorCode::NoError) {
    return std::string("the picture cannot be packed: ") +
           vtkErrorCode::GetStringFromErrorCode(writer->GetErrorCode());
  }
  vtkUnsignedCharArray* bytes = writer->GetResult();
  png.assign(reinterpret_cast<const char*>(bytes->GetPointer(0)),
             static_cast<std::size_t>(bytes->GetNumberOfValues()));
  return error;
}

}  // namespace totebench::viz
