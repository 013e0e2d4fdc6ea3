// From a hang to the model of the 3-D view.
#include <algorithm>
#include <cmath>

#include "app/report_page.hpp"
#include "viz/bag_field.hpp"
#include "viz/drawn_bag.hpp"
#include "viz/fields.hpp"
#include "viz/unit_text.hpp"

namespace totebench {
namespace {

void add_fields(const HangResult& result, const DrawnParts& parts, const std::string& units,
                PageModel& model) {
  const Tote& tote = result.tote;
  const ShellMesh& mesh = tote.model.mesh;
  const ShellFields fields = shell_fields(tote.model, result.loaded);
  const auto add = [&](const std::string& name, const std::string& unit, CornerValues values) {
    double largest = 0;
    const double top = bar_top(tote, values, parts.cloth, largest);
    model.fields.push_back({name, unit, "at full load", std::move(values), 0, top});
  };
  const double factor = result.steps.empty() ? 1 : result.steps.back().load_factor;
  for (const std::string& name : bag_field_names()) {
    ShownField shown =
        shown_field(bag_field_named(name), tote, result.loaded, fields, factor, units);
    if (shown.known) add(shown.name, shown.unit, std::move(shown.values));
  }
  const ShownUnit length = length_unit(units);
  CornerValues moved(mesh.triangles.size());
  for (std::size_t t = 0; t < moved.size(); ++t) {
    for (int c = 0; c < 3; ++c) {
      const int node = mesh.triangles[t].node[c];
      moved[t][c] = (result.loaded.x.col(node) - result.empty.x.col(node)).norm() * length.per_SI;
    }
  }
  add("moved from the empty shape", length.name, std::move(moved));
}

// On the outside of the strap as it is drawn, so that no stitch is buried.
Eigen::Matrix3Xd stitch_places(const Tote& tote, const Eigen::Matrix3Xd& x_m,
                               const Eigen::Matrix3Xd& lifted_x_m) {
  constexpr double kAbove_m = 1.5e-3;
  const ShellMesh& mesh = tote.model.mesh;
  const auto& stitches = tote.model.stitches;
  Eigen::Matrix3Xd places(3, static_cast<Eigen::Index>(stitches.size()));
  for (std::size_t i = 0; i < stitches.size(); ++i) {
    const Stitch& stitch = stitches[i];
    places.col(static_cast<Eigen::Index>(i)) =
        position_of(mesh, lifted_x_m, stitch.a) + kAbove_m * normal_of(mesh, x_m, stitch.b);
  }
  return places;
}

void add_stitches(const HangResult& result, PageModel& model) {
  const Tote& tote = result.tote;
  const Eigen::Matrix3Xd forces = stitch_forces(tote.model, result.loaded);
  const PointCloudData data = stitch_data(tote, result.loaded.x, forces);
  const auto component = [&](const char* name, Eigen::Index i) {
    for (const NamedArray& array : data.arrays) {
      if (array.name == name) return array.values(0, i);
    }
    return std::nan("");
  };
  model.stitches.resize(tote.model.stitches.size());
  for (const AttachmentSite& site : tote.attachments) {
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

PageModel tote_page_model(const std::string& name, const HangResult& result,
                          const std::string& units) {
  const Tote& tote = result.tote;
  const DrawnParts parts(tote.model.mesh);
  PageModel model;
  model.name = name;
  model.mesh = &tote.model.mesh;
  model.group = tote.part;
  model.parts = {{parts.cloth, kClothColour, true},
                 {parts.straps, kStrapColour, false},
                 {parts.sheet, kSheetColour, false}};
  model.units = units;
  model.has_readings = result.findings.converged();
  const auto add_step = [&](double factor, const Eigen::Matrix3Xd& x, double sag, double drop) {
    const Eigen::Matrix3Xd lifted = with_straps_lifted(tote, x, parts.straps);
    model.steps.push_back({factor, lifted, stitch_places(tote, x, lifted), sag, drop});
  };
  const Findings& found = result.findings;
  add_step(0, result.empty.x, 0, found.strap_drop_empty_m);
  const bool whole = !result.steps.empty() && result.steps.back().load_factor >= 1;
  if (whole && found.converged()) {
    const State& first = result.steps.front().state;
    const State& last = result.steps.back().state;
    const StepMesh coarse{result.coarse, first.x, last.x};
    const StepMesh fine{tote, result.empty.x, result.loaded.x};
    const Tote& on = result.coarse;
    const double sag_change = found.bottom_sag_m - bottom_sag(on, first, last);
    const double empty_drop_change = found.strap_drop_empty_m - strap_drop(on, first);
    const double loaded_drop_change = found.strap_drop_loaded_m - strap_drop(on, last);
    for (std::size_t i = 1; i + 1 < result.steps.size(); ++i) {
      const LoadStep& step = result.steps[i];
      // Read off the coarse mesh, and moved by what the finer mesh changes at full load.
      const double f = step.load_factor;
      add_step(f, carried_over(coarse, step.state.x, f, fine),
               bottom_sag(on, first, step.state) + f * sag_change,
               strap_drop(on, step.state) + (1 - f) * empty_drop_change + f * loaded_drop_change);
    }
  }
  add_step(1, result.loaded.x, found.bottom_sag_m, found.strap_drop_loaded_m);
  add_fields(result, parts, units, model);
  add_stitches(result, model);
  return model;
}

}  // namespace totebench
