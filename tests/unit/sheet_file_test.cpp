// Triangle meshes from files.
#include "totebench/scenes/sheet_file.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cstdint>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>
#include <string>

#include "totebench/scenes/build.hpp"
#include "totebench/solver/equilibrium.hpp"

namespace totebench {
namespace {

class SheetFile : public testing::Test {
 protected:
  void SetUp() override {
    folder_ = std::filesystem::temp_directory_path() /
              (std::string("totebench_sheet_file_") +
               testing::UnitTest::GetInstance()->current_test_info()->name());
    std::filesystem::create_directories(folder_);
  }
  void TearDown() override { std::filesystem::remove_all(folder_); }

  std::string write(const std::string& name, const std::string& content) const {
    const auto path = folder_ / name;
    std::ofstream(path, std::ios::binary) << content;
    return path.string();
  }

  static double area_of(const solver::ShellMesh& mesh) {
    double area = 0;
    for (int t = 0; t < mesh.n_triangles(); ++t) area += solver::rest_area(mesh, t);
    return area;
  }

  static std::string message_of(const std::string& path) {
    try {
      (void)scenes::read_sheet_file(path);
    } catch (const std::invalid_argument& error) {
      return error.what();
    }
    return "";
  }

  std::filesystem::path folder_;
};

// A 2 x 1 rectangle with an unused vertex.
constexpr const char* kObj =
    "# comment\nv 0 0 0\nv 9 9 9\nv 2 0 0\nv 2 1 0\nv 0 1 0\nvn 0 0 1\nf 1//1 3//1 4//1 5//1\n";

TEST_F(SheetFile, Obj_QuadBecomesTwoTrianglesAndUnusedVerticesAreDropped) {
  const solver::ShellMesh mesh = scenes::read_sheet_file(write("a.obj", kObj));
  EXPECT_EQ(mesh.n_triangles(), 2);
  EXPECT_EQ(mesh.n_nodes(), 4 + 5);
  EXPECT_NEAR(area_of(mesh), 2, 1e-12);
}

TEST_F(SheetFile, Obj_NegativeIndicesCountFromTheLastVertex) {
  const solver::ShellMesh mesh =
      scenes::read_sheet_file(write("a.obj", "v 0 0 0\nv 1 0 0\nv 0 1 0\nf -3 -2 -1\n"));
  EXPECT_EQ(mesh.n_triangles(), 1);
  EXPECT_NEAR(area_of(mesh), 0.5, 1e-12);
}

TEST_F(SheetFile, TextAndBinaryStl_GiveTheSameJoinedMesh) {
  const std::array<std::array<float, 9>, 2> facets = {
      {{0, 0, 0, 2, 0, 0, 2, 1, 0}, {0, 0, 0, 2, 1, 0, 0, 1, 0}}};
  std::string text = "solid sheet\n";
  std::string binary = "solid but binary";  // the header may say so and still be binary
  binary.resize(80, ' ');
  const std::uint32_t count = 2;
  binary.append(reinterpret_cast<const char*>(&count), 4);
  for (const auto& f : facets) {
    text += "facet normal 0 0 1\nouter loop\n";
    for (int i = 0; i < 3; ++i) {
      text += "vertex " + std::to_string(f[3 * i]) + " " + std::to_string(f[3 * i + 1]) + " " +
              std::to_string(f[3 * i + 2]) + "\n";
    }
    text += "endloop\nendfacet\n";
    const std::array<float, 3> normal = {0, 0, 1};
    binary.append(reinterpret_cast<const char*>(normal.data()), 12);
    binary.append(reinterpret_cast<const char*>(f.data()), 36);
    binary.append(2, '\0');
  }
  text += "endsolid\n";
  const solver::ShellMesh a = scenes::read_sheet_file(write("a.stl", text));
  const solver::ShellMesh b = scenes::read_sheet_file(write("b.STL", binary));
  EXPECT_EQ(a.n_nodes(), 9);
  ASSERT_EQ(b.n_nodes(), 9);
  EXPECT_LT((a.position - b.position).norm(), 1e-12);
  EXPECT_NEAR(area_of(b), 2, 1e-12);
  EXPECT_NE(message_of(write("cut.stl", binary.substr(0, 150))).find("cut short"),
            std::string::npos);
}

TEST_F(SheetFile, BrokenFiles_AreRefusedWithThePlaceAndTheReason) {
  EXPECT_NE(message_of((folder_ / "none.obj").string()).find("no such file"), std::string::npos);
  EXPECT_NE(message_of(write("a.vtp", "")).find("save the mesh as"), std::string::npos);
  EXPECT_NE(message_of(write("b.obj", "v 0 0 0\n")).find("no triangle"), std::string::npos);
  EXPECT_NE(message_of(write("c.obj", "v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 4\n")).find("line 4"),
            std::string::npos);
  EXPECT_NE(message_of(write("d.obj", "v 0 0 0\nv 1 0 0\nv 2 0 0\nf 1 2 3\n")).find("no area"),
            std::string::npos);
  EXPECT_NE(message_of(write("e.obj", "v 0 0 0\nv 1 0 0\nv 0 1 0\nv 1 1 0\nf 1 2 3\nf 2 3 4\n"))
                .find("the other way"),
            std::string::npos);
  EXPECT_NE(message_of(write("f.obj", "v 0 zero 0\n")).find("three numbers"), std::string::npos);
}

// Sag of the middle of a square plate that rests on its four corners under a small even load.
double sag_on_corners(const scenes::SheetGeometry& geometry, double side_m) {
  scenes::Scene scene;
  scene.kind = scenes::SceneKind::kSheet;
  scene.sheet.geometry = geometry;
  scene.sheet.plain = scenes::PlainSection{1e9, 0.3, 1e-3, 0};
  scene.mesh.size_m = 0.02;
  for (const double x : {0.0, side_m}) {
    for (const double y : {0.0, side_m}) {
      scenes::SheetSupport corner;
      corner.point_m = Eigen::Vector3d(x, y, 0);
      corner.fix[0] = y == 0 && x == 0;
      corner.fix[1] = y == 0;
      scene.sheet.supports.push_back(corner);
    }
  }
  scenes::SheetLoad load;
  load.kind = scenes::SheetLoad::Kind::kAreaForce;
  load.vector = {0, 0, -0.1};
  scene.sheet.loads = {load};
  scene.sheet.probes = {{"middle", {side_m / 2, side_m / 2, 0}}};
  const scenes::SheetModel sheet = scenes::build_sheet(scene, materials::MaterialLibrary());
  solver::State state = solver::start_state(sheet.model);
  const solver::SolveReport report = solver::find_equilibrium(sheet.model, 1, state);
  EXPECT_EQ(report.status, solver::SolveStatus::kConverged);
  EXPECT_NEAR(report.reaction_N.z(), 0.1 * side_m * side_m, 1e-6 * 0.1 * side_m * side_m);
  return -state.x(2, sheet.probe_nodes[0]);
}

// Points hold the mesh of a file as they hold that of a shape: the two meshes agree to 1 %.
TEST_F(SheetFile, IsHeldAtPoints) {
  constexpr double kSide = 0.2;
  constexpr int kCells = 8;
  std::ostringstream obj;
  for (int j = 0; j <= kCells; ++j) {
    for (int i = 0; i <= kCells; ++i) {
      obj << "v " << kSide * i / kCells << " " << kSide * j / kCells << " 0\n";
    }
  }
  for (int j = 0; j < kCells; ++j) {
    for (int i = 0; i < kCells; ++i) {
      const int at = j * (kCells + 1) + i + 1;
      obj << "f " << at << " " << at + 1 << " " << at + kCells + 2 << " " << at + kCells + 1
          << "\n";
    }
  }
  scenes::SheetGeometry of_file;
  of_file.shape = scenes::SheetShape::kFile;
  of_file.file = write("plate.obj", obj.str());
  scenes::SheetGeometry rectangle;
  rectangle.length_m = rectangle.width_m = kSide;
  const double sag = sag_on_corners(rectangle, kSide);
  EXPECT_GT(sag, 0);
  EXPECT_NEAR(sag_on_corners(of_file, kSide), sag, 0.01 * sag);
}

}  // namespace
}  // namespace totebench
