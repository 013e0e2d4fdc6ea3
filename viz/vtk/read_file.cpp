#include <fmt/format.h>
#include <vtkCellArray.h>
#include <vtkErrorCode.h>
#include <vtkIdList.h>
#include <vtkNew.h>
#include <vtkObject.h>
#include <vtkPolyData.h>
#include <vtkTriangleFilter.h>
#include <vtkXMLPolyDataReader.h>

#include <cstdlib>
#include <fstream>
#include <iterator>

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

std::string read_small(const std::string& path, scenes::FlatFaces& faces) {
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

// What the file announces of one kind: room for it is taken before any of it is read.
double announced(const std::string& content, const std::string& attribute) {
  double sum = 0;
  for (std::size_t at = content.find(attribute); at != std::string::npos;
       at = content.find(attribute, at + 1)) {
    const std::size_t quote = at + attribute.size();
    if (content.compare(quote, 1, "\"") != 0) continue;
    sum += std::strtod(content.c_str() + quote + 1, nullptr);
  }
  return sum;
}

std::string too_large(const std::string& path) {
  constexpr double kMost = 1e7;
  std::ifstream file(path, std::ios::binary);
  const std::string content(std::istreambuf_iterator<char>(file), {});
  for (const char* what : {"Points", "Verts", "Lines", "Strips", "Polys"}) {
    const double n = announced(content, std::string("NumberOf") + what + "=");
    if (n > kMost) {
      return fmt::format("{} says that it has {:.3g} {}, more than the {:.0e} that are read", path,
                         n, what, kMost);
    }
  }
  return "";
}

}  // namespace

std::string read_faces(const std::string& path, scenes::FlatFaces& faces) {
  const std::string problem = too_large(path);
  return problem.empty() ? read_small(path, faces) : problem;
}

}  // namespace totebench::viz
