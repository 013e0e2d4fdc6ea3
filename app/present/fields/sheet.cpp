// findings.json of a sheet, and the tables of its probes.
#include <fmt/format.h>

#include <cmath>

#include "app/present/fields/findings.hpp"
#include "app/present/hang_report.hpp"

namespace totebench::app {
namespace {

bool sheet_at_rest(const SheetFindings& s) {
  return s.result.report.status == solver::SolveStatus::kConverged;
}

const Fields<solver::SolveReport>& sheet_balance_fields() {
  using R = solver::SolveReport;
  static const auto fields =
      Fields<R>("sheet_balance", "Applied loads against reactions.")
          .value("applied_N", &R::applied_N, "Total of the applied loads.")
          .value("support_reaction_N", &R::reaction_N, "Total force of the supports.")
          .value("relative_error", &R::balance_relative, "Size of the difference over the load.")
          .or_null("without a load");
  return fields;
}

// A probe in one state.
struct ProbePlace {
  double load_factor;
  Eigen::Vector3d position_m, displacement_m;
};

const Fields<ProbePlace>& probe_place_fields() {
  const auto along = [](int axis) {
    return [axis](const ProbePlace& p) { return p.displacement_m[axis]; };
  };
  static const auto fields =
      Fields<ProbePlace>("place", "Where a probe is.")
          .value("position_m", &ProbePlace::position_m, "Where it is, x y z.")
          .value("displacement_m", &ProbePlace::displacement_m,
                 "How far it has moved from the rest shape, x y z.")
          .shown("moved x", along(0))
          .shown("y", along(1))
          .shown("z", along(2));
  return fields;
}

const Fields<ProbePlace>& probe_step_fields() {
  static const auto fields =
      Fields<ProbePlace>("step", "A probe at part of the load.")
          .value("load_factor", &ProbePlace::load_factor, "Share of the load.")
          .shown("probe",
                 [](const ProbePlace& p) {
                   return fmt::format("load at {:.0f} %", 100 * p.load_factor);
                 })
          .with(probe_place_fields(), [](const ProbePlace& p) -> const ProbePlace& { return p; });
  return fields;
}

struct ToldProbe {
  std::string name;
  std::vector<ProbePlace> steps;  // the last is where it is now
};

const Fields<ToldProbe>& probe_fields() {
  static const auto fields =
      Fields<ToldProbe>("probe", "A point of the sheet.")
          .value("name", &ToldProbe::name, "As in the scene.")
          .with(probe_place_fields(),
                [](const ToldProbe& p) -> const ProbePlace& { return p.steps.back(); })
          .list("steps", &ToldProbe::steps, probe_step_fields(), "The load rising, from 0.");
  return fields;
}

std::vector<ToldProbe> told_probes(const SheetFindings& s) {
  const Eigen::Matrix3Xd& rest = s.result.sheet.model.mesh.position;
  std::vector<ToldProbe> list;
  for (std::size_t i = 0; i < s.result.sheet.probe_nodes.size(); ++i) {
    const int node = s.result.sheet.probe_nodes[i];
    ToldProbe probe{s.scene.sheet.probes[i].name, {}};
    for (const solver::LoadStep& step : s.result.steps) {
      const Eigen::Vector3d x = step.state.x.col(node);
      probe.steps.push_back({step.load_factor, x, x - rest.col(node)});
    }
    list.push_back(std::move(probe));
  }
  return list;
}

// A support at part of the load.
struct SupportPull {
  double load_factor;
  Eigen::Vector3d moved_m, reaction_N;
};

const Fields<SupportPull>& support_pull_fields() {
  static const auto fields =
      Fields<SupportPull>("pull", "What a support does.")
          .value("moved_m", &SupportPull::moved_m, "How far it has been moved, x y z.")
          .value("reaction_N", &SupportPull::reaction_N,
                 "Its force on the sheet, x y z; where two supports hold one point, of the "
                 "earlier one.");
  return fields;
}

const Fields<SupportPull>& support_step_fields() {
  static const auto fields =
      Fields<SupportPull>("support_step", "A support at part of the load.")
          .value("load_factor", &SupportPull::load_factor, "Share of the load.")
          .with(support_pull_fields(),
                [](const SupportPull& p) -> const SupportPull& { return p; });
  return fields;
}

struct ToldSupport {
  std::string where;
  std::optional<Eigen::Vector3d> point_m;
  std::vector<SupportPull> steps;  // the last is as it is now
};

const Fields<ToldSupport>& support_fields() {
  static const auto fields =
      Fields<ToldSupport>("support", "What holds the sheet.")
          .value("where", &ToldSupport::where, "The border, as in the scene; empty of a point.")
          .value("point_m", &ToldSupport::point_m, "The point, as in the scene.")
          .with(support_pull_fields(),
                [](const ToldSupport& s) -> const SupportPull& { return s.steps.back(); })
          .list("steps", &ToldSupport::steps, support_step_fields(), "The load rising, from 0.");
  return fields;
}

std::vector<ToldSupport> told_supports(const SheetFindings& s) {
  std::vector<ToldSupport> list;
  for (const scenes::SheetSupport& support : s.scene.sheet.supports) {
    list.push_back({support.where, support.point_m, {}});
  }
  for (const solver::LoadStep& step : s.result.steps) {
    const std::vector<Eigen::Vector3d> reactions = studies::support_forces(s.result, step);
    for (std::size_t i = 0; i < list.size(); ++i) {
      const Eigen::Vector3d move =
          s.scene.sheet.supports[i].move_m.value_or(Eigen::Vector3d::Zero());
      list[i].steps.push_back({step.load_factor, step.load_factor * move, reactions[i]});
    }
  }
  return list;
}

// Extent along x, y and z.
Eigen::Vector3d size_of(const SheetFindings& s) {
  const Eigen::Matrix3Xd& x = s.result.steps.back().state.x;
  return x.rowwise().maxCoeff() - x.rowwise().minCoeff();
}

std::vector<Expected> sheet_expectations(const SheetFindings& s) {
  std::vector<Expected> list;
  const std::vector<ToldProbe> all = told_probes(s);
  for (const scenes::Expectation& expectation : s.scene.expect) {
    double value = std::nan("");
    for (const ToldProbe& probe : all) {
      for (const int axis : {0, 1, 2}) {
        const std::string key = "probes." + probe.name + ".displacement_" + "xyz"[axis] + "_m";
        if (key == expectation.key) value = probe.steps.back().displacement_m[axis];
      }
    }
    list.push_back({expectation, value});
  }
  return list;
}

Fields<SheetFindings> made_sheet_fields() {
  using S = SheetFindings;
  auto fields = result_fields<S>("sheet", "A sheet under its load.", "sheet",
                                 [](const S& x) { return x.scene.name; });
  fields
      .choice(
          "status", {"converged", "not_converged"},
          [](const S& s) { return sheet_at_rest(s) ? "converged" : "not_converged"; },
          "converged: everything below is at equilibrium. not_converged: it is of the last good "
          "state.")
      .object(
          "mesh",
          [](const S& s) {
            const solver::ShellMesh& mesh = s.result.sheet.model.mesh;
            return Mesh{mesh.n_triangles(), mesh.n_nodes(), s.result.report.degrees_of_freedom};
          },
          mesh_fields(), "The mesh the numbers belong to.")
      .object(
          "solve",
          [](const S& s) {
            const solver::SolveReport& report = s.result.report;
            return Solve{report, s.result.effort, report.stable,
                         report.status == solver::SolveStatus::kInterrupted};
          },
          solve_fields(), "How it was solved.")
      .object(
          "balance", [](const S& s) -> const solver::SolveReport& { return s.result.report; },
          sheet_balance_fields(), "Applied loads against reactions.")
      .value("size_m", size_of, "How wide it is now along x, y and z.")
      .value(
          "unseen_wrinkles", [](const S& s) { return s.result.unseen_wrinkles; },
          "Share of the area that is pressed together harder than any wrinkle that the mesh can "
          "show would bear.")
      .list("supports", told_supports, support_fields(), "What holds the sheet.")
      .list(
          "jumps", [](const S& s) { return s.result.jumps; }, jump_fields(),
          "Where the shape snapped through while the load rose. Empty where it did not.")
      .list("probes", told_probes, probe_fields(), "Points of the sheet.")
      .list("expectations", sheet_expectations, expected_fields(),
            "What the scene expects of its own result.")
      .value(
          "cautions", [](const S& s) { return s.result.cautions; }, "What limits these numbers.");
  return fields;
}

}  // namespace

const Fields<SheetFindings>& sheet_fields() {
  static const Fields<SheetFindings> fields = made_sheet_fields();
  return fields;
}

std::vector<TextTable> probe_tables(const scenes::Scene& scene,
                                    const studies::SheetHangResult& result,
                                    const std::string& units) {
  std::vector<TextTable> tables;
  for (const ToldProbe& probe : told_probes({scene, result})) {
    tables.push_back(shown_table(probe_step_fields(), probe.steps, units));
    tables.back().front().front() += " " + probe.name;
  }
  return tables;
}

}  // namespace totebench::app
