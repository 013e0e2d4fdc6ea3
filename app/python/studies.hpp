// The studies as Python calls them: what the commands do, one function each. Each throws
// std::invalid_argument for a scene it cannot take, and what stopped it (watch.hpp).
#pragma once

#include <pybind11/pybind11.h>

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "app/python/results.hpp"
#include "app/python/scene.hpp"

namespace totebench::app::python {

// `units` is in, cm, si, or "" for the scene's own: those of the texts; so below.
[[nodiscard]] std::shared_ptr<Result> hang(const Reading& reading, const std::string& units,
                                           bool ranges, const pybind11::object& progress);
[[nodiscard]] std::shared_ptr<Stood> stand(const Reading& reading, const std::string& units,
                                           const pybind11::object& progress);
// Left out, factor and samples are those of the scene.
[[nodiscard]] std::shared_ptr<Rated> rate(const Reading& reading, const std::string& units,
                                          std::optional<double> factor, std::optional<int> samples,
                                          bool changes, const pybind11::object& progress);
[[nodiscard]] std::shared_ptr<Carried> carry(const Reading& reading, const std::string& units,
                                             double cadence_per_min, double damping,
                                             const pybind11::object& progress);
[[nodiscard]] std::shared_ptr<Chosen> choose(const Reading& reading, const std::string& units,
                                             const pybind11::object& progress);
[[nodiscard]] std::shared_ptr<Compared> compare(const std::vector<Reading>& readings,
                                                const std::string& units, bool ranges,
                                                const pybind11::object& progress);

}  // namespace totebench::app::python
