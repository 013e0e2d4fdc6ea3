// The compiled part of the Python package: totebench._bench. What it says of its classes is what
// help() shows; how the functions are called from outside is in totebench/__init__.py.
#include <pybind11/pybind11.h>
#include <pybind11/stl.h>
#include <pybind11/stl/filesystem.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "app/present/fields/schemas.hpp"
#include "app/present/material_entries.hpp"
#include "app/python/results.hpp"
#include "app/python/scene.hpp"
#include "app/python/studies.hpp"
#include "totebench/scenes/explain.hpp"
#include "totebench/scenes/schema.hpp"

namespace totebench::app::python {
namespace {

namespace py = pybind11;
using Json = nlohmann::ordered_json;

std::string text_of(const Json& json) {
  return json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

std::string materials_called(const std::string& words) {
  const materials::MaterialLibrary all = library();
  const std::vector<MaterialEntry> entries = material_entries(all);
  const std::vector<std::string> ids =
      words.empty() ? std::vector<std::string>{} : ids_called(all, entries, words);
  if (!words.empty() && ids.empty()) throw py::value_error(nothing_called_text(all, words));
  Json json = Json::array();
  for (const MaterialEntry& entry : entries) {
    if (!words.empty() && std::count(ids.begin(), ids.end(), entry.id) == 0) continue;
    json.push_back(entry_tree(all, entry));
  }
  return text_of(json);
}

std::string explained(const std::string& key) {
  const scenes::Explanation told = scenes::explain(key);
  if (!told.found) throw py::value_error(told.text);
  return scenes::explain_json(key);
}

std::string schema_of(const std::string& result) {
  if (result == "scene") return scenes::scene_schema_json();
  std::string known = "scene";
  for (const ResultSchema& schema : kResultSchemas) {
    if (result == schema.name) return schema.text();
    known += std::string(", ") + schema.name;
  }
  throw py::value_error("there is no schema of \"" + result + "\"; there are: " + known);
}

void bind_shapes(py::module_& module) {
  py::class_<Shape>(module, "Shape",
                    "A surface of second-order triangles in one state, as the .vtu files have it.\n"
                    "Every array is read-only, shares the memory of the result and keeps it alive.")
      .def_property_readonly("load_factor", &Shape::load_factor,
                             "Share of the contents that is in: 0 empty, 1 loaded.")
      .def_property_readonly("points", &Shape::points, "Places of the nodes, (nodes, 3), m; z up.")
      .def_property_readonly("triangles", &Shape::triangles,
                             "Nodes of each triangle, (triangles, 6): corners 0 1 2, then the "
                             "middles of edges 0-1, 1-2, 2-0.")
      .def_property_readonly("flat", &Shape::flat,
                             "Where the nodes of each triangle lie when nothing pulls on it, as it "
                             "was cut, (triangles, 6, 3), m.")
      .def_property_readonly("node_fields", &Shape::node_fields,
                             "By name, which ends in the unit: one row a node.")
      .def_property_readonly("triangle_fields", &Shape::triangle_fields,
                             "By name, which ends in the unit: one row a triangle.")
      .def_property_readonly("labels", &Shape::labels,
                             "For fields that are numbers of something: its names by number.");
  py::class_<Points>(module, "Points",
                     "Loose points with what is known at each; arrays as in Shape.")
      .def_property_readonly("points", &Points::points, "(points, 3), m.")
      .def_property_readonly("fields", &Points::fields,
                             "By name, which ends in the unit: one row a point.")
      .def_property_readonly("labels", &Points::labels,
                             "For fields that are numbers of something: its names by number.");
}

// What all that came to rest has alike. `command` writes the same.
template <class Class, class Bound>
void bind_rest(Bound& bound, const std::string& command) {
  const std::string writes =
      "Writes what `totebench " + command +
      "` writes into a folder, for PyVista, meshio, ParaView and a browser: .vtu and .vtp files, "
      "numbers as JSON, report.html, and a picture unless that is False. Returns the names of the "
      "files; raises OSError where one could not be written.";
  bound
      .def_property_readonly("scene", &Class::scene,
                             "The scene with every default written out, quantities in SI.")
      .def_property_readonly("placed", &Class::placed,
                             "Places of the nodes before anything pulls, (nodes, 3), m.")
      .def_property_readonly("loaded", &Class::loaded, "Shape under the whole load.")
      .def("write", &Class::write, py::arg("folder"), py::arg("picture") = true, writes.c_str());
}

void bind_results(py::module_& module) {
  py::class_<Result, std::shared_ptr<Result>>(
      module, "Result", "What a study found; print() tells it in words, with its cautions.")
      .def_property_readonly("findings", &Result::findings,
                             "All numbers, SI, as the command prints them with --json.")
      .def_property_readonly("_found", &Result::found)
      .def_property_readonly("_sentence", &Result::sentence)
      .def_property_readonly("_advice", &Result::advice)
      .def("__str__", &Result::text)
      .def("__repr__", [](const py::object& self) {
        const auto type = py::type::of(self).attr("__name__").cast<std::string>();
        return "<totebench." + type + ": " + self.cast<const Result&>().sentence() + ">";
      });
  py::class_<Hung, Result, std::shared_ptr<Hung>> hung(module, "Hung", "A tote that hung.");
  bind_rest<Hung>(hung, "hang");
  hung.def_property_readonly("empty", &Hung::empty, "Shape without contents.")
      .def_property_readonly("steps", &Hung::steps,
                             "Shapes with the load rising, on a coarser mesh of their own.")
      .def_property_readonly("stitches", &Hung::stitches,
                             "The stitches of the straps, and the force on each.");
  py::class_<HungSheet, Result, std::shared_ptr<HungSheet>> sheet(module, "HungSheet",
                                                                  "A sheet under its load.");
  bind_rest<HungSheet>(sheet, "hang");
  sheet.def_property_readonly("steps", &HungSheet::steps, "Shapes with the load rising.");
  py::class_<Stood, Result, std::shared_ptr<Stood>> stood(module, "Stood",
                                                          "A tote put on a table.");
  bind_rest<Stood>(stood, "stand");
  stood.def_property_readonly("empty", &Stood::empty, "Shape without contents.");
  py::class_<Carried, Result, std::shared_ptr<Carried>>(module, "Carried", "A tote in motion.")
      .def_property_readonly("events", &Carried::events,
                             "For each thing done with the bag, by name: arrays over time, by "
                             "name, which ends in the unit.");
  py::class_<Rated, Result, std::shared_ptr<Rated>>(
      module, "Rated", "A tote with its cautious rated mass: to be read with its cautions.")
      .def_property_readonly("hung", &Rated::first, "The same tote, hung under its own contents.");
  py::class_<Chosen, Result, std::shared_ptr<Chosen>>(module, "Chosen",
                                                      "The build that was chosen.")
      .def_property_readonly("hung", &Chosen::first,
                             "That build, hung; where none keeps to the limits, the nearest.");
  py::class_<Compared, Result, std::shared_ptr<Compared>>(module, "Compared", "Totes side by side.")
      .def_property_readonly("bags", &Compared::bags, "Each of them, hung.");
}

void bind_scenes(py::module_& module) {
  py::class_<Misfit>(module, "Misfit")
      .def(py::init<std::string, std::string, std::string>(), py::arg("pointer"),
           py::arg("message"), py::arg("hint"));
  py::class_<Reading>(module, "Reading")
      .def_property_readonly("good", &Reading::good)
      .def_property_readonly("checked", &Reading::checked)
      .def_property_readonly("faults", &Reading::faults);
  module.def("use_library", [](const std::string& folder) { library_folder() = folder; });
  module.def("read_file", &read_file);
  module.def("read_text", &read_text);
  module.def("plain_text", &plain_text);
  module.def("materials", &materials_called);
  module.def("explain", &explained);
  module.def("schema", &schema_of);
}

void bind_studies(py::module_& module) {
  py::class_<studies::HangProgress>(module, "Progress", "How far a study has come.")
      .def_readonly("stage", &studies::HangProgress::stage, "What is being solved, in words.")
      .def_property_readonly(
          "load_factor", [](const studies::HangProgress& now) { return now.step.load_factor; },
          "Share of the load that is on.")
      .def_property_readonly(
          "residual_relative",
          [](const studies::HangProgress& now) { return now.step.residual_relative; },
          "Force that is not balanced yet, over the load.")
      .def_readonly("share_done", &studies::HangProgress::share_done,
                    "Of the stage; 0 where that is not known.");
  module.def("hang", &hang);
  module.def("stand", &stand);
  module.def("rate", &rate);
  module.def("carry", &carry);
  module.def("choose", &choose);
  module.def("compare", &compare);
}

}  // namespace
}  // namespace totebench::app::python

PYBIND11_MODULE(_bench, module) {
  namespace python = totebench::app::python;
  module.attr("__version__") = TOTEBENCH_VERSION;
  python::bind_shapes(module);
  python::bind_results(module);
  python::bind_scenes(module);
  python::bind_studies(module);
}
