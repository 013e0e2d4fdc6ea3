#include "totebench/scenes/schema.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <nlohmann/json.hpp>

#include "scenes/format/keys/keys.hpp"

namespace totebench::scenes {
namespace {

using Json = nlohmann::ordered_json;

std::string definition_name(std::string name) {
  std::replace(name.begin(), name.end(), ' ', '_');
  return name;
}

Json reference(const std::string& definition) {
  return {{"$ref", fmt::format("#/definitions/{}", definition_name(definition))}};
}

std::string escaped(std::string_view unit) {
  std::string out;
  for (const char c : unit) {
    if (std::string_view("^.*+?()[]{}|\\/").find(c) != std::string_view::npos) out += '\\';
    out += c;
  }
  return out;
}

// A number as written at a cutting table, then one of the units.
std::string quantity_pattern(Dimension dimension) {
  std::string units;
  for (const Unit& unit : units_of(dimension)) {
    if (!units.empty()) units += '|';
    units += escaped(unit.name);
  }
  return fmt::format("^[ ]*[-+]?[ ]*[0-9.¼½¾⅛⅜⅝⅞⅓⅔][-+0-9./eE ¼½¾⅛⅜⅝⅞⅓⅔]*[ ]*({})[ ]*$", units);
}

Json quantity_schema(Dimension dimension) {
  return {{"type", "string"},
          {"description", std::string(dimension_name(dimension))},
          {"pattern", quantity_pattern(dimension)}};
}

std::string quantity_definition(Dimension dimension) {
  return std::string(dimension_name(dimension)).substr(dimension_name(dimension).find(' ') + 1);
}

Json bounded(const std::string& type, const Key& key) {
  Json out = {{"type", type}};
  if (std::isfinite(key.possible.low)) out["minimum"] = key.possible.low;
  if (std::isfinite(key.possible.high)) out["maximum"] = key.possible.high;
  return out;
}

class SchemaWriter {
 public:
  Json write() {
    Json root = {{"$schema", "http://json-schema.org/draft-07/schema#"},
                 {"title", "totebench scene"}};
    root.update(table(scene_keys()));
    root["definitions"] = definitions_;
    return root;
  }

 private:
  Json quantity(Dimension dimension) {
    const std::string name = quantity_definition(dimension);
    definitions_[definition_name(name)] = quantity_schema(dimension);
    return reference(name);
  }

  Json child(const KeyTable& children) {
    const std::string name = definition_name(children.name);
    if (!definitions_.contains(name)) {
      definitions_[name] = nullptr;  // takes the place before its own children do
      definitions_[name] = table(children);
    }
    return reference(children.name);
  }

  Json value(const Key& key) {
    switch (key.type) {
      case KeyType::kQuantity:
        return quantity(key.dimension);
      case KeyType::kReadings:
        return {{"anyOf",
                 {quantity(key.dimension),
                  {{"type", "array"}, {"items", quantity(key.dimension)}, {"minItems", 1}}}}};
      case KeyType::kNumber:
        return bounded("number", key);
      case KeyType::kInteger:
        return bounded("integer", key);
      case KeyType::kBoolean:
        return {{"type", "boolean"}};
      case KeyType::kChoice:
        return {{"enum", key.choices}};
      case KeyType::kText:
        return key.choices.empty() ? Json{{"type", "string"}} : Json{{"enum", key.choices}};
      case KeyType::kMaterial:
      case KeyType::kThread:
      case KeyType::kStitch:
        return {{"type", "string"}};
      case KeyType::kAxes:
        return {{"type", "string"}, {"pattern", "^[xyz]{0,3}$"}};
      case KeyType::kVector:
        return {{"type", "array"},
                {"items", quantity(key.dimension)},
                {"minItems", 3},
                {"maxItems", 3}};
      case KeyType::kObject:
        return child(*key.children);
      case KeyType::kList: {
        Json out = {{"type", "array"}, {"items", child(*key.children)}};
        if (key.presence != Presence::kOptional) out["minItems"] = 1;
        return out;
      }
      case KeyType::kNamed:
        return {{"type", "object"}, {"additionalProperties", child(*key.children)}};
      case KeyType::kProperty:
        return property(key);
      case KeyType::kPatch:
        return {{"type", "object"}};
      case KeyType::kValue:
        return {{"type", {"string", "number", "boolean", "array"}}};
      case KeyType::kValues:
        return {{"type", "array"}, {"minItems", 1}};
      case KeyType::kExpect:
        return {{"type", "object"},
                {"additionalProperties",
                 {{"type", "array"},
                  {"items", {{"type", "string"}}},
                  {"minItems", 2},
                  {"maxItems", 2}}}};
    }
    return Json::object();
  }

