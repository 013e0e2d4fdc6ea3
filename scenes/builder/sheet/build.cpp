// Coupons: a rest shape is meshed, given its section, held, loaded and probed.
#include "totebench/scenes/build.hpp"

#include <fmt/format.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <stdexcept>

#include "scenes/builder/sheet/chart.hpp"
#include "scenes/builder/sheet/mesh.hpp"
#include "scenes/builder/sheet/section.hpp"
#include "scenes/check/refuse.hpp"
#include "totebench/scenes/sheet_file.hpp"

namespace totebench::scenes {
namespace {

using Kind = SheetLoad::Kind;

[[noreturn]] void refuse(const std::string& sentence) { throw std::invalid_argument(sentence); }

// The points that must be nodes: probes, point supports and point loads.
std::vector<Eigen::Vector3d> named_points(const SheetScene& sheet) {
  std::vector<Eigen::Vector3d> points;
  for (const Probe& probe : sheet.probes) points.push_back(probe.point_m);
  for (const SheetSupport& support : sheet.supports) {
    if (support.point_m) points.push_back(*support.point_m);
  }
  for (const SheetLoad& load : sheet.loads) {
    if (load.point_m) points.push_back(*load.point_m);
  }
  return points;
}

bool has_fill(const SheetScene& sheet) {
  return std::any_of(sheet.loads.begin(), sheet.loads.end(),
                     [](const SheetLoad& load) { return load.kind == Kind::kFill; });
}

// Labels of the sides that a support or load names: one side, or all of them for "border".
std::vector<int> labels_of(const SheetMesh& mesh, const std::string& where) {
  std::vector<int> labels;
  for (const auto& [name, label] : mesh.side_labels) {
    if (name == where || where == "border") labels.push_back(label);
  }
  if (labels.empty()) {
    std::string names = "\"border\"";
    for (const auto& [name, label] : mesh.side_labels) names += fmt::format(", \"{}\"", name);
    refuse(fmt::format("this sheet has no edge \"{}\"; it has {}", where, names));
  }
  return labels;
}

// Nodes of labelled edges, mid-edge nodes included.
std::vector<int> nodes_of(const solver::ShellMesh& mesh, const std::vector<int>& labels) {
  std::map<std::pair<int, int>, int> mid;
  for (const solver::Triangle& t : mesh.triangles) {
    for (int k = 0; k < 3; ++k) {
      mid[std::minmax(t.node[k], t.node[(k + 1) % 3])] = t.node[3 + k];
    }
  }
  std::vector<int> nodes;
  for (const solver::LabelledEdge& edge : mesh.labelled_edges) {
    if (std::find(labels.begin(), labels.end(), edge.label) == labels.end()) continue;
    nodes.insert(nodes.end(), {edge.a, edge.b, mid.at(std::minmax(edge.a, edge.b))});
  }
  std::sort(nodes.begin(), nodes.end());
  nodes.erase(std::unique(nodes.begin(), nodes.end()), nodes.end());
  return nodes;
}

solver::EdgeRule& rule_of(solver::Model& model, int label) {
  for (solver::EdgeRule& rule : model.edge_rules) {
    if (rule.label == label) return rule;
  }
  model.edge_rules.emplace_back().label = label;
  return model.edge_rules.back();
}

std::vector<std::vector<int>> hold(const SheetScene& sheet, const SheetMesh& mesh,
                                   solver::Model& model) {
  if (sheet.supports.empty()) refuse("nothing holds this sheet: give it at least one support");
  std::vector<std::vector<int>> held;
  std::map<std::pair<int, int>, double> fixed;  // and how far it is moved
  for (const SheetSupport& support : sheet.supports) {
    const Eigen::Vector3d move = support.move_m.value_or(Eigen::Vector3d::Zero());
    std::vector<int> nodes;
    if (support.point_m) {
      if (support.clamp) refuse("a point support cannot clamp the slope: clamp an edge instead");
      nodes = {mesh.node_at(*support.point_m)};
    } else {
      const std::vector<int> labels = labels_of(mesh, support.where);
      nodes = nodes_of(mesh.shell, labels);
      for (const int label : labels) rule_of(model, label).clamped |= support.clamp;
    }
    for (const int node : nodes) {
      for (int axis = 0; axis < 3; ++axis) {
        if (support.fix[axis]) fixed[{node, axis}] = move[axis];
      }
    }
    held.push_back(std::move(nodes));
  }
  for (const auto& [dof, move] : fixed) {
    model.fixed.push_back({dof.first, dof.second});
    if (move == 0) continue;
    if (model.support_move_m.size() == 0) {
      model.support_move_m = Eigen::Matrix3Xd::Zero(3, mesh.shell.n_nodes());
    }
    model.support_move_m(dof.second, dof.first) = move;
  }
  return held;
}

void pull(const SheetScene& sheet, const SheetMesh& mesh, solver::Model& model) {
  std::vector<int> all(mesh.shell.triangles.size());
  std::iota(all.begin(), all.end(), 0);
  model.payload_force_N = Eigen::Matrix3Xd::Zero(3, mesh.shell.n_nodes());
  for (const SheetLoad& load : sheet.loads) {
    switch (load.kind) {
      case Kind::kGravity: {
        const Eigen::Matrix3Xd weight =
            solver::own_weight(mesh.shell, model.sections, model.gravity_m_per_s2);
        // Own weight is always there; where it is the only load it is what the load steps raise.
        if (sheet.loads.size() == 1) {
          model.payload_force_N += weight;
        } else {
          model.permanent_force_N = weight;
        }
        break;
      }
      case Kind::kPressure:
        if (model.payload_pressure_Pa.size() == 0) {
          model.payload_pressure_Pa = Eigen::VectorXd::Zero(mesh.shell.n_triangles());
        }
        model.payload_pressure_Pa.array() += mesh.facing * load.magnitude;
        break;
      case Kind::kAreaForce:
        model.payload_force_N += solver::area_load(mesh.shell, all, load.vector);
        break;
      case Kind::kEdgeForce:
        for (const int label : labels_of(mesh, load.where)) {
          model.payload_force_N += solver::edge_load(mesh.shell, label, load.vector);
        }
        break;
      case Kind::kPointForce:
        if (!load.point_m) refuse("a point force needs the point it pulls at");
        model.payload_force_N.col(mesh.node_at(*load.point_m)) += load.vector;
        break;
      case Kind::kEdgeMoment:
        for (const int label : labels_of(mesh, load.where)) {
          rule_of(model, label).edge_moment_N += mesh.facing * load.magnitude;
        }
        break;
      case Kind::kFill:
        if (model.fill.mass_kg > 0) refuse("a sheet can hold one fill only");
        if (!(load.magnitude > 0) || !(load.bulk_density_kg_per_m3 > 0)) {
          refuse("a fill needs a mass and a bulk density, both above zero");
        }
        model.fill.mass_kg = load.magnitude;
        model.fill.bulk_density_kg_per_m3 = load.bulk_density_kg_per_m3;
        model.fill.lateral_ratio_K = 1;  // a liquid
        model.fill.triangles = all;
        break;
    }
  }
}

// Bends a flat sheet, as it is placed, into an arc of `angle_rad` that leaves x = 0 along x.
void bend(double length_m, double angle_rad, Eigen::Matrix3Xd& position) {
  if (angle_rad == 0) return;
  const double radius = length_m / angle_rad;
  for (Eigen::Index i = 0; i < position.cols(); ++i) {
    const double turn = position(0, i) / radius;
    const double off = radius - position(2, i);
    position(0, i) = off * std::sin(turn);
    position(2, i) = radius - off * std::cos(turn);
  }
}

}  // namespace

SheetModel build_sheet(const Scene& scene, const materials::MaterialLibrary& library) {
  const SheetScene& sheet = scene.sheet;
  refuse_faulty(scene, library);
  SheetModel result;
  solver::Model& model = result.model;
  // What lies on a sheet presses on its upper side, and contents must be behind the normal.
  const bool face_down = has_fill(sheet);
  const SheetMesh mesh = mesh_sheet(sheet.geometry, scene.mesh.size_m, sheet.warp_angle_rad,
                                    named_points(sheet), face_down);
  model.mesh = mesh.shell;
  model.sections = {sheet_section(sheet, library, face_down)};
  if (mesh.crease_label != 0) rule_of(model, mesh.crease_label).joint = solver::Joint::kAsPlaced;
  result.support_nodes = hold(sheet, mesh, model);
  pull(sheet, mesh, model);
  bend(sheet.geometry.length_m, sheet.start_bend_rad, model.mesh.position);
  for (const Probe& probe : sheet.probes) result.probe_nodes.push_back(mesh.node_at(probe.point_m));
  return result;
}

}  // namespace totebench::scenes
