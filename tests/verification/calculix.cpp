#include "calculix.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <Eigen/Dense>
#include <algorithm>
#include <array>
#include <filesystem>
#include <fstream>
#include <map>
#include <set>
#include <sstream>

#include "ccx_run.hpp"
#include "sheet_case.hpp"

namespace totebench::verification {
namespace {

namespace fs = std::filesystem;

// The other program's mesh: nodes (ours first) and elements, `per_triangle` to each of our
// triangles.
struct Elements {
  Eigen::Matrix3Xd position;
  std::vector<std::vector<int>> nodes;
  int per_triangle = 1;
  const char* type = "S6";
  std::vector<std::pair<int, int>> joined;  // nodes at one place that move together
};

// Gives the elements of `apart` triangles nodes of their own where they meet the others.
void take_apart(const std::vector<char>& apart, Elements& mesh) {
  if (apart.empty()) return;
  std::set<int> others;
  for (std::size_t i = 0; i < mesh.nodes.size(); ++i) {
    if (apart[i / mesh.per_triangle] != 0) continue;
    others.insert(mesh.nodes[i].begin(), mesh.nodes[i].end());
  }
  std::map<int, int> own;
  int next = static_cast<int>(mesh.position.cols());
  for (std::size_t i = 0; i < mesh.nodes.size(); ++i) {
    if (apart[i / mesh.per_triangle] == 0) continue;
    for (int& node : mesh.nodes[i]) {
      if (others.count(node) == 0) continue;
      const auto [place, is_new] = own.try_emplace(node, next);
      if (is_new) mesh.joined.emplace_back(next++, node);
      node = place->second;
    }
  }
  mesh.position.conservativeResize(3, next);
  for (const auto& [copy, node] : mesh.joined) {
    mesh.position.col(copy) = mesh.position.col(node);
  }
}

// A triangle in three quads that meet in its middle, each with corners and mid-sides on its
// second-order shape.
class ThreeQuads {
 public:
  explicit ThreeQuads(const solver::ShellMesh& mesh) : mesh_(mesh) {
    for (int i = 0; i < mesh.n_nodes(); ++i) points_.emplace_back(mesh.position.col(i));
  }

  Elements run() {
    Elements out;
    out.per_triangle = 3;
    out.type = "S8R";
    constexpr double kCorner[3][2] = {{0, 0}, {1, 0}, {0, 1}};
    for (int t = 0; t < mesh_.n_triangles(); ++t) {
      const auto& node = mesh_.triangles[t].node;
      const Eigen::Vector2d centre(1.0 / 3, 1.0 / 3);
      const int middle = add(t, centre);
      std::array<int, 3> spoke;  // between the middle of side k and the centre
      std::array<Eigen::Vector2d, 3> corner, side;
      for (int k = 0; k < 3; ++k) {
        corner[k] = {kCorner[k][0], kCorner[k][1]};
        const int n = (k + 1) % 3;
        side[k] = 0.5 * (corner[k] + Eigen::Vector2d(kCorner[n][0], kCorner[n][1]));
        spoke[k] = add(t, 0.5 * (side[k] + centre));
      }
      for (int k = 0; k < 3; ++k) {
        const int before = (k + 2) % 3;
        out.nodes.push_back(
            {node[k], node[3 + k], middle, node[3 + before],
             on_edge(t, node[k], node[3 + k], 0.5 * (corner[k] + side[k])), spoke[k], spoke[before],
             on_edge(t, node[3 + before], node[k], 0.5 * (side[before] + corner[k]))});
      }
    }
    out.position.resize(3, static_cast<Eigen::Index>(points_.size()));
    for (std::size_t i = 0; i < points_.size(); ++i) out.position.col(i) = points_[i];
    return out;
  }

 private:
  int add(int triangle, const Eigen::Vector2d& at) {
    points_.push_back(solver::position_of(mesh_, mesh_.position, {triangle, at.x(), at.y()}));
    return static_cast<int>(points_.size()) - 1;
  }
  int on_edge(int triangle, int a, int b, const Eigen::Vector2d& at) {
    const auto [place, is_new] = halves_.try_emplace(std::minmax(a, b), 0);
    if (is_new) place->second = add(triangle, at);
    return place->second;
  }

