#include "app/present/fields/fields.hpp"

#include <fmt/format.h>

#include "totebench/scenes/unit_text.hpp"

namespace totebench::app {
namespace {

// Ends of keys and the units they stand for; of two that fit the longer comes first.
constexpr std::pair<const char*, const char*> kUnits[] = {
    {"_N_per_m", "N/m"}, {"_N", "N"}, {"_m2", "m2"}, {"_m", "m"},   {"_kg", "kg"},
    {"_Pa", "Pa"},       {"_J", "J"}, {"_s", "s"},   {"_Hz", "Hz"}, {"_rad", "rad"},
};

bool ends_in(const std::string& text, const std::string& end) {
  return text.size() >= end.size() && text.compare(text.size() - end.size(), end.size(), end) == 0;
}

std::optional<scenes::Dimension> dimension_of(const std::string& si_unit) {
  using D = scenes::Dimension;
  for (const D d : {D::kLength, D::kMass, D::kForce, D::kForcePerLength, D::kPressure}) {
    if (scenes::si_unit(d) == si_unit) return d;
  }
  return std::nullopt;
}

Json null_allowed(Json type) {
  if (type.contains("type")) {
    type["type"] = {type["type"], "null"};
  } else if (type.contains("enum")) {
    type["enum"].push_back(nullptr);
  } else {
    type = {{"anyOf", {type, {{"type", "null"}}}}};
  }
  return type;
}

Json property_of(const FieldMeaning& field, Json& definitions) {
  Json property = field.type(definitions);
  if (field.may_be_null) property = null_allowed(std::move(property));
  // Readers of draft 07 leave out what stands beside $ref.
  if (property.contains("$ref")) property = {{"allOf", {property}}};
  property["description"] = field.doc;
  return property;
}

}  // namespace

std::string unit_of_key(const std::string& key) {
  for (const auto& [end, unit] : kUnits) {
    if (ends_in(key, end)) return unit;
  }
  return "";
}

std::string doc_with_unit(const std::string& doc, const std::string& key) {
  const std::string unit = unit_of_key(key);
  return unit.empty() ? doc : fmt::format("{} In {}.", doc, unit);
}

std::string heading_text(const std::string& heading, const std::string& si_unit,
                         const std::string& units) {
  if (si_unit.empty()) return heading;
  const auto dimension = dimension_of(si_unit);
  return heading + ", " + (dimension ? scenes::shown_unit(*dimension, units).name : si_unit);
}

std::string cell_text(const std::optional<Json>& value, const std::string& si_unit,
                      const std::string& units) {
  if (!value) return "";
  if (value->is_string()) return value->get<std::string>();
  if (value->is_number_integer()) return value->dump();
  const double number = value->is_number() ? value->get<double>() : std::nan("");
  const auto dimension = dimension_of(si_unit);
  return dimension ? scenes::shown_number(number, *dimension, units) : scenes::number_text(number);
}

std::string cell_with_unit(const std::optional<Json>& value, const std::string& si_unit,
                           const std::string& units) {
  if (!value) return "";
  const auto dimension = dimension_of(si_unit);
  if (!dimension) return cell_text(value, si_unit, units) + " " + si_unit;
  return scenes::shown_text(value->is_number() ? value->get<double>() : std::nan(""), *dimension,
                            units);
}

Json defined(const std::string& name, const std::string& doc,
             const std::vector<FieldMeaning>& fields, Json& definitions) {
  if (!definitions.contains(name)) {
    definitions[name] = nullptr;  // takes the place before what it refers to
    Json properties = Json::object();
    Json required = Json::array();
    Json together = Json::object();
    for (const FieldMeaning& field : fields) {
      properties[field.key] = property_of(field, definitions);
      if (field.required) required.push_back(field.key);
      if (field.comes_with.empty() || field.comes_with == field.key) continue;
      together[field.comes_with].push_back(field.key);
      together[field.key].push_back(field.comes_with);
    }
    definitions[name] = {{"type", "object"},
                         {"description", doc},
                         {"properties", properties},
                         {"required", required},
                         {"additionalProperties", false}};
    if (!together.empty()) definitions[name]["dependencies"] = together;
  }
  return {{"$ref", "#/definitions/" + name}};
}

std::string file_text(const Json& json) {
  return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

std::string schema_text(const std::string& title, Json root, const Json& definitions) {
  Json schema = {
      {"$schema", "http://json-schema.org/draft-07/schema#"},
      {"title", title},
      {"description",
       "SI units throughout, named at the end of every key. z is up; forces of a support "
       "on the bag are positive upwards."}};
  // Readers of draft 07 leave out what stands beside $ref.
  if (root.contains("$ref")) root = {{"allOf", {root}}};
  schema.update(root);
  schema["definitions"] = definitions;
  return file_text(schema);
}

}  // namespace totebench::app
