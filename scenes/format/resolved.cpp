// A Scene written as a scene file with every default, driven by the key tables.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "scenes/format/keys/keys.hpp"
#include "totebench/scenes/figure.hpp"
#include "totebench/scenes/json_trees.hpp"
#include "totebench/scenes/reader.hpp"

namespace totebench::scenes {
namespace {

using Json = nlohmann::ordered_json;

// Writes structs by their key tables, each quantity as `quantity` words it.
class TreeWriter {
 public:
  explicit TreeWriter(QuantityText quantity) : quantity_(std::move(quantity)) {}

  Json write_object(const KeyTable& table, void* object) const {
    Json out = Json::object();
    for (const Key& key : table.keys) {
      const Slot slot = key.slot(object);
      if (!key.when.key.empty()) {
        const auto it = out.find(key.when.key);
        const auto& values = key.when.values;
        if (it == out.end() ||
            std::count(values.begin(), values.end(), it->get<std::string>()) == 0)
          continue;
      }
      Json value;
      if (const auto* choice = std::get_if<ChoiceSlot>(&slot)) {
        value = key.choices.at(static_cast<std::size_t>(choice->get()));
      } else {
        value = value_json(key, slot);
      }
      if (!value.is_null()) out[key.name] = std::move(value);
    }
    return out;
  }

 private:
  Json property_json(const materials::Quantity& q, Dimension dimension) const {
    const auto number = [&](double value) {
      return dimension == Dimension::kNone ? Json(value) : Json(quantity_(value, dimension));
    };
    Json out = {{"value", number(q.value)}, {"low", number(q.low)}, {"high", number(q.high)}};
    const auto text = [&](const char* name, const std::string& value) {
      if (!value.empty()) out[name] = value;
    };
    text("source", q.source);
    text("grade", q.grade);
    text("note", q.note);
    text("bound", q.bound);
    return out;
  }

  Json vector_json(const Eigen::Vector3d& v, Dimension dimension) const {
    Json out = Json::array();
    for (int i = 0; i < 3; ++i) out.push_back(quantity_(v[i], dimension));
    return out;
  }

  Json expect_json(const std::vector<Expectation>& expectations) const {
    Json out = Json::object();
    for (const Expectation& e : expectations) {
      std::string key = e.key;
      Dimension dimension = Dimension::kLength;
      for (const Figure& figure : kFigures) {
        if (figure.expect_key == nullptr || figure.key != e.key) continue;
        key = figure.expect_key;
        dimension = figure.dimension;
      }
      const auto end = e.key.rfind(".displacement_");
      if (e.key.rfind("probes.", 0) == 0 && end != std::string::npos) {
        key = e.key.substr(7, end - 7) + "." + e.key[end + 14];
      }
      out[key] = {quantity_(e.low, dimension), quantity_(e.high, dimension)};
    }
    return out;
  }

  Json materials_json(const NamedSlot& slot, const KeyTable& table) const {
    Json out = Json::object();
    for (materials::Material& material : *slot.materials) {
      Json entry = Json::object();
      const auto like = slot.like->find(material.id);
      if (like != slot.like->end()) entry["like"] = like->second;
      const auto file = slot.file->find(material.id);
      if (file != slot.file->end()) entry["file"] = file->second;
      entry.update(write_object(table, &material));
      out[material.id] = entry;
    }
    return out;
  }

  // null stands for a value that is not to be written.
  Json value_json(const Key& key, const Slot& slot) const {
    if (auto* const* v = std::get_if<double*>(&slot)) {
      // An optional size that was not given is 0 in the struct.
      if (key.presence == Presence::kOptional && **v == 0) return nullptr;
      return key.type == KeyType::kNumber ? Json(**v) : Json(quantity_(**v, key.dimension));
    }
    if (auto* const* v = std::get_if<std::optional<double>*>(&slot)) {
      return **v ? Json(quantity_(***v, key.dimension)) : Json(nullptr);
    }
    if (auto* const* v = std::get_if<int*>(&slot)) return **v;
    if (auto* const* v = std::get_if<unsigned*>(&slot)) return **v;
    if (auto* const* v = std::get_if<bool*>(&slot)) return **v;
    if (auto* const* v = std::get_if<std::string*>(&slot)) {
      if (key.presence == Presence::kOptional && (*v)->empty()) return nullptr;
      return **v;
    }
    if (auto* const* v = std::get_if<Eigen::Vector3d*>(&slot))
      return vector_json(**v, key.dimension);
    if (auto* const* v = std::get_if<std::optional<Eigen::Vector3d>*>(&slot)) {
      return **v ? vector_json(***v, key.dimension) : Json(nullptr);
    }
    if (auto* const* v = std::get_if<std::vector<Expectation>*>(&slot)) {
      return (*v)->empty() ? Json(nullptr) : expect_json(**v);
    }
    if (const auto* v = std::get_if<AxesSlot>(&slot)) {
      std::string text;
      for (int i = 0; i < 3; ++i) text += v->axes[i] ? std::string(1, "xyz"[i]) : "";
      return text;
    }
    if (const auto* v = std::get_if<PropertySlot>(&slot)) {
      const materials::Quantity* q = v->material->find(key.name);
      return q == nullptr ? Json(nullptr) : property_json(*q, key.dimension);
    }
    if (const auto* v = std::get_if<NamedSlot>(&slot)) {
      return v->materials->empty() ? Json(nullptr) : materials_json(*v, *key.children);
    }
    if (const auto* v = std::get_if<ObjectSlot>(&slot)) {
      return v->is_present() ? write_object(*key.children, v->make()) : Json(nullptr);
    }
    if (const auto* v = std::get_if<ListSlot>(&slot)) {
      if (v->size() == 0 && key.presence == Presence::kOptional) return nullptr;
      Json out = Json::array();
      for (std::size_t i = 0; i < v->size(); ++i) {
        out.push_back(write_object(*key.children, v->at(i)));
      }
      // The first layer has nothing to be joined to.
      if (key.children->name == "layer" && !out.empty()) out[0].erase("join");
      return out;
    }
    return nullptr;
  }

  QuantityText quantity_;
};

}  // namespace

Json resolved_tree(const Scene& scene, const QuantityText& quantity) {
  Scene copy = scene;  // slots give access for writing
  // Changes are written against the short text: a default that follows from what they replace is
  // written out here and would no longer follow.
  copy.variants.clear();
  copy.choose.reset();
  copy.sweep.reset();
  return TreeWriter(quantity).write_object(scene_keys(), &copy);
}

std::string resolved_json(const Scene& scene) {
  return resolved_tree(scene).dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace totebench::scenes
