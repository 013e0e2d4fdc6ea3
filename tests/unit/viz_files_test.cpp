// What the drawing module writes, read back by VTK's own readers.
#include <gtest/gtest.h>
#include <vtkCellData.h>
#include <vtkDataArray.h>
#include <vtkFieldData.h>
#include <vtkImageData.h>
#include <vtkNew.h>
#include <vtkPNGReader.h>
#include <vtkPointData.h>
#include <vtkPolyData.h>
#include <vtkStringArray.h>
#include <vtkUnstructuredGrid.h>
#include <vtkXMLPolyDataReader.h>
#include <vtkXMLUnstructuredGridReader.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <set>

#include "tests/unit/viz_sample.hpp"
#include "totebench/scenes/sheet_file.hpp"
#include "totebench/viz/fields.hpp"
#include "totebench/viz/surface_file.hpp"
#include "totebench/viz/vtk_module.hpp"
#include "viz/pictures/tote_picture.hpp"

namespace totebench {
namespace {

namespace fs = std::filesystem;

class VizFiles : public testing::Test {
 protected:
  void SetUp() override {
    std::string error;
    vtk_ = viz::vtk_module(error);
    ASSERT_NE(vtk_, nullptr) << error;
    folder_ = fs::path(testing::TempDir()) /
              ("totebench_viz_" +
               std::string(testing::UnitTest::GetInstance()->current_test_info()->name()));
    fs::remove_all(folder_);
    fs::create_directories(folder_);
  }
  void TearDown() override { fs::remove_all(folder_); }
  [[nodiscard]] std::string path(const std::string& name) const { return folder_ / name; }

  viz::Picture sample_picture() const {
    const viz::ShownField force =
        viz::shown_field(viz::BagField::kForce, sample_.tote, {}, sample_.fields, 1, "cm");
    return viz::tote_picture({sample_.tote, sample_.empty_x_m, sample_.loaded_x_m, force,
                              sample_.stitch_forces_N, "cm", "with 8 kg", 0.0265, 0.011, 0.272,
                              0.273, true});
  }

  // The picture as a file; what went wrong, or "".
  std::string draw(const viz::Picture& picture, const std::string& file) const {
    std::string png;
    std::string problem = vtk_->draw(picture, png);
    if (problem.empty()) std::ofstream(file, std::ios::binary) << png;
    return problem;
  }

