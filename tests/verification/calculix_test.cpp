// The same meshes, sections, loads and supports solved by an independent general-purpose program,
// CalculiX (ccx), through its open input format. Its shells are solids of wedges, with shear and
// normal strain across the thickness: nothing of our formulation is in it. Skipped where ccx is not
// installed, and in continuous integration.
//
// Ours        see the table "Another program" of the verification book
// Tolerance   3 %; and each program may differ from itself on a finer mesh by 1 %
// Not covered straps, stitches, contents; folds between panels (ccx's shells of wedges do not
// settle to
//             1 % there on meshes of a bearable size)
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "book_picture.hpp"
#include "sheet_case.hpp"

namespace totebench::verification {
namespace {

namespace fs = std::filesystem;

bool ccx_is_there() {
  return std::getenv("CI") == nullptr && std::system("command -v ccx > /dev/null 2>&1") == 0;
}

struct Solid {  // one ply, principal axes along x and y of its sheet
  double e1 = 0, e2 = 0, nu12 = 0, g12 = 0, g13 = 0;
  double thickness = 0;
};

struct Ask {
  int node = 0;  // whose displacement is wanted
  std::vector<int> supports;
};

struct Answer {
  Eigen::Vector3d displacement = Eigen::Vector3d::Zero();
  Eigen::Vector3d reaction = Eigen::Vector3d::Zero();  // of the supports asked for
};

std::string list(const std::vector<int>& nodes) {
  std::string text;
  for (std::size_t i = 0; i < nodes.size(); ++i) {
    text += fmt::format("{}{}", nodes[i] + 1, i % 12 == 11 ? "\n" : ", ");
  }
  return text + "\n";
}

// The input deck: one shell of six nodes a triangle, pressure along the normal on `loaded`.
void write_deck(const fs::path& path, const Model& model, const std::vector<Solid>& plies,
                const Ask& ask) {
  std::ofstream out(path);
  out << "*NODE, NSET=ALL\n";
  for (int i = 0; i < model.mesh.n_nodes(); ++i) {
    const Eigen::Vector3d p = model.mesh.position.col(i);
    out << fmt::format("{}, {:.12g}, {:.12g}, {:.12g}\n", i + 1, p.x(), p.y(), p.z());
  }
  out << "*ELEMENT, TYPE=S6, ELSET=SHELL\n";
  for (int t = 0; t < model.mesh.n_triangles(); ++t) {
    const auto& n = model.mesh.triangles[t].node;
    out << fmt::format("{}, {}, {}, {}, {}, {}, {}\n", t + 1, n[0] + 1, n[1] + 1, n[2] + 1,
                       n[3] + 1, n[4] + 1, n[5] + 1);
  }
  for (std::size_t i = 0; i < plies.size(); ++i) {
    const Solid& s = plies[i];
    // The ply's third direction behaves like its second.
    out << fmt::format(
        "*MATERIAL, NAME=M{0}\n*ELASTIC, TYPE=ENGINEERING CONSTANTS\n{1:.9g}, {2:.9g}, {2:.9g}, "
        "{3:.9g}, {3:.9g}, {4:.9g}, {5:.9g}, {6:.9g}\n{6:.9g}\n",
        i, s.e1, s.e2, s.nu12, s.e1 == s.e2 ? s.nu12 : 0.3, s.g12, s.g13);
  }
  if (plies.size() == 1) {
    out << fmt::format("*SHELL SECTION, ELSET=SHELL, MATERIAL=M0\n{:.9g}\n", plies[0].thickness);
  } else {
    out << "*ORIENTATION, NAME=O\n1., 0., 0., 0., 1., 0.\n*SHELL SECTION, ELSET=SHELL, COMPOSITE\n";
    for (std::size_t i = 0; i < plies.size(); ++i) {
      out << fmt::format("{:.9g},, M{}, O\n", plies[i].thickness, i);
    }
  }
  out << "*BOUNDARY\n";
  for (const FixedDof& fixed : model.fixed) {
    out << fmt::format("{}, {}, {}\n", fixed.node + 1, fixed.axis + 1, fixed.axis + 1);
  }
  out << fmt::format("*NSET, NSET=PROBE\n{}\n*NSET, NSET=HELD\n{}", ask.node + 1,
                     list(ask.supports));
  out << "*STEP, NLGEOM, INC=200\n*STATIC\n0.25, 1.\n*DLOAD\n";
  for (int t = 0; t < model.mesh.n_triangles(); ++t) {
    const double pressure = model.payload_pressure_Pa[t];
    if (pressure != 0) out << fmt::format("{}, P, {:.9g}\n", t + 1, pressure);
  }
  out << "*NODE PRINT, NSET=PROBE, FREQUENCY=1000\nU\n"
         "*NODE PRINT, NSET=HELD, TOTALS=ONLY, FREQUENCY=1000\nRF\n"
         "*END STEP\n";
}

Answer read_answer(const fs::path& path) {
  std::ifstream in(path);
  Answer answer;
  enum class Block { kNone, kDisplacement, kForce } block = Block::kNone;
  for (std::string line; std::getline(in, line);) {
    if (line.find("displacements") != std::string::npos) {
      block = Block::kDisplacement;
    } else if (line.find("total force") != std::string::npos) {
      block = Block::kForce;
    } else {
      std::istringstream words(line);
      std::vector<double> numbers;
      for (double x = 0; words >> x;) numbers.push_back(x);
      if (block == Block::kDisplacement && numbers.size() == 4) {
        answer.displacement = {numbers[1], numbers[2], numbers[3]};
      } else if (block == Block::kForce && numbers.size() == 3) {
        answer.reaction = {numbers[0], numbers[1], numbers[2]};
      }
    }
  }
  return answer;
}

Answer by_ccx(const std::string& name, const Model& model, const std::vector<Solid>& plies,
              const Ask& ask) {
  const fs::path folder = fs::path(TOTEBENCH_BOOK_DIR) / "ccx_run";
  fs::create_directories(folder);
  fs::remove(folder / (name + ".dat"));
  write_deck(folder / (name + ".inp"), model, plies, ask);
  const std::string command =
      fmt::format("cd '{}' && ccx '{}' > '{}.log' 2>&1", folder.string(), name, name);
  EXPECT_EQ(std::system(command.c_str()), 0) << "see " << folder / (name + ".log");
  return read_answer(folder / (name + ".dat"));
}

Answer by_us(const Model& model, const Ask& ask, State& state) {
  Answer answer;
  state = start_state(model);
  for (const double factor : {0.25, 1.0}) {
    const SolveReport report = find_equilibrium(model, factor, state);
    EXPECT_EQ(report.status, SolveStatus::kConverged) << report.advice;
  }
  answer.displacement = state.x.col(ask.node) - model.mesh.position.col(ask.node);
  const Eigen::Matrix3Xd reaction = support_reactions(model, state, 1);
  for (const int node : ask.supports) answer.reaction += reaction.col(node);
  return answer;
}

// Ours and the other's on two meshes.
void compare(const std::string& what, const double (&ours)[2], const double (&theirs)[2],
             const double (&size)[2], const int (&triangles)[2]) {
  const Source source = {"calculix", "CalculiX 2.20, S6 shells on the same mesh",
                         "shear and thickness strain, which thin-shell theory leaves out"};
  EXPECT_NEAR(ours[0], ours[1], 0.01 * std::abs(ours[1])) << what << ": ours is not settled";
  EXPECT_NEAR(theirs[0], theirs[1], 0.01 * std::abs(theirs[1])) << what << ": ccx is not settled";
  Refinement row(source, what, theirs[1]);
  for (int i = 0; i < 2; ++i) row.add(size[i], triangles[i], ours[i]);
  row.expect_within(0.03);
  std::printf("  ccx %.6g  %.6g\n", theirs[0], theirs[1]);
}

// n x m squares, each cut in two, over a rectangle at z = 0.
Model grid(double length, double width, int n, int m) {
  Eigen::Matrix3Xd position(3, (n + 1) * (m + 1));
  std::vector<std::array<int, 3>> corners;
  const auto at = [m](int i, int j) { return i * (m + 1) + j; };
  for (int i = 0; i <= n; ++i) {
    for (int j = 0; j <= m; ++j) {
      position.col(at(i, j)) = Eigen::Vector3d(length * i / n, width * j / m, 0);
      if (i == n || j == m) continue;
      const int a = at(i, j), b = at(i + 1, j), c = at(i + 1, j + 1), d = at(i, j + 1);
      // Diagonals turn about the centre, so that the mesh is symmetric.
      if ((i < n / 2) == (j < m / 2)) {
        corners.push_back({a, b, c});
        corners.push_back({a, c, d});
      } else {
        corners.push_back({a, b, d});
        corners.push_back({b, c, d});
      }
    }
  }
  Model model;
  model.mesh = second_order_mesh(position, corners);
  model.mesh.warp.assign(corners.size(), Eigen::Vector3d::UnitX());
  model.payload_pressure_Pa = Eigen::VectorXd::Zero(model.mesh.n_triangles());
  return model;
}

int node_near(const ShellMesh& mesh, const Eigen::Vector3d& point) {
  Eigen::Index nearest = 0;
  (mesh.position.colwise() - point).colwise().squaredNorm().minCoeff(&nearest);
  return static_cast<int>(nearest);
}

Eigen::Matrix3d plane_stress(const Solid& s) {
  const double det = 1 - s.nu12 * s.nu12 * s.e2 / s.e1;
  Eigen::Matrix3d q = Eigen::Matrix3d::Zero();
  q << s.e1 / det, s.nu12 * s.e2 / det, 0, s.nu12 * s.e2 / det, s.e2 / det, 0, 0, 0, s.g12;
  return q;
}

// Plies from the side the normal leaves to the side it points to; z along the normal.
Section section_of_plies(const std::vector<Solid>& plies) {
  double z = 0;
  for (const Solid& ply : plies) z -= ply.thickness / 2;
  Section section;
  for (const Solid& ply : plies) {
    const double top = z + ply.thickness;
    const Eigen::Matrix3d q = plane_stress(ply);
    section.A += q * ply.thickness;
    section.B += q * (top * top - z * z) / 2;
    section.D += q * (top * top * top - z * z * z) / 3;
    z = top;
  }
  return section;
}

// VERIFICATION  Panel_UnderPressure
// Inputs      0.3 x 0.2 m, unsymmetric laminate [0/90] of two 0.5 mm plies (10 and 1 GPa, nu12 0.3,
//             G 0.5 GPa), edges held in place but free to turn, 2 kPa that follows the surface: it
//             sags several thicknesses
TEST(Calculix, LaminatedPanelUnderPressure) {
  if (!ccx_is_there()) GTEST_SKIP() << "CalculiX (ccx) is not installed here, or this is CI";
  const std::vector<Solid> plies = {{10e9, 1e9, 0.3, 0.5e9, 0.5e9, 0.5e-3},
                                    {1e9, 10e9, 0.03, 0.5e9, 0.5e9, 0.5e-3}};
  double sag[2][2], pull[2][2], size[2];
  int triangles[2];
  for (const int level : {0, 1}) {
    const int n = level == 0 ? 12 : 18;
    Model model = grid(0.3, 0.2, n, n * 2 / 3);
    model.sections = {section_of_plies(plies)};
    model.payload_pressure_Pa.setConstant(-2000);
    Ask ask;
    ask.node = node_near(model.mesh, {0.15, 0.1, 0});
    for (int i = 0; i < model.mesh.n_nodes(); ++i) {
      const Eigen::Vector3d p = model.mesh.position.col(i);
      if (p.x() < 1e-9 || p.x() > 0.3 - 1e-9 || p.y() < 1e-9 || p.y() > 0.2 - 1e-9) {
        for (int axis = 0; axis < 3; ++axis) model.fixed.push_back({i, axis});
      }
      if (p.y() < 1e-9) ask.supports.push_back(i);
    }
    State state;
    const Answer ours = by_us(model, ask, state);
    const Answer theirs = by_ccx(fmt::format("panel{}", level), model, plies, ask);
    if (level == 0) draw("calculix", model, state, {-60, 25, 5});
    size[level] = 0.3 / n;
    triangles[level] = model.mesh.n_triangles();
    sag[0][level] = -1e3 * ours.displacement.z();
    sag[1][level] = -1e3 * theirs.displacement.z();
    pull[0][level] = -ours.reaction.y() / 0.3;
    pull[1][level] = -theirs.reaction.y() / 0.3;
  }
  compare("laminated panel under pressure, sag (mm)", sag[0], sag[1], size, triangles);
  compare("laminated panel, membrane force at the long edge (N/m)", pull[0], pull[1], size,
          triangles);
}

}  // namespace
}  // namespace totebench::verification
