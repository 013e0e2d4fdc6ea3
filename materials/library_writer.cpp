#include "totebench/materials/library_writer.hpp"

#include <fmt/format.h>

#include <cstdlib>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "materials/units.hpp"

namespace totebench::materials {
namespace {

using Json = nlohmann::ordered_json;

double six_digits(double value) {
  return std::strtod(fmt::format("{:.6g}", value).c_str(), nullptr);
}

Json quantity_json(const Quantity& q) {
  const WrittenUnit unit = library_unit(q.unit);
  Json out = {{"value", six_digits(q.value * unit.per_SI)},
              {"low", six_digits(q.low * unit.per_SI)},
              {"high", six_digits(q.high * unit.per_SI)},
              {"unit", unit.name},
              {"source", q.source},
              {"grade", q.grade}};
  if (!q.note.empty()) out["note"] = q.note;
  if (!q.bound.empty()) out["bound"] = q.bound;
  return out;
}

}  // namespace

WrittenUnit library_unit(const std::string& si_unit) {
  static const char* const kWritten[] = {"1",    "mm",  "g/m2", "kg/m3", "N",     "N/m",
                                         "uN.m", "MPa", "1/m",  "kg",    "N/tex", "mN.m/m"};
  for (const char* name : kWritten) {
    const SiUnit* unit = find_unit(name);
    if (unit != nullptr && unit->si == si_unit) return {1 / unit->factor, name};
  }
  throw std::invalid_argument(fmt::format("the library's files have no unit for {}", si_unit));
}

std::string library_file_json(const std::string& about, const std::vector<Material>& materials,
                              const std::vector<Source>& sources) {
  Json root = {{"about", about}, {"sources", Json::object()}, {"materials", Json::array()}};
  for (const Source& source : sources) {
    Json entry = {{"cite", source.cite}, {"kind", source.kind}};
    if (!source.address.empty()) entry["address"] = source.address;
    root["sources"][source.id] = entry;
  }
  for (const Material& material : materials) {
    Json entry = {{"id", material.id}, {"name", material.name}, {"category", material.category}};
    if (!material.note.empty()) entry["note"] = material.note;
    entry["properties"] = Json::object();
    for (const auto& [name, q] : material.properties) entry["properties"][name] = quantity_json(q);
    root["materials"].push_back(entry);
  }
  return root.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace totebench::materials
