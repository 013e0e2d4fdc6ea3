// Materials of a scene's own: their properties, and the material or file they start from.
#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "scenes/format/value_reader.hpp"

namespace totebench::scenes {

using nlohmann::json;

void ValueReader::take_property(const json& value, const Key& key, const std::string& pointer,
                                const Slot& slot) {
  const auto number = [&](const json& v, const std::string& where) {
    return key.dimension == Dimension::kNone ? take_number(v, key, where)
                                             : take_quantity(v, key, where);
  };
  const std::string unit =
      key.dimension == Dimension::kNone ? "1" : std::string(si_unit(key.dimension));
  auto& properties = std::get<PropertySlot>(slot).material->properties;
  if (!value.is_object()) {
    properties[key.name] = materials::Quantity::own(number(value, pointer), unit);
    return;
  }
  if (!value.contains("value")) {
    report_.error(pointer, fmt::format("{} lacks the key \"value\"", key.name),
                  fmt::format("it should be {}", expected_text(key)));
    return;
  }
  materials::Quantity q =
      materials::Quantity::own(number(value.at("value"), pointer + "/value"), unit);
  for (const auto& item : value.items()) {
    const std::string here = child_pointer(pointer, item.key());
    const std::vector<std::string> texts = {"source", "grade", "note", "bound"};
    if (item.key() == "low") {
      q.low = number(item.value(), here);
    } else if (item.key() == "high") {
      q.high = number(item.value(), here);
    } else if (std::count(texts.begin(), texts.end(), item.key()) > 0) {
      if (!item.value().is_string()) {
        report_.error(here, fmt::format("\"{}\" should be text in quotes", item.key()),
                      "put it in quotes");
        continue;
      }
      const auto text = item.value().get<std::string>();
      (item.key() == "source"  ? q.source
       : item.key() == "grade" ? q.grade
       : item.key() == "note"  ? q.note
                               : q.bound) = text;
    } else if (item.key() != "value") {
      report_.error_at_key(
          here, fmt::format("unknown key \"{}\" in a property", item.key().substr(0, 60)),
          "known here: \"value\", \"low\", \"high\", \"source\", \"grade\", "
          "\"note\" and \"bound\"");
    }
  }
  if (q.low > q.value || q.high < q.value) {
    report_.error(pointer, fmt::format("{}: low, value and high are not in order", key.name),
                  "low <= value <= high");
  }
  properties[key.name] = q;
}

// An own material that names a file starts from the entry of its own id there, or the only one.
bool ValueReader::start_from_file(const json& entry, const std::string& id,
                                  const std::string& pointer, const NamedSlot& named,
                                  materials::Material& material) {
  const auto given = entry.find("file");
  if (given == entry.end() || !given->is_string()) return false;
  if (given->get<std::string>().empty()) return false;  // said where the text is read
  const std::string here = pointer + "/file";
  if (entry.contains("like")) {
    report_.error(here, "the material is given both a file and a library material to start from",
                  "take out \"file\" or \"like\"");
    return false;
  }
  const std::filesystem::path written(given->get<std::string>());
  const std::filesystem::path path =
      std::filesystem::absolute(folder_ / written).lexically_normal();
  std::error_code error;
  if (!std::filesystem::is_regular_file(path, error)) {
    report_.error(here, fmt::format("there is no file {}", path.string()),
                  "paths are relative to the scene file");
    return false;
  }
  try {
    const materials::MaterialLibrary in_file =
        materials::MaterialLibrary::load_file(path.string(), library_);
    const materials::Material* found = in_file.find(id);
    if (found == nullptr && in_file.materials().size() == 1) found = &in_file.materials().front();
    if (found == nullptr) {
      const std::string near = in_file.closest(id);
      report_.error(here, fmt::format("the file has no material \"{}\"", id.substr(0, 60)),
                    near.empty() ? "name a file that totebench swatch wrote"
                                 : fmt::format("did you mean \"{}\"?", near));
      return false;
    }
    material = *found;
    (*named.file)[id] = path.string();
  } catch (const std::runtime_error& broken) {
    report_.error(here, fmt::format("the material file cannot be used: {}", broken.what()),
                  "write it anew with totebench swatch, or correct it there");
    return false;
  }
  return true;
}

namespace {

// A property given for both directions replaces those the material starts from in one.
void take_over_directions(const json& entry, materials::Material& material) {
  for (const auto& given : entry.items()) {
    for (const char* direction : {"_warp", "_weft", "_md", "_cd"}) {
      material.properties.erase(given.key() + direction);
    }
  }
}

}  // namespace

void ValueReader::take_named(const json& value, const Key& key, const std::string& pointer,
                             const Slot& slot) {
  if (!value.is_object()) return wrong_type(value, key, pointer);
  const auto& named = std::get<NamedSlot>(slot);
  for (const auto& item : value.items()) {
    const std::string here = child_pointer(pointer, item.key());
    if (!item.value().is_object()) {
      report_.error(here, "each material should be an object in curly braces", "");
      continue;
    }
    materials::Material& material = named.materials->emplace_back();
    const auto like = item.value().find("like");
    if (like != item.value().end() && like->is_string()) {
      const auto like_id = like->get<std::string>();
      if (const materials::Material* base = library_.find(like_id)) {
        material = *base;
        (*named.like)[item.key()] = like_id;
      }
    }
    const bool from_file = start_from_file(item.value(), item.key(), here, named, material);
    material.id = item.key();
    if (like == item.value().end() && !from_file) {
      material.name = item.key();
      material.category = "fabric";
    }
    take_over_directions(item.value(), material);
    read(item.value(), *key.children, here, &material);
  }
}

}  // namespace totebench::scenes