  const solver::ShellMesh& mesh_;
  std::vector<Eigen::Vector3d> points_;
  std::map<std::pair<int, int>, int> halves_;
};

Elements triangles_of(const solver::ShellMesh& mesh) {
  Elements out;
  out.position = mesh.position;
  for (const solver::Triangle& triangle : mesh.triangles) {
    out.nodes.emplace_back(triangle.node.begin(), triangle.node.end());
  }
  return out;
}

std::string list(const std::vector<int>& numbers) {
  std::string text;
  for (std::size_t i = 0; i < numbers.size(); ++i) {
    text += fmt::format("{}{}", numbers[i] + 1, i % 12 == 11 ? ",\n" : ", ");
  }
  return text + "\n";
}

// Sections: a material a ply, a set of elements a section.
std::string sections_text(const Problem& problem, const Elements& mesh) {
  std::string text;
  for (std::size_t s = 0; s < problem.plies.size(); ++s) {
    std::vector<int> elements;
    for (int i = 0; i < static_cast<int>(mesh.nodes.size()); ++i) {
      const solver::Triangle& triangle = problem.model.mesh.triangles[i / mesh.per_triangle];
      if (triangle.section == static_cast<int>(s)) elements.push_back(i);
    }
    text += fmt::format("*ELSET, ELSET=E{}\n{}", s, list(elements));
    double thickness = 0;
    for (const Ply& ply : problem.plies[s]) thickness += ply.thickness;
    for (std::size_t i = 0; i < problem.plies[s].size(); ++i) {
      const Ply& p = problem.plies[s][i];
      text += fmt::format(
          "*MATERIAL, NAME=M{0}_{1}\n*ELASTIC, TYPE=ENGINEERING CONSTANTS\n{2:.9g}, {3:.9g}, "
          "{3:.9g}, {4:.9g}, {4:.9g}, {5:.9g}, {6:.9g}, {7:.9g}\n{7:.9g}\n",
          s, i, p.e1, p.e2, p.nu12, p.e1 == p.e2 ? p.nu12 : 0.3, p.g12, p.g13);
      text += fmt::format("*DENSITY\n{:.9g}\n",
                          problem.model.sections[s].areal_mass_kg_per_m2 / thickness);
    }
    if (problem.plies[s].size() == 1) {
      text += fmt::format("*SHELL SECTION, ELSET=E{0}, MATERIAL=M{0}_0\n{1:.9g}\n", s, thickness);
    } else {
      text += fmt::format(
          "*ORIENTATION, NAME=O{0}\n1., 0., 0., 0., 1., 0.\n"
          "*SHELL SECTION, ELSET=E{0}, COMPOSITE\n",
          s);
      for (std::size_t i = 0; i < problem.plies[s].size(); ++i) {
        text += fmt::format("{:.9g},, M{}_{}, O{}\n", problem.plies[s][i].thickness, s, i, s);
      }
    }
  }
  return text;
}

std::string springs_text(const Problem& problem, std::size_t first_element) {
  std::string text;
  std::size_t number = first_element;
  for (int axis = 1; axis <= 3 && !problem.springs.empty(); ++axis) {
    text += fmt::format("*ELEMENT, TYPE=SPRING2, ELSET=SPRING{}\n", axis);
    for (const NodeSpring& spring : problem.springs) {
      text += fmt::format("{}, {}, {}\n", ++number, spring.a + 1, spring.b + 1);
    }
    text +=
        fmt::format("*SPRING, ELSET=SPRING{0}\n{0}, {0}\n{1:.9e}\n", axis, problem.spring_N_per_m);
  }
  return text;
}

std::string deck_of(const Problem& problem, const Elements& mesh) {
  const solver::Model& model = problem.model;
  std::ostringstream out;
  out << "*NODE, NSET=ALL\n";
  for (int i = 0; i < mesh.position.cols(); ++i) {
    const Eigen::Vector3d p = mesh.position.col(i);
    out << fmt::format("{}, {:.12g}, {:.12g}, {:.12g}\n", i + 1, p.x(), p.y(), p.z());
  }
  out << "*ELEMENT, TYPE=" << mesh.type << ", ELSET=SHELL\n";
  for (std::size_t i = 0; i < mesh.nodes.size(); ++i) {
    out << i + 1;
    for (const int node : mesh.nodes[i]) out << ", " << node + 1;
    out << "\n";
  }
  out << sections_text(problem, mesh) << springs_text(problem, mesh.nodes.size());
  for (const auto& [copy, node] : mesh.joined) {
    for (int axis = 1; axis <= 3; ++axis) {
      out << fmt::format("*EQUATION\n2\n{0}, {2}, 1., {1}, {2}, -1.\n", copy + 1, node + 1, axis);
    }
  }
  out << "*BOUNDARY\n";
  for (const solver::FixedDof& fixed : model.fixed) {
    out << fmt::format("{}, {}, {}\n", fixed.node + 1, fixed.axis + 1, fixed.axis + 1);
  }
  out << fmt::format("*NSET, NSET=WANTED\n{}\n*NSET, NSET=HELD\n{}", problem.node + 1,
                     list(problem.supports));
  for (std::size_t p = 0; p < problem.probes.size(); ++p) {
    std::vector<int> elements;
    for (const auto& [t, weight] : problem.probes[p].weight) {
      for (int i = 0; i < mesh.per_triangle; ++i) elements.push_back(t * mesh.per_triangle + i);
    }
    out << fmt::format("*ELSET, ELSET=P{}\n{}", p, list(elements));
  }
  // It gives an increment up when the residual grows over four to eight rounds; bent sheets need
  // more.
  out << fmt::format(
      "*STEP, NLGEOM, INC=200\n*STATIC\n{:g}, 1.\n"
      "*CONTROLS, PARAMETERS=TIME INCREMENTATION\n12, 20, 9, 40, 20, 4, , 20\n*DLOAD\n",
      problem.first_share);
  for (std::size_t i = 0; i < mesh.nodes.size() && model.payload_pressure_Pa.size() > 0; ++i) {
    const double pressure = model.payload_pressure_Pa[i / mesh.per_triangle];
    if (pressure != 0) out << fmt::format("{}, P, {:.9g}\n", i + 1, pressure);
  }
  for (std::size_t s = 0; s < model.sections.size(); ++s) {
    if (model.sections[s].areal_mass_kg_per_m2 == 0) continue;
    out << fmt::format("E{}, GRAV, {:.9g}, 0., 0., -1.\n", s, model.gravity_m_per_s2);
  }
  out << "*NODE PRINT, NSET=WANTED, FREQUENCY=1000\nU\n"
         "*NODE PRINT, NSET=HELD, TOTALS=ONLY, FREQUENCY=1000\nRF\n";
  for (std::size_t p = 0; p < problem.probes.size(); ++p) {
    out << fmt::format("*EL PRINT, ELSET=P{}, FREQUENCY=1000\nS\n", p);
  }
  out << "*END STEP\n";
  return out.str();
}

double largest_eigenvalue(const Eigen::Matrix3d& symmetric) {
  return Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d>(symmetric).eigenvalues()[2];
}

// From the tables of the last increment.
Answer read_answer(const fs::path& path, const Problem& problem, int per_triangle) {
  std::ifstream in(path);
  Answer answer;
  enum class Block { kNone, kDisplacement, kForce, kStress } block = Block::kNone;
  struct Sum {
    Eigen::Matrix3d stress = Eigen::Matrix3d::Zero();
    int points = 0;
  };
  std::vector<std::map<int, Sum>> sums(problem.probes.size());  // by triangle
  std::size_t probe = 0;
  for (std::string line; std::getline(in, line);) {
    if (line.find("displacements") != std::string::npos) {
      block = Block::kDisplacement;
    } else if (line.find("total force") != std::string::npos) {
      block = Block::kForce;
    } else if (const auto at = line.find("for set P");
               line.find("stresses") != std::string::npos && at != std::string::npos) {
      block = Block::kStress;
      probe = std::stoul(line.substr(at + 9));
    } else {
      std::istringstream words(line);
      std::vector<double> n;
      for (double x = 0; words >> x;) n.push_back(x);
      if (block == Block::kDisplacement && n.size() == 4) {
        answer.displacement = {n[1], n[2], n[3]};
      } else if (block == Block::kForce && n.size() == 3) {
        answer.reaction = {n[0], n[1], n[2]};
      } else if (block == Block::kStress && n.size() == 8) {
        Eigen::Matrix3d s;
        s << n[2], n[5], n[6], n[5], n[3], n[7], n[6], n[7], n[4];
        Sum& sum = sums[probe][(static_cast<int>(n[0]) - 1) / per_triangle];
        sum.stress += s;
        ++sum.points;
      }
    }
  }
  for (std::size_t p = 0; p < sums.size(); ++p) {
    Eigen::Matrix3d force = Eigen::Matrix3d::Zero();
    for (const auto& [triangle, sum] : sums[p]) {
      double thickness = 0;
      for (const Ply& ply : problem.plies[problem.model.mesh.triangles[triangle].section]) {
        thickness += ply.thickness;
      }
      force += problem.probes[p].weight.at(triangle) * thickness / sum.points * sum.stress;
    }
    answer.force_N_per_m.push_back(largest_eigenvalue(force));
  }
  return answer;
}

Eigen::Matrix3d plane_stress(const Ply& s) {
  const double det = 1 - s.nu12 * s.nu12 * s.e2 / s.e1;
  Eigen::Matrix3d q = Eigen::Matrix3d::Zero();
  q << s.e1 / det, s.nu12 * s.e2 / det, 0, s.nu12 * s.e2 / det, s.e2 / det, 0, 0, 0, s.g12;
  return q;
}

}  // namespace

Ply isotropic(double e, double nu, double thickness) {
  const double g = e / (2 * (1 + nu));
  return {e, e, nu, g, g, thickness};
}

solver::Section section_of_plies(const std::vector<Ply>& plies) {
  double z = 0;
  for (const Ply& ply : plies) z -= ply.thickness / 2;
  solver::Section section;
  for (const Ply& ply : plies) {
    const double top = z + ply.thickness;
    const Eigen::Matrix3d q = plane_stress(ply);
    section.A += q * ply.thickness;
    section.B += q * (top * top - z * z) / 2;
    section.D += q * (top * top * top - z * z * z) / 3;
    z = top;
  }
  return section;
}

Answer by_ccx(const Problem& problem, OtherShell shell) {
  Elements mesh = shell == OtherShell::kTriangle ? triangles_of(problem.model.mesh)
                                                 : ThreeQuads(problem.model.mesh).run();
  take_apart(problem.hinged, mesh);
  const fs::path table = run_ccx(problem.name, deck_of(problem, mesh));
  return read_answer(table, problem, mesh.per_triangle);
}

Answer by_us(const Problem& problem, solver::State& state) {
  solver::Model model = problem.model;
  model.payload_force_N = solver::own_weight(model.mesh, model.sections, model.gravity_m_per_s2);
  for (const NodeSpring& spring : problem.springs) {
    const auto at = [&](int node) {
      for (int t = 0; t < model.mesh.n_triangles(); ++t) {
        for (int k = 0; k < 6; ++k) {
          if (model.mesh.triangles[t].node[k] != node) continue;
          constexpr double kPlace[6][2] = {{0, 0}, {1, 0}, {0, 1}, {.5, 0}, {.5, .5}, {0, .5}};
          return solver::SurfacePoint{t, kPlace[k][0], kPlace[k][1]};
        }
      }
      throw std::logic_error("a spring at a node of no triangle");
    };
    solver::Stitch stitch;
    stitch.a = at(spring.a);
    stitch.b = at(spring.b);
    stitch.stiffness_N_per_m = problem.spring_N_per_m;
    model.stitches.push_back(stitch);
  }
  Answer answer;
  state = solver::start_state(model);
  for (const double factor : {problem.first_share, 1.0}) {
    const solver::SolveReport report = solver::find_equilibrium(model, factor, state);
    EXPECT_EQ(report.status, solver::SolveStatus::kConverged) << static_cast<int>(report.failure);
  }
  answer.displacement = state.x.col(problem.node) - model.mesh.position.col(problem.node);
  const Eigen::Matrix3Xd reaction = solver::support_reactions(model, state, 1);
  for (const int node : problem.supports) answer.reaction += reaction.col(node);
  const solver::ShellFields fields = solver::shell_fields(model, state);
  for (const Probe& probe : problem.probes) {
    Eigen::Matrix3d force = Eigen::Matrix3d::Zero();  // in space: triangles have axes of their own
    for (const auto& [t, weight] : probe.weight) {
      const Eigen::Vector3d n = fields.membrane_force[t].rowwise().mean();
      Eigen::Matrix2d tensor;
      tensor << n[0], n[2], n[2], n[1];
      force += weight * fields.axes[t] * tensor * fields.axes[t].transpose();
    }
    answer.force_N_per_m.push_back(largest_eigenvalue(force));
  }
  return answer;
}

void compare(const std::string& what, const double (&ours)[2], const double (&theirs)[2],
             const TwoMeshes& meshes) {
  const Source source = {"calculix", "CalculiX 2.20, shells of second order in the same triangles",
                         "shear and thickness strain, which thin-shell theory leaves out"};
  EXPECT_NEAR(ours[0], ours[1], 0.01 * std::abs(ours[1])) << what << ": ours is not settled";
  EXPECT_NEAR(theirs[0], theirs[1], 0.01 * std::abs(theirs[1])) << what << ": ccx is not settled";
  Refinement row(source, what, theirs[1]);
  for (int i = 0; i < 2; ++i) row.add(meshes.size[i], meshes.triangles[i], ours[i]);
  row.expect_within(0.03);
  std::printf("  ccx %.6g  %.6g\n", theirs[0], theirs[1]);
}

Probe probe_at(const solver::ShellMesh& mesh, const Eigen::Vector3d& point, double half_width) {
  using Basis = Eigen::Vector<double, 10>;
  std::vector<int> near;
  std::vector<Basis> basis;
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    const Eigen::Vector3d d =
        (solver::position_of(mesh, mesh.position, {t, 1.0 / 3, 1.0 / 3}) - point) / half_width;
    if (d.lpNorm<Eigen::Infinity>() > 1) continue;
    near.push_back(t);
    basis.emplace_back(Basis{{1, d.x(), d.y(), d.z(), d.x() * d.x(), d.y() * d.y(), d.z() * d.z(),
                              d.x() * d.y(), d.y() * d.z(), d.z() * d.x()}});
  }
  // Least squares, each triangle by its area; of least norm, for nothing varies across a plane.
  Eigen::Matrix<double, 10, 10> normal = Eigen::Matrix<double, 10, 10>::Zero();
  for (std::size_t i = 0; i < near.size(); ++i) {
    normal += solver::rest_area(mesh, near[i]) * basis[i] * basis[i].transpose();
  }
  const Basis value = normal.completeOrthogonalDecomposition().solve(Basis::Unit(0));
  Probe probe;
  for (std::size_t i = 0; i < near.size(); ++i) {
    probe.weight[near[i]] = solver::rest_area(mesh, near[i]) * value.dot(basis[i]);
  }
  return probe;
}

int node_near(const solver::ShellMesh& mesh, const Eigen::Vector3d& point) {
  Eigen::Index nearest = 0;
  (mesh.position.colwise() - point).colwise().squaredNorm().minCoeff(&nearest);
  return static_cast<int>(nearest);
}

}  // namespace totebench::verification
