#include "app/python/studies.hpp"

#include <algorithm>
#include <filesystem>
#include <stdexcept>
#include <utility>

#include "app/present/bags_to_compare.hpp"
#include "app/present/carry_report.hpp"
#include "app/present/choose_report.hpp"
#include "app/present/compare_report.hpp"
#include "app/present/hang_report.hpp"
#include "app/present/rate_report.hpp"
#include "app/python/watch.hpp"
#include "totebench/studies/choose.hpp"
#include "totebench/studies/compare.hpp"
#include "totebench/studies/ranges.hpp"
#include "totebench/studies/rate.hpp"

namespace totebench::app::python {
namespace {

namespace py = pybind11;
using studies::OnHangProgress;

// What `study(on_progress)` returns, worked out as watched() does.
template <class Study>
auto studied(const py::object& progress, const Study& study) {
  using Found = decltype(study(std::declval<const OnHangProgress&>()));
  auto found = std::make_shared<Found>();
  watched(progress, [&](const OnHangProgress& on_progress) { *found = study(on_progress); });
  return found;
}

// A bag that is part of what another study found.
template <class Study>
std::shared_ptr<Hung> hung_of(scenes::Scene scene, materials::MaterialLibrary library,
                              const std::shared_ptr<Study>& study,
                              const studies::HangResult& hang) {
  return std::make_shared<Hung>(std::move(scene), std::move(library),
                                std::shared_ptr<const studies::HangResult>(study, &hang));
}

}  // namespace

std::shared_ptr<Result> hang(const Reading& reading, const std::string& units, bool ranges,
                             const py::object& progress) {
  scenes::Scene scene = reading.scene(units);
  materials::MaterialLibrary own = scenes::library_of(scene, reading.library);
  if (scene.kind == scenes::SceneKind::kSheet) {
    const auto found = studied(progress, [&](const OnHangProgress& on_progress) {
      return studies::hang_sheet(scene, own, on_progress);
    });
    return std::make_shared<HungSheet>(std::move(scene), std::move(own), found);
  }
  const auto found = studied(progress, [&](const OnHangProgress& on_progress) {
    studies::HangResult hung = studies::hang_tote(scene, own, on_progress);
    if (ranges) studies::add_ranges(scene, own, hung, on_progress);
    return hung;
  });
  return std::make_shared<Hung>(std::move(scene), std::move(own), found);
}

std::shared_ptr<Stood> stand(const Reading& reading, const std::string& units,
                             const py::object& progress) {
  scenes::Scene scene = reading.tote(units, "a sheet is no bag to put down");
  if (const std::string why = studies::why_not_stood(scene); !why.empty()) {
    throw std::invalid_argument("/bag/shape: " + why + "; give it one (boxed, gusset), or hang it");
  }
  materials::MaterialLibrary own = scenes::library_of(scene, reading.library);
  const auto found = studied(progress, [&](const OnHangProgress& on_progress) {
    return studies::stand_tote(scene, own, on_progress);
  });
  return std::make_shared<Stood>(std::move(scene), std::move(own), found);
}

std::shared_ptr<Rated> rate(const Reading& reading, const std::string& units,
                            std::optional<double> factor, std::optional<int> samples, bool changes,
                            const py::object& progress) {
  const scenes::Scene scene = reading.tote(units, "only a tote can be rated; this is a sheet");
  const materials::MaterialLibrary own = scenes::library_of(scene, reading.library);
  studies::RateOptions options;
  options.design_factor = factor.value_or(scene.rating.design_factor);
  options.samples = samples.value_or(scene.rating.samples);
  options.seed = scene.rating.seed;
  options.changes = changes;
  const auto found = studied(progress, [&](const OnHangProgress& on_progress) {
    return studies::rate_tote(scene, own, options, on_progress);
  });
  const std::shared_ptr<Hung> bag = hung_of(scene, own, found, found->hang);
  const Told told{rating_json(scene, *found), rate_report(scene, *found, scene.units, {}, ""),
                  found->rated(), bag->advice()};
  return std::make_shared<Rated>(told, std::vector{bag});
}

std::shared_ptr<Carried> carry(const Reading& reading, const std::string& units,
                               double cadence_per_min, double damping, const py::object& progress) {
  const scenes::Scene scene = reading.tote(units, "a sheet cannot be carried");
  const materials::MaterialLibrary own = scenes::library_of(scene, reading.library);
  studies::CarryOptions options;
  options.cadence_Hz = cadence_per_min / 60;
  options.damping_ratio = damping;
  const auto found = studied(progress, [&](const OnHangProgress& on_progress) {
    return studies::carry_tote(scene, own, options, on_progress);
  });
  const auto& events = found->events;
  const bool whole =
      !events.empty() &&
      std::all_of(events.begin(), events.end(), [](const auto& event) { return event.complete; });
  return std::make_shared<Carried>(
      Told{carry_json(scene, *found, options),
           events.empty() ? not_carried_text(scene)
                          : carry_report(scene, *found, options, scene.units, ""),
           whole, ""},
      found);
}

std::shared_ptr<Chosen> choose(const Reading& reading, const std::string& units,
                               const py::object& progress) {
  const scenes::Scene scene = reading.tote(units, "only totes can be chosen; this is a sheet");
  if (!scene.choose) {
    throw std::invalid_argument(
        "the scene says nothing of what there is to choose; add \"choose\" (see "
        "totebench.explain(\"choose\"))");
  }
  const materials::MaterialLibrary own = scenes::library_of(scene, reading.library);
  const auto found = studied(progress, [&](const OnHangProgress& on_progress) {
    return studies::choose_build(scene, reading.read.build, own, {}, on_progress);
  });
  if (found->n_possible() == 0) {
    throw std::invalid_argument("none of the builds can be made; the first: " +
                                found->builds.front().impossible);
  }
  std::vector<std::shared_ptr<Hung>> bags;
  if (found->shown() >= 0) {
    const scenes::Scene shown = chosen_scene(scene, *found);
    bags.push_back(hung_of(shown, scenes::library_of(shown, reading.library), found, found->hang));
  }
  return std::make_shared<Chosen>(
      Told{choose_json(scene, *found), choose_report(*found, scene.units, {}, ""),
           found->shown() >= 0, ""},
      std::move(bags));
}

std::shared_ptr<Compared> compare(const std::vector<Reading>& readings, const std::string& units,
                                  bool ranges, const py::object& progress) {
  std::vector<scenes::ReadResult> read;
  for (const Reading& reading : readings) {
    read.push_back(reading.read);
    std::string& name = read.back().scene->name;
    if (name.empty()) name = std::filesystem::path(reading.file).stem().string();
  }
  const std::vector<scenes::Scene> scenes = bags_to_compare(std::move(read));
  const materials::MaterialLibrary& all = readings.front().library;
  const std::string shown = units.empty() ? scenes.front().units : units;
  const auto found = studied(progress, [&](const OnHangProgress& on_progress) {
    return studies::compare_totes(scenes, all, shown, on_progress, ranges);
  });
  std::vector<std::shared_ptr<Hung>> bags;
  for (const studies::ComparedBag& bag : found->bags) {
    scenes::Scene scene = bag.scene;
    scene.units = shown;
    bags.push_back(hung_of(scene, scenes::library_of(scene, all), found, bag.result));
  }
  return std::make_shared<Compared>(
      Told{comparison_json(*found), comparison_report(*found, shown, {}, ""),
           found->all_converged(), ""},
      std::move(bags));
}

}  // namespace totebench::app::python
