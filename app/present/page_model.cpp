// From a hang to the model of the 3-D view.
#include <algorithm>
#include <cmath>

#include "app/present/report_page.hpp"
#include "totebench/scenes/unit_text.hpp"
#include "totebench/viz/bag_field.hpp"
#include "totebench/viz/drawn_bag.hpp"
#include "totebench/viz/fields.hpp"

namespace totebench::app {
namespace {

void add_fields(const studies::HangResult& result, const viz::DrawnParts& parts,
                const std::string& units, viz::PageModel& model) {
  const scenes::Tote& tote = result.tote;
  const solver::ShellMesh& mesh = tote.model.mesh;
  const solver::ShellFields& fields = result.findings.loaded_fields;
  const auto add = [&](const std::string& name, const std::string& unit, viz::CornerValues values) {
    double largest = 0;
    const double top = viz::bar_top(tote, values, parts.cloth, largest);
    model.fields.push_back({name, unit, "at full load", std::move(values), 0, top});
  };
  const double factor = result.steps.empty() ? 1 : result.steps.back().load_factor;
  for (const std::string& name : viz::bag_field_names()) {
    viz::ShownField shown =
        viz::shown_field(viz::bag_field_named(name), tote, result.loaded, fields, factor, units);
    if (shown.known) add(shown.name, shown.unit, std::move(shown.values));
  }
  const scenes::ShownUnit length = scenes::length_unit(units);
  viz::CornerValues moved(mesh.triangles.size());
  for (std::size_t t = 0; t < moved.size(); ++t) {
    for (int c = 0; c < 3; ++c) {
      const int node = mesh.triangles[t].node[c];
      moved[t][c] = (result.loaded.x.col(node) - result.empty.x.col(node)).norm() * length.per_SI;
    }
  }
  add("moved from the empty shape", length.name, std::move(moved));
}

// On the outside of the strap as it is drawn, so that no stitch is buried.
Eigen::Matrix3Xd stitch_places(const scenes::Tote& tote, const Eigen::Matrix3Xd& x_m,
                               const Eigen::Matrix3Xd& lifted_x_m) {
  constexpr double kAbove_m = 1.5e-3;
  const solver::ShellMesh& mesh = tote.model.mesh;
  const auto& stitches = tote.model.stitches;
  Eigen::Matrix3Xd places(3, static_cast<Eigen::Index>(stitches.size()));
  for (std::size_t i = 0; i < stitches.size(); ++i) {
    const solver::Stitch& stitch = stitches[i];
    places.col(static_cast<Eigen::Index>(i)) = solver::position_of(mesh, lifted_x_m, stitch.a) +
                                               kAbove_m * solver::normal_of(mesh, x_m, stitch.b);
  }
  return places;
}

void add_stitches(const studies::HangResult& result, viz::PageModel& model) {
  const scenes::Tote& tote = result.tote;
  const Eigen::Matrix3Xd forces = solver::stitch_forces(tote.model, result.loaded);
  const viz::PointCloudData data = viz::stitch_data(tote, result.loaded.x, forces);
  const auto component = [&](const char* name, Eigen::Index i) {
    for (const viz::NamedArray& array : data.arrays) {
      if (array.name == name) return array.values(0, i);
    }
    return std::nan("");
  };
  model.stitches.resize(tote.model.stitches.size());
  for (const scenes::AttachmentSite& site : tote.attachments) {
    int number = 0;
    for (const int i : site.stitches) {
      model.stitches[static_cast<std::size_t>(i)] = {site.name,
                                                     ++number,
                                                     forces.col(i).norm(),
                                                     component("force_along_strap_N", i),
                                                     component("force_across_strap_N", i),
                                                     component("force_peel_N", i)};
    }
  }
}

}  // namespace

viz::PageModel tote_page_model(const std::string& name, const studies::HangResult& result,
                               const std::string& units) {
  const scenes::Tote& tote = result.tote;
  const viz::DrawnParts parts(tote.model.mesh);
  viz::PageModel model;
  model.name = name;
  model.mesh = &tote.model.mesh;
  model.group = tote.part;
  model.parts = {{parts.cloth, viz::kClothColour, true},
                 {parts.straps, viz::kStrapColour, false},
                 {parts.sheet, viz::kSheetColour, false}};
  const std::vector<solver::BodyPose>& things = result.loaded.bodies;
  if (!things.empty()) {
    viz::MeshWithThings all = viz::mesh_with_things(tote);
    model.own_mesh = std::make_shared<const solver::ShellMesh>(std::move(all.mesh));
    model.mesh = model.own_mesh.get();
    model.group = std::move(all.part_of);
    model.parts.push_back({std::move(all.things), viz::kThingColour, false});
  }
  model.units = units;
  model.has_readings = result.findings.converged();
  const auto add_step = [&](double factor, const Eigen::Matrix3Xd& x, double sag, double drop) {
    const Eigen::Matrix3Xd lifted = viz::with_straps_lifted(tote, x, parts.straps);
    // Things grow into their places as the load rises.
    const Eigen::Matrix3Xd all =
        things.empty() ? lifted : viz::places_with_things(tote, lifted, things, factor);
    model.steps.push_back({factor, all, stitch_places(tote, x, lifted), sag, drop});
  };
  const scenes::Findings& found = result.findings;
  add_step(0, result.empty.x, 0, found.strap_drop_empty_m);
  const bool whole = !result.steps.empty() && result.steps.back().load_factor >= 1;
  if (whole && found.converged()) {
    const solver::State& first = result.steps.front().state;
    const solver::State& last = result.steps.back().state;
    const viz::StepMesh coarse{result.coarse, first.x, last.x};
    const viz::StepMesh fine{tote, result.empty.x, result.loaded.x};
    const scenes::Tote& on = result.coarse;
    const double sag_change = found.bottom_sag_m - scenes::bottom_sag(on, first, last);
    const double empty_drop_change = found.strap_drop_empty_m - scenes::strap_drop(on, first);
    const double loaded_drop_change = found.strap_drop_loaded_m - scenes::strap_drop(on, last);
    for (std::size_t i = 1; i + 1 < result.steps.size(); ++i) {
      const solver::LoadStep& step = result.steps[i];
      // Read off the coarse mesh, and moved by what the finer mesh changes at full load.
      const double f = step.load_factor;
      add_step(f, viz::carried_over(coarse, step.state.x, f, fine),
               scenes::bottom_sag(on, first, step.state) + f * sag_change,
               scenes::strap_drop(on, step.state) + (1 - f) * empty_drop_change +
                   f * loaded_drop_change);
    }
  }
  add_step(1, result.loaded.x, found.bottom_sag_m, found.strap_drop_loaded_m);
  add_fields(result, parts, units, model);
  add_stitches(result, model);
  return model;
}

}  // namespace totebench::app
