#include "scenes/format/source_map.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <utility>

namespace totebench::scenes {
namespace {

constexpr std::size_t kDuplicatesListed = 20;

bool continues_character(char c) { return (static_cast<unsigned char>(c) & 0xC0) == 0x80; }

}  // namespace

Place place_of_byte(std::string_view text, std::size_t byte) {
  Place place;
  for (std::size_t i = 0; i < byte && i < text.size(); ++i) {
    if (text[i] == '\n') {
      ++place.line;
      place.column = 1;
    } else if (!continues_character(text[i])) {
      ++place.column;
    }
  }
  return place;
}

// Walks a valid text once with an explicit stack, so that depth costs no call stack.
class SourceScanner {
 public:
  SourceScanner(std::string_view text, SourceMap& map) : text_(text), map_(map) {}

  void run() {
    if (text_.substr(0, 3) == "\xEF\xBB\xBF") at_ = 3;  // byte order mark, not a character
    skip_blanks();
    begin_value(add_node(place_, place_));
    while (!open_.empty() && at_ < text_.size()) {
      skip_blanks();
      if (at_ >= text_.size()) return;
      step();
    }
  }

 private:
  struct Open {
    std::size_t node;
    bool object;
    std::size_t items;
    std::string step;  // "/" and the token that leads here, "" for the root
  };

  void step() {
    const char c = text_[at_];
    if (c == '}' || c == ']') {
      advance();
      open_.pop_back();
    } else if (c == ',') {
      advance();
    } else if (open_.back().object) {
      member();
    } else {
      const std::size_t parent = open_.back().node;
      const std::string token = std::to_string(open_.back().items++);
      const std::size_t node = add_node(place_, place_);
      map_.children_[{parent, token}] = node;
      begin_value(node, step_to(token));
    }
  }

  void member() {
    const Place key_place = place_;
    const std::string key = take_string();
    skip_blanks();
    advance();  // the colon
    skip_blanks();
    const std::size_t parent = open_.back().node;
    const std::size_t node = add_node(key_place, place_);
    const auto [it, fresh] = map_.children_.try_emplace({parent, key}, node);
    if (!fresh) {
      if (map_.duplicates_.size() < kDuplicatesListed)
        map_.duplicates_.push_back({path(key), map_.nodes_[it->second].key, key_place});
      it->second = node;  // as in the parser, the last one counts
    }
    begin_value(node, step_to(pointer_token(key)));
  }

  // A scalar is passed over; a bracket is opened for step() to go on with.
  void begin_value(std::size_t node, std::string token = "") {
    const char c = at_ < text_.size() ? text_[at_] : '\0';
    if (c == '{' || c == '[') {
      advance();
      open_.push_back({node, c == '{', 0, std::move(token)});
    } else if (c == '"') {
      take_string();
    } else {
      while (at_ < text_.size() &&
             std::string_view(",]} \t\r\n").find(text_[at_]) == std::string_view::npos) {
        advance();
      }
    }
  }

  // Pointer of a member of the innermost open object.
  std::string path(const std::string& key) const {
    std::string out;
    for (const Open& open : open_) out += open.step;
    return out.append(step_to(pointer_token(key)));
  }

  static std::string step_to(const std::string& token) { return std::string("/").append(token); }

  std::size_t add_node(Place key, Place value) {
    map_.nodes_.push_back({key, value});
    return map_.nodes_.size() - 1;
  }

  std::string take_string() {
    const std::size_t start = at_;
    advance();
    while (at_ < text_.size() && text_[at_] != '"') {
      if (text_[at_] == '\\') advance();
      if (at_ < text_.size()) advance();
    }
    if (at_ < text_.size()) advance();
    const auto quoted = text_.substr(start, at_ - start);
    if (quoted.find('\\') == std::string_view::npos && quoted.size() >= 2) {
      return std::string(quoted.substr(1, quoted.size() - 2));
    }
    const auto value = nlohmann::json::parse(quoted, nullptr, false);
    return value.is_string() ? value.get<std::string>() : std::string(quoted);
  }

  void skip_blanks() {
    while (at_ < text_.size() &&
           std::string_view(" \t\r\n").find(text_[at_]) != std::string_view::npos) {
      advance();
    }
  }

  void advance() {
    if (at_ >= text_.size()) return;
    if (text_[at_] == '\n') {
      ++place_.line;
      place_.column = 1;
    } else if (!continues_character(text_[at_])) {
      ++place_.column;
    }
    ++at_;
  }

