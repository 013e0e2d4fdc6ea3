// The walk over a scene text: which keys are there, missing, unknown or out of place.
#include "scenes/format/value_reader.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>

#include "totebench/scenes/nearest.hpp"

namespace totebench::scenes {
namespace {

using nlohmann::json;

std::string object_name(const std::string& pointer, const KeyTable& whole) {
  return pointer.empty() ? "the " + whole.name : pointer;
}

std::string quoted_list(const std::vector<std::string>& names, const char* last = "or") {
  std::string out;
  for (std::size_t i = 0; i < names.size(); ++i) {
    if (i > 0) out += i + 1 == names.size() ? fmt::format(" {} ", last) : ", ";
    out += fmt::format("\"{}\"", names[i]);
  }
  return out;
}

// Where else a key of this name lives: "bag", "straps.attachment", ...
std::string home_of(const std::string& name, const KeyTable& table, const std::string& path) {
  for (const Key& key : table.keys) {
    if (key.children == nullptr || key.type == KeyType::kNamed) continue;
    const std::string here = path.empty() ? key.name : path + "." + key.name;
    if (key.children->find(name) != nullptr) return here;
    const std::string deeper = home_of(name, *key.children, here);
    if (!deeper.empty()) return deeper;
  }
  return "";
}

std::string cure_of_unknown(const std::string& name, const KeyTable& table, const KeyTable& whole) {
  const std::string near = nearest(name, table.names());
  if (!near.empty()) return fmt::format("did you mean \"{}\"?", near);
  const std::string home = home_of(name, whole, "");
  if (!home.empty()) return fmt::format("\"{}\" belongs in {}", name, home);
  if (table.keys.size() > 15) return "see totebench explain for the keys that are known";
  return fmt::format("known here: {}", quoted_list(table.names(), "and"));
}

// A default as the JSON a person would have written.
json default_json(const Key& key) {
  switch (key.type) {
    case KeyType::kInteger:
    case KeyType::kNumber:
    case KeyType::kBoolean:
    case KeyType::kObject:
      return json::parse(key.default_text);
    default:
      return key.default_text;
  }
}

std::string example_value(const Key& key) {
  switch (key.type) {
    case KeyType::kQuantity:
    case KeyType::kReadings: {
      const std::string_view examples = unit_examples(key.dimension);
      return std::string(examples.substr(0, examples.find(" or ")));
    }
    case KeyType::kNumber:
      return "0.3";
    case KeyType::kInteger:
      return key.name == "schema_version" ? "1" : "4";
    case KeyType::kBoolean:
      return "false";
    case KeyType::kChoice:
      return fmt::format("\"{}\"", key.choices.front());
    case KeyType::kMaterial:
      return "\"quilting_cotton\"";
    case KeyType::kVector: {
      const std::string_view unit = si_unit(key.dimension);
      return fmt::format("[\"0 {0}\", \"0 {0}\", \"0 {0}\"]", unit);
    }
    case KeyType::kObject:
      return "{ ... }";
    case KeyType::kList:
      return "[ ... ]";
    default:
      return "\"...\"";
  }
}

}  // namespace

void ValueReader::read(const json& object_json, const KeyTable& table, const std::string& pointer,
                       void* object) {
  Choices choices;
  for (const Key& key : table.keys) {
    if (object_json.contains(key.name)) {
      read_key(object_json, key, pointer, object, choices);
    } else {
      read_absent(key, pointer, object, choices);
    }
  }
  report_unknown(object_json, table, pointer);
}

bool ValueReader::undecided(const Key& key, const Choices& choices) const {
  if (key.when.key.empty()) return false;
  const auto it = choices.find(key.when.key);
  return it != choices.end() && it->second.empty();
}

bool ValueReader::applies(const Key& key, const Choices& choices) const {
  if (key.when.key.empty()) return true;
  const auto it = choices.find(key.when.key);
  return it != choices.end() &&
         std::count(key.when.values.begin(), key.when.values.end(), it->second) > 0;
}

void ValueReader::read_key(const json& object_json, const Key& key, const std::string& pointer,
                           void* object, Choices& choices) {
  const std::string here = child_pointer(pointer, key.name);
  if (!applies(key, choices) && !undecided(key, choices)) {
    const auto it = choices.find(key.when.key);
    const std::string found = it == choices.end() ? "not given" : fmt::format("\"{}\"", it->second);
    report_.error_at_key(
        here, fmt::format("\"{}\" has no meaning when {} is {}", key.name, key.when.key, found),
        fmt::format("take it out, or set {} to {}", key.when.key, quoted_list(key.when.values)));
    return;
  }
  take_value(object_json.at(key.name), key, here, key.slot(object), choices);
}

void ValueReader::read_absent(const Key& key, const std::string& pointer, void* object,
                              Choices& choices) {
  const Slot slot = key.slot(object);
  if (undecided(key, choices)) {
    if (auto* const* quantity = std::get_if<double*>(&slot)) {
      **quantity = std::numeric_limits<double>::quiet_NaN();
    }
  }
  if (!applies(key, choices)) return;
  const bool to_fill = key.presence == Presence::kRequired || key.presence == Presence::kDerived;
  if (auto* const* quantity = std::get_if<double*>(&slot); quantity != nullptr && to_fill) {
    **quantity = std::numeric_limits<double>::quiet_NaN();
  }
  if (key.presence == Presence::kDefault) {
    take_value(default_json(key), key, child_pointer(pointer, key.name), slot, choices);
  } else if (key.presence == Presence::kRequired) {
    if (key.type == KeyType::kChoice) choices[key.name] = "";
    report_.error(pointer,
                  fmt::format("{} lacks the key \"{}\"", object_name(pointer, *whole_), key.name),
                  fmt::format("add \"{}\": {}  ({})", key.name, example_value(key),
                              key.type == KeyType::kChoice ? quoted_list(key.choices) : key.doc));
  }
}

void ValueReader::report_unknown(const json& object_json, const KeyTable& table,
                                 const std::string& pointer) {
  for (const auto& item : object_json.items()) {
    if (table.find(item.key()) != nullptr) continue;
    const std::string hint = report_.is_full() ? "" : cure_of_unknown(item.key(), table, *whole_);
    report_.error_at_key(child_pointer(pointer, item.key()),
                         fmt::format("unknown key \"{}\" in {}", item.key().substr(0, 60),
                                     object_name(pointer, *whole_)),
                         hint);
  }
}

void ValueReader::take_value(const json& value, const Key& key, const std::string& pointer,
                             const Slot& slot, Choices& choices) {
  switch (key.type) {
    case KeyType::kQuantity: {
      const double si = take_quantity(value, key, pointer);
      if (auto* const* number = std::get_if<double*>(&slot)) **number = si;
      if (auto* const* number = std::get_if<std::optional<double>*>(&slot)) **number = si;
      return;
    }
    case KeyType::kReadings:
      take_readings(value, key, pointer, slot);
      return;
    case KeyType::kNumber:
      *std::get<double*>(slot) = take_number(value, key, pointer);
      return;
    case KeyType::kInteger:
      take_integer(value, key, pointer, slot);
      return;
    case KeyType::kBoolean:
      if (!value.is_boolean()) return wrong_type(value, key, pointer);
      *std::get<bool*>(slot) = value.get<bool>();
      return;
    case KeyType::kText:
    case KeyType::kMaterial:
    case KeyType::kThread:
    case KeyType::kStitch:
      take_text(value, key, pointer, slot);
      return;
    case KeyType::kChoice:
      take_choice(value, key, pointer, slot, choices);
      return;
    case KeyType::kVector:
      take_vector(value, key, pointer, slot);
      return;
    case KeyType::kAxes:
      take_axes(value, key, pointer, slot);
      return;
    case KeyType::kProperty:
      take_property(value, key, pointer, slot);
      return;
    case KeyType::kList:
      take_list(value, key, pointer, slot);
      return;
    case KeyType::kNamed:
      take_named(value, key, pointer, slot);
      return;
    case KeyType::kExpect:
      take_expect(value, pointer, slot);
      return;
    case KeyType::kPatch:
      if (!value.is_object()) return wrong_type(value, key, pointer);
      *std::get<std::string*>(slot) = value.dump(-1, ' ', false, json::error_handler_t::replace);
      return;
    case KeyType::kValue:
      if (value.is_object() || value.is_null()) return wrong_type(value, key, pointer);
      *std::get<std::string*>(slot) = value.dump(-1, ' ', false, json::error_handler_t::replace);
      return;
    case KeyType::kValues:
      if (!value.is_array()) return wrong_type(value, key, pointer);
      *std::get<std::string*>(slot) = value.dump(-1, ' ', false, json::error_handler_t::replace);
      return;
    case KeyType::kObject:
      if (!value.is_object()) return wrong_type(value, key, pointer);
      read(value, *key.children, pointer, std::get<ObjectSlot>(slot).make());
      return;
  }
}

void ValueReader::take_choice(const json& value, const Key& key, const std::string& pointer,
                              const Slot& slot, Choices& choices) {
  choices[key.name] = "";
  if (!value.is_string()) return wrong_type(value, key, pointer);
  const auto text = value.get<std::string>();
  const auto it = std::find(key.choices.begin(), key.choices.end(), text);
  if (it == key.choices.end()) {
    const std::string near = nearest(text, key.choices);
    report_.error(pointer, fmt::format("{} cannot be \"{}\"", key.name, text.substr(0, 60)),
                  near.empty() ? fmt::format("choose one of {}", quoted_list(key.choices))
                               : fmt::format("did you mean \"{}\"?", near));
    return;
  }
  choices[key.name] = text;
  std::get<ChoiceSlot>(slot).set(static_cast<int>(it - key.choices.begin()));
}

void ValueReader::take_list(const json& value, const Key& key, const std::string& pointer,
                            const Slot& slot) {
  if (!value.is_array()) {
    return wrong_type(value, key, pointer,
                      value.is_object() ? "put it in square brackets: [ { ... } ]" : "");
  }
  if (value.empty() && key.presence != Presence::kOptional) {
    report_.error(pointer, fmt::format("\"{}\" is empty", key.name),
                  fmt::format("give at least one {}", key.children->name));
  }
  const auto& list = std::get<ListSlot>(slot);
  for (std::size_t i = 0; i < value.size(); ++i) {
    const std::string here = pointer + "/" + std::to_string(i);
    if (!value[i].is_object()) {
      const bool text = value[i].is_string() && key.children->find("material") != nullptr;
      report_.error(here,
                    fmt::format("each {} should be an object in curly braces", key.children->name),
                    text ? fmt::format("write {{\"material\": \"{}\"}}",
                                       value[i].get<std::string>().substr(0, 60))
                         : "");
      continue;
    }
    read(value[i], *key.children, here, list.append());
  }
}

}  // namespace totebench::scenes
