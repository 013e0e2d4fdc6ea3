#include <vtkCellArray.h>
#include <vtkErrorCode.h>
#include <vtkIdList.h>
#include <vtkNew.h>
#include <vtkObject.h>
#include <vtkPolyData.h>
#include <vtkTriangleFilter.h>
#include <vtkXMLPolyDataReader.h>

#include "viz/vtk/module.hpp"

namespace totebench::viz {

namespace {

// A file can name points it does not have.
bool corners_exist(vtkPolyData* mesh) {
  vtkCellArray* polygons = mesh->GetPolys();
  vtkNew<vtkIdList> corners;
  for (vtkIdType i = 0; i < polygons->GetNumberOfCells(); ++i) {
    polygons->GetCellAtId(i, corners);
    for (vtkIdType k = 0; k < corners->GetNumberOfIds(); ++k) {
      const vtkIdType id = corners->GetId(k);
      if (id < 0 || id >= mesh->GetNumberOfPoints()) return false;
    }
  }
  return true;
}

}  // namespace

std::string read_faces(const std::string& path, scenes::FlatFaces& faces) {
  vtkNew<vtkXMLPolyDataReader> reader;
  reader->SetFileName(path.c_str());
  vtkNew<vtkTriangleFilter> triangles;
  triangles->PassVertsOff();
  triangles->PassLinesOff();
  const int warnings = vtkObject::GetGlobalWarningDisplay();
  vtkObject::GlobalWarningDisplayOff();
  reader->Update();
  const bool readable = reader->GetErrorCode() == vtkErrorCode::NoError &&
                        reader->GetOutput()->GetNumberOfPolys() > 0 &&
                        corners_exist(reader->GetOutput());
  vtkNew<vtkPolyData> polygons;  // without strips, lines and points
  if (readable) {
    polygons->SetPoints(reader->GetOutput()->GetPoints());
    polygons->SetPolys(reader->GetOutput()->GetPolys());
    triangles->SetInputData(polygons);
    triangles->Update();
  }
  vtkObject::SetGlobalWarningDisplay(warnings);
  vtkPolyData* mesh = triangles->GetOutput();
  if (!readable || mesh->GetNumberOfPolys() == 0) {
    return path + ": this is not a .vtp file with polygons in it";
  }
  faces = {};
  for (vtkIdType i = 0; i < mesh->GetNumberOfPoints(); ++i) {
    faces.points.emplace_back(mesh->GetPoint(i));
  }
  vtkNew<vtkIdList> corner;
  for (vtkIdType i = 0; i < mesh->GetNumberOfCells(); ++i) {
    mesh->GetCellPoints(i, corner);
    faces.corners.push_back({static_cast<int>(corner->GetId(0)), static_cast<int>(corner->GetId(1)),
                             static_cast<int>(corner->GetId(2))});
  }
  return "";
}

}  // namespace totebench::viz