  std::string_view text_;
  SourceMap& map_;
  std::size_t at_ = 0;
  Place place_;
  std::vector<Open> open_;
};

SourceMap SourceMap::of(std::string_view text) {
  SourceMap map;
  SourceScanner(text, map).run();
  return map;
}

namespace {

// A token of a pointer without its escapes.
std::string plain_token(std::string_view token) {
  std::string out;
  for (std::size_t i = 0; i < token.size(); ++i) {
    if (token[i] == '~' && i + 1 < token.size()) {
      out += token[++i] == '1' ? '/' : '~';
    } else {
      out += token[i];
    }
  }
  return out;
}

}  // namespace

std::size_t SourceMap::find(std::string_view pointer, bool* exact) const {
  std::size_t node = 0;
  *exact = true;
  while (!pointer.empty()) {
    pointer.remove_prefix(1);  // the slash
    const std::size_t end = std::min(pointer.find('/'), pointer.size());
    const auto it = children_.find({node, plain_token(pointer.substr(0, end))});
    if (it == children_.end()) {
      *exact = false;
      return node;
    }
    node = it->second;
    pointer.remove_prefix(end);
  }
  return node;
}

Place SourceMap::key(std::string_view pointer) const {
  bool exact = false;
  const std::size_t node = find(pointer, &exact);
  return node < nodes_.size() ? nodes_[node].key : Place{};
}

Place SourceMap::value(std::string_view pointer) const {
  bool exact = false;
  const std::size_t node = find(pointer, &exact);
  if (node >= nodes_.size()) return Place{};
  // What is missing is reported at the key of the object it is missing from.
  return exact ? nodes_[node].value : nodes_[node].key;
}

bool SourceMap::contains(std::string_view pointer) const {
  bool exact = false;
  return find(pointer, &exact) < nodes_.size() && exact;
}

SourceMap SourceMap::merged(const nlohmann::json& root, const nlohmann::json& patch,
                            const std::vector<std::string>& patches) const {
  SourceMap out = *this;
  const std::size_t joined = out.nodes_.size();
  out.nodes_.push_back({});
  for (const std::string& pointer : patches) {
    bool exact = false;
    const std::size_t source = find(pointer, &exact);
    if (exact) out.join(joined, source);
  }
  out.merge(0, root, joined, patch);
  return out;
}

void SourceMap::put(std::string_view target, std::string_view source) {
  bool exact = false;
  const std::size_t from = find(source, &exact);
  if (!exact) return;
  std::size_t node = 0;
  while (!target.empty()) {
    target.remove_prefix(1);  // the slash
    const std::size_t end = std::min(target.find('/'), target.size());
    const std::string token = plain_token(target.substr(0, end));
    target.remove_prefix(end);
    const auto there = children_.find({node, token});
    if (target.empty()) {
      children_[{node, token}] = from;
    } else if (there != children_.end()) {
      node = there->second;
    } else {  // an object that the text lacks stands where its value does
      nodes_.push_back(nodes_[from]);
      children_[{node, token}] = nodes_.size() - 1;
      node = nodes_.size() - 1;
    }
  }
}

// Makes what hangs on the source hang on the target too; where both have a child it is joined, and
// the source's place is kept.
void SourceMap::join(std::size_t target, std::size_t source) {
  for (auto it = children_.lower_bound({source, ""});
       it != children_.end() && it->first.first == source; ++it) {
    const auto [place, is_new] = children_.try_emplace({target, it->first.second}, it->second);
    if (is_new) continue;
    nodes_[place->second] = nodes_[it->second];
    join(place->second, it->second);
  }
}

// Grafts the nodes of the patch onto those of the target; both are in this map.
void SourceMap::merge(std::size_t target, const nlohmann::json& value, std::size_t source,
                      const nlohmann::json& patch) {
  for (const auto& item : patch.items()) {
    const auto from = children_.find({source, item.key()});
    if (from == children_.end()) continue;
    const auto to = children_.find({target, item.key()});
    const bool into =
        to != children_.end() && item.value().is_object() && value.contains(item.key());
    if (into && value[item.key()].is_object()) {
      nodes_[to->second] = nodes_[from->second];
      merge(to->second, value[item.key()], from->second, item.value());
    } else if (into && value[item.key()].is_array()) {
      nodes_[to->second] = nodes_[from->second];
      merge_entries(to->second, value[item.key()], from->second, item.value());
    } else if (!item.value().is_null()) {
      children_[{target, item.key()}] = from->second;
    } else if (to != children_.end()) {
      children_.erase(to);
    }
  }
}

// The patch numbers the entries of a list from 1; those it takes out leave no gap.
void SourceMap::merge_entries(std::size_t target, const nlohmann::json& list, std::size_t source,
                              const nlohmann::json& patch) {
  std::vector<std::size_t> kept;
  for (std::size_t i = 0; i < list.size(); ++i) {
    const auto to = children_.find({target, std::to_string(i)});
    const auto from = children_.find({source, std::to_string(i + 1)});
    if (to == children_.end()) continue;
    const std::size_t old = to->second;
    children_.erase(to);
    if (from == children_.end()) {
      kept.push_back(old);
      continue;
    }
    const nlohmann::json& change = patch.at(std::to_string(i + 1));
    if (change.is_null()) continue;
    const bool both_objects = change.is_object() && list[i].is_object();
    kept.push_back(both_objects ? old : from->second);
    if (!both_objects) continue;
    nodes_[old] = nodes_[from->second];
    merge(old, list[i], from->second, change);
  }
  for (std::size_t i = 0; i < kept.size(); ++i) children_[{target, std::to_string(i)}] = kept[i];
}

std::string pointer_token(std::string_view key) {
  std::string out;
  for (const char c : key) {
    if (c == '~') {
      out += "~0";
    } else if (c == '/') {
      out += "~1";
    } else {
      out += c;
    }
  }
  return out;
}

std::string child_pointer(const std::string& pointer, std::string_view key) {
  return pointer + "/" + pointer_token(key);
}

int nesting_depth(std::string_view text, int limit) {
  int depth = 0;
  int deepest = 0;
  bool in_string = false;
  for (std::size_t i = 0; i < text.size() && deepest <= limit; ++i) {
    const char c = text[i];
    if (in_string) {
      if (c == '\\') ++i;
      if (c == '"') in_string = false;
    } else if (c == '"') {
      in_string = true;
    } else if (c == '{' || c == '[') {
      deepest = std::max(deepest, ++depth);
    } else if (c == '}' || c == ']') {
      --depth;
    }
  }
  return deepest;
}

}  // namespace totebench::scenes