  const viz::VtkModule* vtk_ = nullptr;
  fs::path folder_;
  const sample::SampleTote sample_ = sample::make_sample();
};

void expect_array(vtkFieldData* where, const viz::NamedArray& expected) {
  vtkDataArray* array = where->GetArray(expected.name.c_str());
  ASSERT_NE(array, nullptr) << expected.name;
  ASSERT_EQ(array->GetNumberOfComponents(), expected.values.rows());
  ASSERT_EQ(array->GetNumberOfTuples(), expected.values.cols());
  for (Eigen::Index i = 0; i < expected.values.cols(); ++i) {
    for (Eigen::Index c = 0; c < expected.values.rows(); ++c) {
      ASSERT_EQ(array->GetComponent(i, static_cast<int>(c)), expected.values(c, i))
          << expected.name;
    }
  }
  for (std::size_t c = 0; c < expected.component_names.size(); ++c) {
    EXPECT_EQ(array->GetComponentName(static_cast<vtkIdType>(c)), expected.component_names[c]);
  }
}

TEST_F(VizFiles, SurfaceReadsBackAsWritten) {
  const viz::SurfaceData data =
      viz::tote_data(sample_.tote, sample_.loaded_x_m, sample_.empty_x_m, sample_.fields);
  ASSERT_EQ(vtk_->write_surface(data, path("a.vtu")), "");
  vtkNew<vtkXMLUnstructuredGridReader> reader;
  reader->SetFileName(path("a.vtu").c_str());
  reader->Update();
  vtkUnstructuredGrid* grid = reader->GetOutput();
  ASSERT_EQ(grid->GetNumberOfPoints(), data.points.cols());
  ASSERT_EQ(grid->GetNumberOfCells(), static_cast<vtkIdType>(data.triangles.size()));
  for (vtkIdType i = 0; i < grid->GetNumberOfPoints(); ++i) {
    ASSERT_EQ(Eigen::Map<const Eigen::Vector3d>(grid->GetPoint(i)), data.points.col(i));
  }
  for (vtkIdType t = 0; t < grid->GetNumberOfCells(); ++t) {
    ASSERT_EQ(grid->GetCellType(t), VTK_QUADRATIC_TRIANGLE);
    vtkIdType count = 0;
    const vtkIdType* node = nullptr;
    grid->GetCellPoints(t, count, node);
    ASSERT_EQ(count, 6);
    for (int i = 0; i < 6; ++i) {
      ASSERT_EQ(node[i], data.triangles[static_cast<std::size_t>(t)][static_cast<std::size_t>(i)]);
    }
  }
  for (const viz::NamedArray& array : data.point_arrays) expect_array(grid->GetPointData(), array);
  for (const viz::NamedArray& array : data.cell_arrays) expect_array(grid->GetCellData(), array);
  const auto* parts =
      vtkStringArray::SafeDownCast(grid->GetFieldData()->GetAbstractArray("part_names"));
  ASSERT_NE(parts, nullptr);
}

TEST_F(VizFiles, SurfaceHasTheFieldsThatWerePromised) {
  const viz::SurfaceData data =
      viz::tote_data(sample_.tote, sample_.loaded_x_m, sample_.empty_x_m, sample_.fields);
  std::set<std::string> names;
  for (const viz::NamedArray& array : data.point_arrays) names.insert(array.name);
  for (const viz::NamedArray& array : data.cell_arrays) names.insert(array.name);
  for (const char* name :
       {"displacement_m", "membrane_force_N_per_m", "membrane_force_largest_N_per_m",
        "membrane_force_smallest_N_per_m", "membrane_force_largest_direction",
        "membrane_force_smallest_direction", "bending_moment_N", "membrane_strain",
        "curvature_per_m", "thickness_m", "region", "part", "utilisation"}) {
    EXPECT_EQ(names.count(name), 1u) << name;
  }
}

TEST_F(VizFiles, StitchesReadBackAsWritten) {
  const viz::PointCloudData data =
      viz::stitch_data(sample_.tote, sample_.loaded_x_m, sample_.stitch_forces_N);
  ASSERT_EQ(vtk_->write_points(data, path("s.vtp")), "");
  vtkNew<vtkXMLPolyDataReader> reader;
  reader->SetFileName(path("s.vtp").c_str());
  reader->Update();
  vtkPolyData* cloud = reader->GetOutput();
  ASSERT_EQ(cloud->GetNumberOfPoints(), 24);
  EXPECT_EQ(cloud->GetNumberOfVerts(), 24);
  for (const viz::NamedArray& array : data.arrays) expect_array(cloud->GetPointData(), array);
  auto* names =
      vtkStringArray::SafeDownCast(cloud->GetFieldData()->GetAbstractArray("attachment_names"));
  ASSERT_NE(names, nullptr);
  EXPECT_EQ(names->GetValue(0), "front left");
}

TEST_F(VizFiles, AnUnwritablePathIsReportedNotPrinted) {
  const viz::SurfaceData data =
      viz::tote_data(sample_.tote, sample_.loaded_x_m, sample_.empty_x_m, sample_.fields);
  testing::internal::CaptureStderr();
  const std::string problem = vtk_->write_surface(data, path("no/such/folder/a.vtu"));
  EXPECT_NE(problem.find("cannot write"), std::string::npos);
  EXPECT_EQ(testing::internal::GetCapturedStderr(), "");
}

// Share of pixels that are not the white ground, and how many colours there are.
struct Look {
  int width = 0, height = 0;
  double drawn = 0;
  std::size_t colours = 0;
};

Look look_at(const std::string& path) {
  vtkNew<vtkPNGReader> reader;
  reader->SetFileName(path.c_str());
  reader->Update();
  vtkImageData* image = reader->GetOutput();
  const int* size = image->GetDimensions();
  Look look{size[0], size[1], 0, 0};
  std::set<int> colours;
  long drawn = 0;
  const auto* pixel = static_cast<unsigned char*>(image->GetScalarPointer());
  for (long i = 0; i < long(size[0]) * size[1]; ++i, pixel += 3) {
    drawn += pixel[0] < 250 || pixel[1] < 250 || pixel[2] < 250 ? 1 : 0;
    colours.insert(pixel[0] << 16 | pixel[1] << 8 | pixel[2]);
  }
  look.drawn = double(drawn) / (double(size[0]) * size[1]);
  look.colours = colours.size();
  return look;
}

TEST_F(VizFiles, ThePictureHasItsSizeAndIsNotBlank) {
  const viz::Picture picture = sample_picture();
  const std::string problem = draw(picture, path("tote.png"));
  if (problem.find("no way to draw") != std::string::npos) GTEST_SKIP() << problem;
  ASSERT_EQ(problem, "");
  const Look look = look_at(path("tote.png"));
  EXPECT_EQ(look.width, picture.width_px);
  EXPECT_EQ(look.height, picture.height_px());
  // Two bags cover about a quarter of it; a blank or a filled picture would be far off.
  EXPECT_GT(look.drawn, 0.12);
  EXPECT_LT(look.drawn, 0.5);
  EXPECT_GT(look.colours, 500u);
}

TEST_F(VizFiles, WithoutEglTheSamePictureComesFromXvfb) {
  if (std::system("command -v Xvfb >/dev/null 2>&1") != 0) GTEST_SKIP() << "no Xvfb here";
  const viz::Picture picture = sample_picture();
  ASSERT_EQ(setenv("TOTEBENCH_OFFSCREEN", "xvfb", 1), 0);
  const std::string problem = draw(picture, path("x.png"));
  unsetenv("TOTEBENCH_OFFSCREEN");
  ASSERT_EQ(problem, "");
  const Look by_x = look_at(path("x.png"));
  EXPECT_EQ(by_x.width, picture.width_px);
  EXPECT_EQ(by_x.height, picture.height_px());
  EXPECT_GT(by_x.drawn, 0.12);
  EXPECT_LT(by_x.drawn, 0.5);
}

// A square of one polygon over a triangle, in the plain-text form of the format.
constexpr const char* kFaces =
    "<VTKFile type=\"PolyData\" version=\"1.0\" byte_order=\"LittleEndian\"><PolyData>"
    "<Piece NumberOfPoints=\"5\" NumberOfPolys=\"2\"><Points><DataArray type=\"Float64\" "
    "NumberOfComponents=\"3\" format=\"ascii\">0 0 0 2 0 0 2 1 0 0 1 0 1 2 0</DataArray></Points>"
    "<Polys><DataArray type=\"Int32\" Name=\"connectivity\" format=\"ascii\">0 1 2 3 3 2 "
    "4</DataArray>"
    "<DataArray type=\"Int32\" Name=\"offsets\" format=\"ascii\">4 7</DataArray></Polys></Piece>"
    "</PolyData></VTKFile>";

TEST_F(VizFiles, FacesOfAVtpFileBecomeTheShapeOfASheet) {
  scenes::Scene scene;
  scene.kind = scenes::SceneKind::kSheet;
  scene.sheet.geometry.shape = scenes::SheetShape::kFile;
  scene.sheet.geometry.file = path("faces.vtp");
  std::ofstream(scene.sheet.geometry.file) << kFaces;
  ASSERT_EQ(viz::read_surface_file(scene), "");
  const solver::ShellMesh mesh = scenes::sheet_of_faces(scene.sheet.geometry.faces, "faces.vtp");
  ASSERT_EQ(mesh.n_triangles(), 3);
  double area = 0;
  for (int t = 0; t < 3; ++t) area += solver::rest_area(mesh, t);
  EXPECT_NEAR(area, 3, 1e-12);
}

// Room for what a file claims is taken before any of it is read: a claim is checked first.
TEST_F(VizFiles, AVtpFileThatClaimsTooMuchIsRefused) {
  scenes::Scene scene;
  scene.kind = scenes::SceneKind::kSheet;
  scene.sheet.geometry.shape = scenes::SheetShape::kFile;
  scene.sheet.geometry.file = path("faces.vtp");
  for (const char* what : {"NumberOfPoints", "NumberOfPolys"}) {
    std::string content = kFaces;
    const std::size_t number = content.find('"', content.find(what)) + 1;
    content.replace(number, content.find('"', number) - number, "1000000000000");
    std::ofstream(scene.sheet.geometry.file) << content;
    const std::string problem = viz::read_surface_file(scene);
    EXPECT_NE(problem.find("faces.vtp says that it has 1e+12"), std::string::npos) << problem;
  }
}

// Neither drawn nor packed: the library that packs it would complain on its own.
TEST_F(VizFiles, APictureTooTallIsRefusedInOneSentence) {
  viz::Picture picture = sample_picture();
  picture.high_m.y() += 1000 * (picture.high_m.x() - picture.low_m.x());
  testing::internal::CaptureStderr();
  const std::string problem = draw(picture, path("tall.png"));
  EXPECT_EQ(testing::internal::GetCapturedStderr(), "");
  EXPECT_NE(problem.find("pixels large"), std::string::npos) << problem;
}

TEST_F(VizFiles, AVtpFileWithoutFacesIsRefusedByName) {
  scenes::Scene scene;
  scene.kind = scenes::SceneKind::kSheet;
  scene.sheet.geometry.shape = scenes::SheetShape::kFile;
  scene.sheet.geometry.file = path("faces.vtp");
  for (const std::string& content : {std::string("not xml"), std::string(kFaces, 200)}) {
    std::ofstream(scene.sheet.geometry.file) << content;
    EXPECT_NE(viz::read_surface_file(scene).find("faces.vtp"), std::string::npos);
  }
}

}  // namespace
}  // namespace totebench
