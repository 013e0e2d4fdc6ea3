#include "app/python/results.hpp"

#include <fmt/format.h>

#include "app/present/advice.hpp"
#include "app/present/carry_report.hpp"
#include "app/present/findings_json.hpp"
#include "app/present/hang_files.hpp"
#include "app/present/hang_report.hpp"
#include "app/present/stand_report.hpp"
#include "totebench/viz/atomic_file.hpp"
#include "totebench/viz/fields.hpp"

namespace totebench::app::python {
namespace {

namespace py = pybind11;

bool at_rest(const studies::SheetHangResult& result) {
  return result.report.status == solver::SolveStatus::kConverged;
}

Told told_of(const scenes::Scene& scene, const studies::HangResult& result) {
  const scenes::Findings& found = result.findings;
  const bool empty_failed = found.empty.status != solver::SolveStatus::kConverged;
  return {findings_json(scene, result), hang_report(scene, result, scene.units, {}, ""),
          found.converged(), advice_for(empty_failed ? found.empty : found.loaded)};
}

Told told_of(const scenes::Scene& scene, const studies::SheetHangResult& result) {
  return {findings_json(scene, result), hang_report(scene, result, scene.units, {}, ""),
          at_rest(result), advice_for(result.report)};
}

[[noreturn]] void throw_os_error(const std::string& text) {
  PyErr_SetString(PyExc_OSError, text.c_str());
  throw py::error_already_set();
}

// All of it belongs to `owner`.
Shape tote_shape(std::shared_ptr<const void> owner, const scenes::Tote& tote,
                 const solver::State& state, double load_factor,
                 const Eigen::Matrix3Xd& displacement_from_m) {
  return {std::move(owner), tote.model.mesh, state.x, load_factor,
          [&tote, &state, &displacement_from_m] {
            return viz::tote_data(tote, state.x, displacement_from_m,
                                  solver::shell_fields(tote.model, state));
          }};
}

// `write` writes into the folder, which is made. What has no picture here has it missing as well.
template <class Write>
FileNames written_into(const std::filesystem::path& folder, bool picture, const Write& write) {
  if (const std::string problem = viz::check_writable(folder); !problem.empty()) {
    throw_os_error(problem);
  }
  viz::Written written;
  {
    const py::gil_scoped_release released;
    written = write();
  }
  std::vector<std::string> missing = written.failures;
  for (const std::string& problem : written.problems) {
    if (picture || problem.find(".png is missing") == std::string::npos) missing.push_back(problem);
  }
  if (missing.empty()) return written.files;
  std::string text = fmt::format("{}: not all results could be written:", folder.string());
  for (const std::string& one : missing) text += "\n    " + one;
  throw_os_error(text);
}

}  // namespace

py::object dictionary(const std::string& json) {
  return py::module_::import("json").attr("loads")(json);
}

py::object Result::findings() {
  if (!findings_) findings_ = dictionary(told_.json);
  return findings_;
}

// -- a tote that hung --

Hung::Hung(scenes::Scene scene, materials::MaterialLibrary library,
           std::shared_ptr<const studies::HangResult> result)
    : AtRest(told_of(scene, *result), std::move(scene), std::move(library), std::move(result)) {}

py::array Hung::placed() const { return rows(result_->tote.model.mesh.position, result_); }

Shape Hung::empty() const {
  const scenes::Tote& tote = result_->tote;
  return tote_shape(result_, tote, result_->empty, 0, tote.model.mesh.position);
}

Shape Hung::loaded() const {
  const double factor = result_->steps.empty() ? 1 : result_->steps.back().load_factor;
  return tote_shape(result_, result_->tote, result_->loaded, factor, result_->empty.x);
}

std::vector<Shape> Hung::steps() const {
  std::vector<Shape> shapes;
  for (const solver::LoadStep& step : result_->steps) {
    shapes.push_back(tote_shape(result_, result_->coarse, step.state, step.load_factor,
                                result_->steps.front().state.x));
  }
  return shapes;
}

Points Hung::stitches() const {
  const scenes::Tote& tote = result_->tote;
  return Points(viz::stitch_data(tote, result_->loaded.x,
                                 solver::stitch_forces(tote.model, result_->loaded)));
}

FileNames Hung::write(const std::filesystem::path& folder, bool picture) const {
  return written_into(folder, picture, [&] {
    return write_hang_files(
        scene_, *result_, library_, folder,
        picture ? std::optional(viz::usual_field(result_->tote)) : std::nullopt);
  });
}

// -- a sheet that hung --

HungSheet::HungSheet(scenes::Scene scene, materials::MaterialLibrary library,
                     std::shared_ptr<const studies::SheetHangResult> result)
    : AtRest(told_of(scene, *result), std::move(scene), std::move(library), std::move(result)) {}

py::array HungSheet::placed() const { return rows(result_->sheet.model.mesh.position, result_); }

Shape HungSheet::loaded() const { return shape_of(result_->steps.back()); }

std::vector<Shape> HungSheet::steps() const {
  std::vector<Shape> shapes;
  for (const solver::LoadStep& step : result_->steps) shapes.push_back(shape_of(step));
  return shapes;
}

Shape HungSheet::shape_of(const solver::LoadStep& step) const {
  const solver::Model& model = result_->sheet.model;
  return {result_, model.mesh, step.state.x, step.load_factor, [&model, &step] {
            return viz::surface_data(model, step.state.x, model.mesh.position,
                                     solver::shell_fields(model, step.state));
          }};
}

FileNames HungSheet::write(const std::filesystem::path& folder, bool picture) const {
  return written_into(folder, picture, [&] {
    return write_hang_files(scene_, *result_, library_, folder, picture);
  });
}

// -- a tote on a table --

Stood::Stood(scenes::Scene scene, materials::MaterialLibrary library,
             std::shared_ptr<const studies::Standing> result)
    : AtRest({stand_json(scene, *result), stand_report(scene, *result, scene.units, ""),
              result->empty.at_rest() && result->loaded.at_rest(),
              advice_for(result->empty.at_rest() ? result->loaded.report : result->empty.report)},
             std::move(scene), std::move(library), std::move(result)) {}

py::array Stood::placed() const { return rows(result_->as_placed.x, result_); }

Shape Stood::empty() const {
  return tote_shape(result_, result_->empty_tote, result_->empty.state, 0, result_->as_placed.x);
}

Shape Stood::loaded() const {
  return tote_shape(result_, result_->tote, result_->loaded.state, 1, result_->as_placed.x);
}

FileNames Stood::write(const std::filesystem::path& folder, bool picture) const {
  return written_into(folder, picture, [&] {
    return write_stand_files(scene_, *result_, library_, folder, picture);
  });
}

// -- a tote in motion --

py::dict Carried::events() const {
  py::dict events;
  for (const studies::CarryEventResult& event : result_->events) {
    py::dict columns;
    for (const CarryColumn& column : kCarryColumns) {
      columns[column.name] =
          view(event.samples.empty() ? nullptr : &(event.samples.front().*column.value),
               {static_cast<py::ssize_t>(event.samples.size())},
               {static_cast<py::ssize_t>(sizeof(studies::CarrySample))}, result_);
    }
    events[py::str(event.name)] = columns;
  }
  return events;
}

}  // namespace totebench::app::python
