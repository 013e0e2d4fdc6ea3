#include <vtkErrorCode.h>
#include <vtkIdList.h>
#include <vtkNew.h>
#include <vtkObject.h>
#include <vtkPolyData.h>
#include <vtkTriangleFilter.h>
#include <vtkXMLPolyDataReader.h>

#include "viz/vtk/module.hpp"

namespace totebench {

std::string read_faces(const std::string& path, FlatFaces& faces) {
  vtkNew<vtkXMLPolyDataReader> reader;
  reader->SetFileName(path.c_str());
  vtkNew<vtkTriangleFilter> triangles;
  triangles->SetInputConnection(reader->GetOutputPort());
  triangles->PassVertsOff();
  triangles->PassLinesOff();
  const int warnings = vtkObject::GetGlobalWarningDisplay();
  vtkObject::GlobalWarningDisplayOff();
  triangles->Update();
  vtkObject::SetGlobalWarningDisplay(warnings);
  vtkPolyData* mesh = triangles->GetOutput();
  if (reader->GetErrorCode() != vtkErrorCode::NoError || mesh->GetNumberOfPolys() == 0) {
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

}  // namespace totebench
