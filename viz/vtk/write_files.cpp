#include <vtkCellArray.h>
#include <vtkCellData.h>
#include <vtkDataSetAttributes.h>
#include <vtkDoubleArray.h>
#include <vtkErrorCode.h>
#include <vtkFieldData.h>
#include <vtkIntArray.h>
#include <vtkNew.h>
#include <vtkObject.h>
#include <vtkPointData.h>
#include <vtkPoints.h>
#include <vtkPolyData.h>
#include <vtkStringArray.h>
#include <vtkUnstructuredGrid.h>
#include <vtkXMLPolyDataWriter.h>
#include <vtkXMLUnstructuredGridWriter.h>

#include "viz/vtk/module.hpp"

namespace totebench::viz {
vtkSmartPointer<vtkPoints> points_of(const Eigen::Matrix3Xd& positions) {
  const auto points = vtkSmartPointer<vtkPoints>::New();
  points->SetDataTypeToDouble();
  points->SetNumberOfPoints(positions.cols());
  for (Eigen::Index i = 0; i < positions.cols(); ++i) points->SetPoint(i, positions.col(i).data());
  return points;
}

namespace {

void add_arrays(const std::vector<NamedArray>& arrays, vtkDataSetAttributes* attributes) {
  for (const NamedArray& source : arrays) {
    vtkNew<vtkDoubleArray> array;
    array->SetName(source.name.c_str());
    array->SetNumberOfComponents(static_cast<int>(source.values.rows()));
    array->SetNumberOfTuples(source.values.cols());
    for (std::size_t c = 0; c < source.component_names.size(); ++c) {
      array->SetComponentName(static_cast<vtkIdType>(c), source.component_names[c].c_str());
    }
    for (Eigen::Index i = 0; i < source.values.cols(); ++i) {
      array->SetTuple(i, source.values.col(i).data());
    }
    attributes->AddArray(array);
  }
}

void add_label_names(const std::vector<std::pair<std::string, std::vector<std::string>>>& labels,
                     vtkFieldData* field) {
  for (const auto& [name, texts] : labels) {
    vtkNew<vtkStringArray> array;
    array->SetName(name.c_str());
    for (const std::string& text : texts) array->InsertNextValue(text);
    field->AddArray(array);
  }
}

template <class Writer>
std::string write(Writer* writer, const std::string& path) {
  // VTK would print to the terminal; the caller says it in its own words.
  const int warnings = vtkObject::GetGlobalWarningDisplay();
  vtkObject::GlobalWarningDisplayOff();
  writer->SetFileName(path.c_str());
  writer->SetDataModeToAppended();
  writer->EncodeAppendedDataOff();
  writer->SetCompressorTypeToZLib();
  const bool done = writer->Write() == 1 && writer->GetErrorCode() == vtkErrorCode::NoError;
  vtkObject::SetGlobalWarningDisplay(warnings);
  if (done) return "";
  return "cannot write " + path + ": " +
         vtkErrorCode::GetStringFromErrorCode(writer->GetErrorCode());
}

}  // namespace

std::string write_surface(const SurfaceData& data, const std::string& path) {
  vtkNew<vtkUnstructuredGrid> grid;
  grid->SetPoints(points_of(data.points));
  grid->Allocate(static_cast<vtkIdType>(data.triangles.size()));
  for (const auto& triangle : data.triangles) {
    vtkIdType node[6];
    for (int i = 0; i < 6; ++i) node[i] = triangle[static_cast<std::size_t>(i)];
    grid->InsertNextCell(VTK_QUADRATIC_TRIANGLE, 6, node);
  }
  add_arrays(data.point_arrays, grid->GetPointData());
  add_arrays(data.cell_arrays, grid->GetCellData());
  add_label_names(data.label_names, grid->GetFieldData());
  vtkNew<vtkXMLUnstructuredGridWriter> writer;
  writer->SetInputData(grid);
  return write(writer.Get(), path);
}

std::string write_points(const PointCloudData& data, const std::string& path) {
  vtkNew<vtkPolyData> cloud;
  cloud->SetPoints(points_of(data.points));
  vtkNew<vtkCellArray> vertices;  // viewers show points only when a cell stands on each
  for (vtkIdType i = 0; i < data.points.cols(); ++i) vertices->InsertNextCell(1, &i);
  cloud->SetVerts(vertices);
  add_arrays(data.arrays, cloud->GetPointData());
  add_label_names(data.label_names, cloud->GetFieldData());
  vtkNew<vtkXMLPolyDataWriter> writer;
  writer->SetInputData(cloud);
  return write(writer.Get(), path);
}

}  // namespace totebench::viz
