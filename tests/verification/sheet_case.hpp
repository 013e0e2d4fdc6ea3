// Shared by the verification cases on coupons: short ways to write a sheet scene, to bring it to
// equilibrium and to print how the answer changes from mesh to mesh.
#pragma once

#include <Eigen/Core>
#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include "book.hpp"
#include "totebench/scenes/build.hpp"

namespace totebench::verification {

inline constexpr double kPi = 3.14159265358979323846;
inline constexpr double kGravity = 9.80665;  // m/s2

// A flat coupon 0 <= x <= length, 0 <= y <= width of one isotropic material.
[[nodiscard]] scenes::Scene flat_sheet(double length_m, double width_m,
                                       const scenes::PlainSection& section, double mesh_size_m);

// The isotropic sheet with a given membrane stiffness E h / (1 - nu^2) and bending rigidity.
[[nodiscard]] scenes::PlainSection section_of(double membrane_N_per_m, double bending_rigidity_N_m,
                                              double poisson_ratio,
                                              double areal_mass_kg_per_m2 = 0);

struct Fix {
  bool x = true;
  bool y = true;
  bool z = true;
};
void hold_edge(scenes::Scene& scene, const std::string& where, Fix fix = {}, bool clamp = false);
void hold_point(scenes::Scene& scene, const Eigen::Vector3d& point, Fix fix);
// Takes away the rigid motion in the plane of a rectangle without hindering any strain.
void hold_in_plane(scenes::Scene& scene);

void add_weight(scenes::Scene& scene);
void add_area_force(scenes::Scene& scene, const Eigen::Vector3d& force_Pa);
void add_edge_force(scenes::Scene& scene, const std::string& where,
                    const Eigen::Vector3d& force_N_per_m);
void add_point_force(scenes::Scene& scene, const Eigen::Vector3d& point,
                     const Eigen::Vector3d& force_N);
void add_edge_moment(scenes::Scene& scene, const std::string& where, double moment_N);
void add_probe(scenes::Scene& scene, const Eigen::Vector3d& point);

struct Solved {
  scenes::SheetModel sheet;
  solver::State state;
  solver::SolveReport report;
  Eigen::Matrix3Xd reaction_N;  // of the supports, per node

  [[nodiscard]] int triangles() const { return sheet.model.mesh.n_triangles(); }
  [[nodiscard]] Eigen::Vector3d position(int probe) const;
  [[nodiscard]] Eigen::Vector3d displacement(int probe) const;
  // Support force on the nodes that start at `x`.
  [[nodiscard]] Eigen::Vector3d reaction_at_x(double x) const;
};

[[nodiscard]] scenes::SheetModel built(const scenes::Scene& scene);

// Follows the load in `load_steps` equal steps; fails the running test when a step does not
// converge, or when loads and reactions differ by more than 1e-6 of the load. `applied_N` is the
// total of all loads as known from outside the solver.
[[nodiscard]] Solved solve(scenes::SheetModel sheet, const Eigen::Vector3d& applied_N,
                           int load_steps = 1);
[[nodiscard]] Solved solve(const scenes::Scene& scene, const Eigen::Vector3d& applied_N,
                           int load_steps = 1);
// Goes on from an equilibrium to another load factor. `scale_N` is what the balance is measured
// against where the loads themselves add up to nothing.
void solve_on(Solved& solved, double load_factor, const Eigen::Vector3d& applied_N,
              double scale_N = 0);

// Value at a corner node of a field given at the interior points: extrapolated in each triangle,
// then averaged over the triangles that meet there.
[[nodiscard]] Eigen::Vector3d at_node(const solver::ShellMesh& mesh,
                                      const std::vector<Eigen::Matrix3d>& field, int node);

// One value on several meshes against what it should be; leaves a row for the verification book.
class Refinement {
 public:
  Refinement(Source source, std::string what, double expected) : source_(std::move(source)) {
    row_.what = std::move(what);
    row_.expected = expected;
    row_.scale = std::abs(expected);
  }
  // What is printed in the source, where we hold to a better value.
  Refinement& published(double value) {
    row_.published = value;
    return *this;
  }
  // What errors are measured against, where the expected value may be zero.
  Refinement& measured_against(double scale) {
    row_.scale = scale;
    return *this;
  }
  void add(double size, int triangles, double value);  // `size` as in BookRow::OnMesh
  // Prints the table; expects the value on the last mesh to be within `tolerance` of the scale.
  void expect_within(double tolerance);
  // Prints and records without holding us to it; the source says why.
  void show();

 private:
  Source source_;
  BookRow row_;
};

}  // namespace totebench::verification