  Json property(const Key& key) {
    const Json number =
        key.dimension == Dimension::kNone ? Json{{"type", "number"}} : quantity(key.dimension);
    Json parts = {{"value", number}, {"low", number}, {"high", number}};
    for (const char* text : {"source", "grade", "note", "bound"})
      parts[text] = {{"type", "string"}};
    const Json scattered = {{"type", "object"},
                            {"properties", parts},
                            {"required", {"value"}},
                            {"additionalProperties", false}};
    return {{"anyOf", {number, scattered}}};
  }

  static std::string description(const Key& key) {
    std::string out = key.doc;
    if (!key.when.key.empty()) {
      out += fmt::format(" Only when {} is ", key.when.key);
      for (std::size_t i = 0; i < key.when.values.size(); ++i) {
        out += fmt::format("{}\"{}\"", i == 0 ? "" : " or ", key.when.values[i]);
      }
      out += ".";
    }
    if (!key.plausible.text.empty()) out += fmt::format(" Usual: {}.", key.plausible.text);
    if (key.presence != Presence::kRequired && key.type != KeyType::kObject) {
      out += fmt::format(" When absent: {}.", key.default_text);
    }
    return out;
  }

  Json table(const KeyTable& table) {
    Json properties = Json::object();
    Json required = Json::array();
    for (const Key& key : table.keys) {
      Json entry = value(key);
      // Draft-07 readers ignore what stands beside $ref, so it goes into an allOf.
      if (entry.contains("$ref")) entry = {{"allOf", {entry}}};
      entry["description"] = description(key);
      properties[key.name] = entry;
      if (key.presence == Presence::kRequired && key.when.key.empty()) required.push_back(key.name);
    }
    Json out = {{"type", "object"},
                {"description", table.doc},
                {"properties", properties},
                {"additionalProperties", false}};
    if (!required.empty()) out["required"] = required;
    const Json rules = conditions(table);
    if (!rules.empty()) out["allOf"] = rules;
    return out;
  }

  // One rule for all keys that depend on the same choice.
  static Json conditions(const KeyTable& table) {
    std::vector<const When*> seen;
    Json rules = Json::array();
    for (const Key& key : table.keys) {
      const auto same = [&](const When* w) {
        return w->key == key.when.key && w->values == key.when.values;
      };
      if (key.when.key.empty() || std::any_of(seen.begin(), seen.end(), same)) continue;
      seen.push_back(&key.when);
      Json required = Json::array();
      Json forbidden = Json::object();
      for (const Key& other : table.keys) {
        if (!(other.when.key == key.when.key && other.when.values == key.when.values)) continue;
        forbidden[other.name] = false;
        if (other.presence == Presence::kRequired) required.push_back(other.name);
      }
      Json test = {{"properties", {{key.when.key, {{"enum", key.when.values}}}}}};
      const Key* choice = table.find(key.when.key);
      const bool by_default =
          choice != nullptr &&
          std::count(key.when.values.begin(), key.when.values.end(), choice->default_text) > 0;
      if (!by_default) test["required"] = {key.when.key};
      Json rule = {{"if", test}};
      if (!required.empty()) rule["then"] = {{"required", required}};
      rule["else"] = {{"properties", forbidden}};
      rules.push_back(rule);
    }
    return rules;
  }

  Json definitions_ = Json::object();
};

}  // namespace

std::string scene_schema_json() { return SchemaWriter().write().dump(2) + "\n"; }

}  // namespace totebench::scenes
