// Where each key and value of a JSON text stands. nlohmann_json reads values but keeps no places.
#pragma once

#include <map>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace totebench::scenes {

struct Place {
  int line = 1;    // from 1
  int column = 1;  // from 1, counted in characters, not bytes
};

[[nodiscard]] Place place_of_byte(std::string_view text, std::size_t byte);

struct DuplicateKey {
  std::string pointer;  // of the repeated member
  Place first;
  Place again;
};

class SourceMap {
 public:
  // `text` must already have been accepted by a JSON parser. Memory grows linearly with the text.
  static SourceMap of(std::string_view text);

  // Of the key (the value itself for array items and the root) or of the value. A pointer that
  // is not in the text gets the place of its nearest ancestor that is.
  [[nodiscard]] Place key(std::string_view pointer) const;
  [[nodiscard]] Place value(std::string_view pointer) const;
  [[nodiscard]] bool contains(std::string_view pointer) const;
  // The places of root merged with `patch` (scenes/format/change.hpp): what a patch brings keeps
  // its place in the patch. `root` is the unmerged text; `patch` stands at the one of `patches`, or
  // is what stands at all of them joined, of which the later goes over the earlier.
  [[nodiscard]] SourceMap merged(const nlohmann::json& root, const nlohmann::json& patch,
                                 const std::vector<std::string>& patches) const;
  // From here on what stands at `source` is what `target` leads to, be it there already or not.
  void put(std::string_view target, std::string_view source);
  [[nodiscard]] const std::vector<DuplicateKey>& duplicates() const { return duplicates_; }

 private:
  friend class SourceScanner;
  struct Node {
    Place key;
    Place value;
  };
  // Index of the node, or of its nearest known ancestor; `exact` says which.
  [[nodiscard]] std::size_t find(std::string_view pointer, bool* exact) const;
  void join(std::size_t target, std::size_t source);
  void merge(std::size_t target, const nlohmann::json& value, std::size_t source,
             const nlohmann::json& patch);
  void merge_entries(std::size_t target, const nlohmann::json& list, std::size_t source,
                     const nlohmann::json& patch);

  std::vector<Node> nodes_;
  std::map<std::pair<std::size_t, std::string>, std::size_t> children_;  // (parent, token) -> node
  std::vector<DuplicateKey> duplicates_;
};

// One token of a JSON pointer, with ~ and / escaped (RFC 6901).
[[nodiscard]] std::string pointer_token(std::string_view key);

// Pointer to what `key` of the object at `pointer` holds.
[[nodiscard]] std::string child_pointer(const std::string& pointer, std::string_view key);

// Deepest nesting of brackets outside strings, stopping as soon as `limit` is passed.
[[nodiscard]] int nesting_depth(std::string_view text, int limit);

}  // namespace totebench::scenes
