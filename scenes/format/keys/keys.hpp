// The scene file's keys. One table per struct is the only place where a key, its unit, default,
// range, meaning and source are written; the reader, the defaults, the JSON Schema, the resolved
// scene and `explain` are all driven by it.
#pragma once

#include <Eigen/Core>
#include <functional>
#include <limits>
#include <map>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "totebench/materials/library.hpp"
#include "totebench/scenes/scene.hpp"
#include "totebench/scenes/units.hpp"

namespace totebench::scenes {

enum class KeyType {
  kQuantity,  // text with a unit
  kReadings,  // a quantity, or a list of them: one thing measured again and again
  kNumber,    // plain number
  kInteger,
  kBoolean,
  kText,
  kChoice,    // one of Key::choices
  kMaterial,  // id of a material
  kThread,
  kStitch,    // ISO 4915 number as text
  kVector,    // three quantities: x, y, z
  kAxes,      // "xyz", "xz", ...: directions that are held
  kProperty,  // material property: a quantity (or number), or {value, low, high, source}
  kObject,    // Key::children
  kList,      // of objects, Key::children
  kNamed,     // object with free names, each value an object, Key::children
  kExpect,    // {"bottom_sag": ["5 mm", "20 mm"]}; keys: Figure::expect_key, or a probe and an axis
  kPatch,  // object of changes to the scene's own keys (scenes/format/variants.hpp), kept as text
  kValue,  // what another key of the scene may be: text, number or list; kept as JSON text
  kValues  // list of such; kept as JSON text
};

enum class Presence {
  kRequired,
  kDefault,  // Key::default_text, as a person would write it
  kDerived,  // follows from other values; Key::default_text says how, resolve.cpp does it
  kOptional  // may be absent; Key::default_text says what absent means
};

struct Range {
  double low = -std::numeric_limits<double>::infinity();  // SI
  double high = std::numeric_limits<double>::infinity();
  std::string text;  // as written in the table, "4 in to 30 in"; empty = no limit
  [[nodiscard]] bool contains(double x) const { return !(x < low) && !(x > high); }
};

// The key has a meaning only when a choice of the same object has one of these values.
struct When {
  std::string key;  // empty = always
  std::vector<std::string> values;
};

// Where a value lives in the struct being filled.
struct ChoiceSlot {
  std::function<void(int)> set;  // index into Key::choices
  std::function<int()> get;
};
struct ObjectSlot {
  std::function<void*()> make;  // the struct, made when it is optional
  std::function<bool()> is_present;
};
struct ListSlot {
  std::function<void*()> append;
  std::function<void*(std::size_t)> at;
  std::function<std::size_t()> size;
};
struct AxesSlot {
  bool* axes;  // three
};
struct PropertySlot {
  materials::Material* material;
};
struct NamedSlot {  // own materials
  std::vector<materials::Material>* materials;
  std::map<std::string, std::string>* like;  // id -> library id it started from
  std::map<std::string, std::string>* file;  // id -> material file it started from
};
using Slot = std::variant<std::monostate, double*, int*, unsigned*, bool*, std::string*,
                          std::optional<double>*, std::vector<double>*, Eigen::Vector3d*,
                          std::optional<Eigen::Vector3d>*, std::vector<Expectation>*, ChoiceSlot,
                          ObjectSlot, ListSlot, AxesSlot, PropertySlot, NamedSlot>;

struct KeyTable;

struct Key {
  std::string name;
  KeyType type = KeyType::kText;
  Dimension dimension = Dimension::kNone;
  Presence presence = Presence::kRequired;
  std::string default_text;
  std::string source;   // of the default
  Range plausible;      // a warning outside
  Range possible;       // an error outside
  std::string too_low;  // said when a value lies below what is possible
  bool label = false;   // a "name" of which no file or folder is made
  std::string doc;
  std::vector<std::string> choices;
  std::vector<std::string> choice_docs;
  When when;
  const KeyTable* children = nullptr;
  std::function<Slot(void* object)> slot;
};

struct KeyTable {
  std::string name;  // "bag"
  std::string doc;
  std::vector<Key> keys;

  [[nodiscard]] const Key* find(const std::string& key) const;
  [[nodiscard]] std::vector<std::string> names() const;
};

// The whole file; every other table hangs below it. Acts on a Scene.
[[nodiscard]] const KeyTable& scene_keys();

// The file of what was measured on one cloth (totebench/scenes/swatch.hpp). Acts on a Swatch.
[[nodiscard]] const KeyTable& swatch_keys();

}  // namespace totebench::scenes
