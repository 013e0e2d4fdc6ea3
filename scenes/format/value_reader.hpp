// Fills structs from JSON by their key tables.
#pragma once

#include <filesystem>
#include <map>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <utility>
#include <vector>

#include "scenes/format/keys/keys.hpp"
#include "scenes/format/scene_report.hpp"

namespace totebench::scenes {

// Choices made so far in one object, by key; "" for one that could not be read.
using Choices = std::map<std::string, std::string>;

class ValueReader {
 public:
  ValueReader(const materials::MaterialLibrary& library, SceneReport& report)
      : library_(library), report_(report) {}

  // Reads every key of the table and sets the defaults of those that are absent. Quantities that
  // are missing or wrong become NaN, so that comparisons made later stay silent about them.
  void read(const nlohmann::json& json, const KeyTable& table, const std::string& pointer,
            void* object);

  // What `read` is given as the root, for the words of errors; a scene unless said otherwise.
  void set_whole(const KeyTable& whole) { whole_ = &whole; }

  // What relative paths of material files start from; call before read().
  void set_folder(std::filesystem::path folder) { folder_ = std::move(folder); }

  // Names that materials of the scene's own go by; call before read().
  void set_own_materials(std::vector<std::string> ids) { own_ids_ = std::move(ids); }

 private:
  void read_key(const nlohmann::json& json, const Key& key, const std::string& pointer,
                void* object, Choices& choices);
  void read_absent(const Key& key, const std::string& pointer, void* object, Choices& choices);
  void report_unknown(const nlohmann::json& json, const KeyTable& table,
                      const std::string& pointer);
  [[nodiscard]] bool applies(const Key& key, const Choices& choices) const;
  [[nodiscard]] bool undecided(const Key& key, const Choices& choices) const;

  void take_value(const nlohmann::json& value, const Key& key, const std::string& pointer,
                  const Slot& slot, Choices& choices);
  double take_quantity(const nlohmann::json& value, const Key& key, const std::string& pointer);
  void take_readings(const nlohmann::json& value, const Key& key, const std::string& pointer,
                     const Slot& slot);
  double take_number(const nlohmann::json& value, const Key& key, const std::string& pointer);
  void take_integer(const nlohmann::json& value, const Key& key, const std::string& pointer,
                    const Slot& slot);
  void take_text(const nlohmann::json& value, const Key& key, const std::string& pointer,
                 const Slot& slot);
  void check_name(const std::string& text, const Key& key, const std::string& pointer);
  void take_choice(const nlohmann::json& value, const Key& key, const std::string& pointer,
                   const Slot& slot, Choices& choices);
  void take_vector(const nlohmann::json& value, const Key& key, const std::string& pointer,
                   const Slot& slot);
  void take_axes(const nlohmann::json& value, const Key& key, const std::string& pointer,
                 const Slot& slot);
  void take_list(const nlohmann::json& value, const Key& key, const std::string& pointer,
                 const Slot& slot);
  void take_named(const nlohmann::json& value, const Key& key, const std::string& pointer,
                  const Slot& slot);
  bool start_from_file(const nlohmann::json& entry, const std::string& id,
                       const std::string& pointer, const NamedSlot& named,
                       materials::Material& material);
  void take_property(const nlohmann::json& value, const Key& key, const std::string& pointer,
                     const Slot& slot);
  void take_expect(const nlohmann::json& value, const std::string& pointer, const Slot& slot);

  void check_range(double si, const Key& key, const std::string& pointer,
                   const std::string& written, const std::string& unit, double number);
  void wrong_type(const nlohmann::json& value, const Key& key, const std::string& pointer,
                  const std::string& hint = "");

  const materials::MaterialLibrary& library_;
  SceneReport& report_;
  std::vector<std::string> own_ids_;
  const KeyTable* whole_ = &scene_keys();
  std::filesystem::path folder_;
};

// "a length such as "15 in" or "38 cm"", "true or false", ...
[[nodiscard]] std::string expected_text(const Key& key);

}  // namespace totebench::scenes
