// Shorthand for writing key tables; included by the sources beside it only.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "scenes/format/keys/keys.hpp"

namespace totebench::scenes::keys {

// A member of T as a slot; the reader hands in the T it is filling.
template <class T, class M>
std::function<Slot(void*)> member(M T::*m) {
  return [m](void* object) -> Slot { return &(static_cast<T*>(object)->*m); };
}

template <class E>
ChoiceSlot choice_slot(E* value) {
  return {[value](int i) { *value = static_cast<E>(i); },
          [value] { return static_cast<int>(*value); }};
}

template <class E>
ListSlot list_slot(std::vector<E>* list) {
  return {[list]() -> void* { return &list->emplace_back(); },
          [list](std::size_t i) -> void* { return &(*list)[i]; }, [list] { return list->size(); }};
}

inline ObjectSlot object_slot(void* object) {
  return {[object] { return object; }, [] { return true; }};
}

// A Key that is filled in by chained calls, one a line.
struct Build : Key {
  Build(std::string key, KeyType key_type, std::string meaning) {
    name = std::move(key);
    type = key_type;
    doc = std::move(meaning);
  }
  Build& unit(Dimension d) {
    dimension = d;
    return *this;
  }
  Build& at(std::function<Slot(void*)> where) {
    slot = std::move(where);
    return *this;
  }
  Build& defaults(std::string text, std::string from) {
    return absent(Presence::kDefault, std::move(text), std::move(from));
  }
  Build& derived(std::string text, std::string from) {
    return absent(Presence::kDerived, std::move(text), std::move(from));
  }
  Build& optional(std::string text) { return absent(Presence::kOptional, std::move(text), ""); }
  Build& only(std::string key, std::vector<std::string> values) {
    when = {std::move(key), std::move(values)};
    return *this;
  }
  Build& usual(const std::string& low, const std::string& high) {
    plausible = range(low, high);
    return *this;
  }
  Build& limits(const std::string& low, const std::string& high) {
    possible = range(low, high);
    return *this;
  }
  Build& when_too_low(std::string cure) {
    too_low = std::move(cure);
    return *this;
  }
  Build& any_text() {
    label = true;
    return *this;
  }
  Build& below(const KeyTable& table) {
    children = &table;
    return *this;
  }
  Build& pick(std::vector<std::string> names, std::vector<std::string> docs = {}) {
    choices = std::move(names);
    choice_docs = std::move(docs);
    return *this;
  }

 private:
  Build& absent(Presence p, std::string text, std::string from) {
    presence = p;
    default_text = std::move(text);
    source = std::move(from);
    return *this;
  }
  // Throws std::logic_error when the table itself is misspelt.
  [[nodiscard]] Range range(const std::string& low, const std::string& high) const;
};

template <class T>
Build quantity(const std::string& name, double T::*m, Dimension d, const std::string& doc) {
  return Build(name, KeyType::kQuantity, doc).unit(d).at(member(m));
}

template <class T>
Build length(const std::string& name, double T::*m, const std::string& doc) {
  return quantity(name, m, Dimension::kLength, doc);
}

template <class T, class E>
Build choice(const std::string& name, E T::*m, std::vector<std::string> names,
             std::vector<std::string> docs, const std::string& doc) {
  return Build(name, KeyType::kChoice, doc)
      .pick(std::move(names), std::move(docs))
      .at([m](void* object) -> Slot { return choice_slot(&(static_cast<T*>(object)->*m)); });
}

template <class T, class U>
Build object(const std::string& name, U T::*m, const KeyTable& table) {
  return Build(name, KeyType::kObject, table.doc).below(table).at([m](void* o) -> Slot {
    return object_slot(&(static_cast<T*>(o)->*m));
  });
}

// One that may be absent.
template <class T, class U>
Build object(const std::string& name, std::optional<U> T::*m, const KeyTable& table) {
  return Build(name, KeyType::kObject, table.doc).below(table).at([m](void* o) -> Slot {
    auto* part = &(static_cast<T*>(o)->*m);
    return ObjectSlot{[part]() -> void* {
                        if (!*part) part->emplace();
                        return &**part;
                      },
                      [part] { return part->has_value(); }};
  });
}

template <class T, class E>
Build list(const std::string& name, std::vector<E> T::*m, const KeyTable& table,
           const std::string& doc) {
  return Build(name, KeyType::kList, doc).below(table).at([m](void* o) -> Slot {
    return list_slot(&(static_cast<T*>(o)->*m));
  });
}

inline constexpr const char* kTrade = "common practice, no source";
inline constexpr const char* kMemory = "from memory";
inline constexpr const char* kOurs = "chosen for this program";

// Tables of one struct each (tote.cpp, sheet.cpp, material.cpp).
const KeyTable& layer_keys();
const KeyTable& bag_keys();
const KeyTable& layers_keys();
const KeyTable& seam_keys();
const KeyTable& strap_keys();
const KeyTable& base_keys();
const KeyTable& feet_keys();
const KeyTable& contents_keys();
const KeyTable& support_keys();
const KeyTable& sheet_keys();
const KeyTable& sheet_support_keys();
const KeyTable& sheet_load_keys();
const KeyTable& probe_keys();
const KeyTable& mesh_keys();
const KeyTable& solve_keys();
const KeyTable& rating_keys();
const KeyTable& use_keys();
const KeyTable& variant_keys();
const KeyTable& choose_keys();
const KeyTable& sweep_keys();
const KeyTable& material_keys();

}  // namespace totebench::scenes::keys
