#include "viz/vtk/paint.hpp"

#include <vtkActor.h>
#include <vtkArrowSource.h>
#include <vtkCamera.h>
#include <vtkCellArray.h>
#include <vtkDoubleArray.h>
#include <vtkGlyph3D.h>
#include <vtkLight.h>
#include <vtkLookupTable.h>
#include <vtkNew.h>
#include <vtkPointData.h>
#include <vtkPoints.h>
#include <vtkPolyData.h>
#include <vtkPolyDataMapper.h>
#include <vtkPolyDataNormals.h>
#include <vtkPolyLine.h>
#include <vtkProperty.h>
#include <vtkRenderer.h>
#include <vtkTextActor.h>
#include <vtkTextProperty.h>

#include <filesystem>

#include "viz/vtk/module.hpp"

namespace totebench::viz {
namespace {

vtkNew<vtkLookupTable> lookup_table(double low, double high) {
  vtkNew<vtkLookupTable> table;
  table->SetNumberOfTableValues(256);
  for (int i = 0; i < 256; ++i) {
    const Colour c = map_colour(i / 255.0);
    table->SetTableValue(i, c[0], c[1], c[2], 1.0);
  }
  table->SetRange(low, high);
  return table;
}

void add_surface(const DrawnSurface& surface, const ColourBar& bar, vtkRenderer* scene) {
  vtkNew<vtkPolyData> mesh;
  mesh->SetPoints(points_of(surface.points));
  vtkNew<vtkCellArray> cells;
  for (const auto& triangle : surface.triangles) {
    const vtkIdType corner[3] = {triangle[0], triangle[1], triangle[2]};
    cells->InsertNextCell(3, corner);
  }
  mesh->SetPolys(cells);
  if (!surface.value.empty()) {
    vtkNew<vtkDoubleArray> values;
    values->SetNumberOfTuples(static_cast<vtkIdType>(surface.value.size()));
    for (std::size_t i = 0; i < surface.value.size(); ++i) {
      values->SetValue(static_cast<vtkIdType>(i), surface.value[i]);
    }
    mesh->GetPointData()->SetScalars(values);
  }
  vtkNew<vtkPolyDataNormals> smooth;  // shades soft folds softly and keeps creases sharp
  smooth->SetInputData(mesh);
  smooth->SetFeatureAngle(50);
  smooth->ConsistencyOff();
  vtkNew<vtkPolyDataMapper> mapper;
  mapper->SetInputConnection(smooth->GetOutputPort());
  mapper->SetScalarVisibility(!surface.value.empty());
  if (!surface.value.empty()) {
    mapper->SetLookupTable(lookup_table(bar.low, bar.high));
    mapper->SetUseLookupTableScalarRange(true);
    mapper->SetInterpolateScalarsBeforeMapping(true);
  }
  vtkNew<vtkActor> actor;
  actor->SetMapper(mapper);
  vtkProperty* look = actor->GetProperty();
  look->SetColor(surface.colour[0], surface.colour[1], surface.colour[2]);
  // Coloured cloth is shaded less, so that its colours can be compared with the bar.
  look->SetAmbient(surface.value.empty() ? 0.38 : 0.55);
  look->SetDiffuse(surface.value.empty() ? 0.72 : 0.50);
  look->SetSpecular(0.0);
  scene->AddActor(actor);
}

void add_lines(const DrawnLines& lines, vtkRenderer* scene) {
  vtkNew<vtkPoints> points;
  points->SetDataTypeToDouble();
  vtkNew<vtkCellArray> cells;
  for (const Eigen::Matrix3Xd& polyline : lines.polylines) {
    cells->InsertNextCell(static_cast<int>(polyline.cols()));
    for (Eigen::Index i = 0; i < polyline.cols(); ++i) {
      cells->InsertCellPoint(points->InsertNextPoint(polyline.col(i).data()));
    }
  }
  vtkNew<vtkPolyData> data;
  data->SetPoints(points);
  data->SetLines(cells);
  vtkNew<vtkPolyDataMapper> mapper;
  mapper->SetInputData(data);
  // Lines lie exactly on surfaces: pull them a little nearer so that they are not half buried.
  mapper->SetRelativeCoincidentTopologyLineOffsetParameters(0, -6);
  vtkNew<vtkActor> actor;
  actor->SetMapper(mapper);
  actor->GetProperty()->SetColor(lines.colour[0], lines.colour[1], lines.colour[2]);
  actor->GetProperty()->SetLineWidth(static_cast<float>(lines.width_px));
  actor->GetProperty()->LightingOff();
  scene->AddActor(actor);
}

void add_arrows(const DrawnArrows& arrows, vtkRenderer* scene) {
  if (arrows.from.cols() == 0) return;
  vtkNew<vtkPolyData> data;
  data->SetPoints(points_of(arrows.from));
  vtkNew<vtkDoubleArray> vectors;
  vectors->SetNumberOfComponents(3);
  for (Eigen::Index i = 0; i < arrows.vector.cols(); ++i) {
    vectors->InsertNextTuple(arrows.vector.col(i).data());
  }
  data->GetPointData()->SetVectors(vectors);
  vtkNew<vtkArrowSource> shape;
  shape->SetTipLength(0.4);
  shape->SetTipRadius(0.14);
  shape->SetShaftRadius(0.045);
  shape->SetTipResolution(12);
  shape->SetShaftResolution(8);
  vtkNew<vtkGlyph3D> glyphs;
  glyphs->SetInputData(data);
  glyphs->SetSourceConnection(shape->GetOutputPort());
  glyphs->SetVectorModeToUseVector();
  glyphs->SetScaleModeToScaleByVector();
  glyphs->SetColorModeToColorByScale();
  vtkNew<vtkPolyDataMapper> mapper;
  mapper->SetInputConnection(glyphs->GetOutputPort());
  mapper->ScalarVisibilityOff();
  vtkNew<vtkActor> actor;
  actor->SetMapper(mapper);
  actor->GetProperty()->SetColor(arrows.colour[0], arrows.colour[1], arrows.colour[2]);
  actor->GetProperty()->SetAmbient(0.6);
  actor->GetProperty()->SetDiffuse(0.4);
  scene->AddActor(actor);
}

// The face built into VTK differs from system to system; a plain one is on nearly all.
const char* font_file(bool bold) {
  static const char* const kFiles[][2] = {
      {"/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf",
       "/usr/share/fonts/truetype/dejavu/DejaVuSans-Bold.ttf"},
      {"/usr/share/fonts/truetype/liberation/LiberationSans-Regular.ttf",
       "/usr/share/fonts/truetype/liberation/LiberationSans-Bold.ttf"}};
  for (const auto& pair : kFiles) {
    if (std::filesystem::exists(pair[bold ? 1 : 0])) return pair[bold ? 1 : 0];
  }
  return nullptr;
}

// Text by pixel position: letters keep their size whatever the scale of the picture.
void add_text(const DrawnText& text, const Picture& picture, vtkRenderer* scene) {
  vtkNew<vtkTextActor> actor;
  actor->SetInput(text.text.c_str());
  const Eigen::Vector2d at = (picture.view.flat(text.at) - picture.low_m) / picture.metres_per_px();
  actor->GetPositionCoordinate()->SetCoordinateSystemToDisplay();
  actor->SetPosition(at.x(), at.y());
  vtkTextProperty* look = actor->GetTextProperty();
  if (const char* file = font_file(text.bold)) {
    look->SetFontFamily(VTK_FONT_FILE);
    look->SetFontFile(file);
  } else {
    look->SetFontFamilyToArial();
    look->SetBold(text.bold);
  }
  look->SetFontSize(text.size_px);
  look->SetColor(text.colour[0], text.colour[1], text.colour[2]);
  look->SetLineSpacing(1.15);
  look->SetJustification(text.horizontal < 0    ? VTK_TEXT_LEFT
                         : text.horizontal == 0 ? VTK_TEXT_CENTERED
                                                : VTK_TEXT_RIGHT);
  look->SetVerticalJustification(text.vertical < 0    ? VTK_TEXT_BOTTOM
                                 : text.vertical == 0 ? VTK_TEXT_CENTERED
                                                      : VTK_TEXT_TOP);
  scene->AddActor2D(actor);
}

// The bar is a strip of coloured quads in the scene itself: its size, ticks and lettering are then
// placed like everything else (VTK's own bar scales its text by rules of its own).
void add_colour_strip(const Picture& picture, vtkRenderer* scene) {
  constexpr int kSteps = 128;
  DrawnSurface strip;
  strip.points.resize(3, 2 * (kSteps + 1));
  const ColourBar& bar = picture.bar;
  for (int i = 0; i <= kSteps; ++i) {
    const double v = bar.corner_m.y() + bar.size_m.y() * i / kSteps;
    strip.points.col(2 * i) = picture.view.space(bar.corner_m.x(), v);
    strip.points.col(2 * i + 1) = picture.view.space(bar.corner_m.x() + bar.size_m.x(), v);
    const double value = bar.low + (bar.high - bar.low) * i / kSteps;
    strip.value.insert(strip.value.end(), {value, value});
    if (i == kSteps) break;
    strip.triangles.push_back({2 * i, 2 * i + 1, 2 * i + 3});
    strip.triangles.push_back({2 * i, 2 * i + 3, 2 * i + 2});
  }
  add_surface(strip, bar, scene);
  // No shading: the strip must show the map's own colours.
  vtkActor* actor = scene->GetActors()->GetLastActor();
  actor->GetProperty()->LightingOff();
}

void add_lights(const View& view, vtkRenderer* scene) {
  scene->RemoveAllLights();
  scene->SetAutomaticLightCreation(false);
  const auto add = [&](double right, double up, double near, double strength) {
    vtkNew<vtkLight> light;
    light->SetLightTypeToSceneLight();
    const Eigen::Vector3d from = right * view.right + up * view.up + near * view.towards_viewer;
    light->SetPosition(from.x(), from.y(), from.z());
    light->SetFocalPoint(0, 0, 0);
    light->SetPositional(false);
    light->SetIntensity(strength);
    scene->AddLight(light);
  };
  add(-0.6, 0.8, 1.2, 0.85);  // key, from the upper left
  add(0.9, 0.1, 0.8, 0.35);   // fill
  add(0.0, -1.0, 0.5, 0.18);  // from below, so that the base is not black
}

}  // namespace

void paint_scene(const Picture& picture, vtkRenderer* scene) {
  scene->SetBackground(1, 1, 1);
  add_lights(picture.view, scene);
  for (const DrawnSurface& surface : picture.surfaces) add_surface(surface, picture.bar, scene);
  for (const DrawnArrows& arrows : picture.arrows) add_arrows(arrows, scene);
  for (const DrawnLines& lines : picture.lines) {
    if (!lines.on_top) add_lines(lines, scene);
  }
  vtkMapper::SetResolveCoincidentTopologyToPolygonOffset();
}

void paint_notes(const Picture& picture, vtkRenderer* overlay) {
  for (const DrawnLines& lines : picture.lines) {
    if (lines.on_top) add_lines(lines, overlay);
  }
  if (picture.bar.shown) add_colour_strip(picture, overlay);
  for (const DrawnText& text : picture.texts) add_text(text, picture, overlay);
}

void aim(vtkCamera* camera, const Picture& picture) {
  camera->ParallelProjectionOn();
  camera->SetParallelScale(0.5 * picture.height_px() * picture.metres_per_px());
  const Eigen::Vector2d middle = 0.5 * (picture.low_m + picture.high_m);
  const Eigen::Vector3d focus = picture.view.space(middle.x(), middle.y());
  const Eigen::Vector3d eye = focus + 10 * picture.view.towards_viewer;
  camera->SetFocalPoint(focus.x(), focus.y(), focus.z());
  camera->SetPosition(eye.x(), eye.y(), eye.z());
  camera->SetViewUp(picture.view.up.x(), picture.view.up.y(), picture.view.up.z());
}

}  // namespace totebench::viz
