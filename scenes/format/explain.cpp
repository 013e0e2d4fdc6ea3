#include "totebench/scenes/explain.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <nlohmann/json.hpp>

#include "scenes/format/keys/keys.hpp"
#include "totebench/scenes/figure.hpp"
#include "totebench/scenes/nearest.hpp"

namespace totebench::scenes {
namespace {

struct Entry {
  std::string path;  // "straps.attachment.length"
  const Key* key;
};

void collect(const KeyTable& table, const std::string& path, std::vector<Entry>& out) {
  for (const Key& key : table.keys) {
    const std::string here = path.empty() ? key.name : path + "." + key.name;
    out.push_back({here, &key});
    if (key.children != nullptr) {
      // Members of a list or of named entries are keys of "any one of them".
      const bool many = key.type == KeyType::kList;
      collect(*key.children,
              key.type == KeyType::kNamed ? here + ".<name>"
              : many                      ? here + "[]"
                                          : here,
              out);
    }
  }
}

std::vector<Entry> all_entries() {
  std::vector<Entry> out;
  collect(scene_keys(), "", out);
  collect(swatch_keys(), "swatch", out);
  return out;
}

std::string type_text(const Key& key) {
  const std::string dimension(dimension_name(key.dimension));
  switch (key.type) {
    case KeyType::kQuantity:
      return dimension + " with its unit";
    case KeyType::kReadings:
      return dimension + " with its unit, or a list of readings";
    case KeyType::kNumber:
      return "plain number";
    case KeyType::kInteger:
      return "whole number";
    case KeyType::kBoolean:
      return "true or false";
    case KeyType::kText:
      return "text";
    case KeyType::kChoice:
      return "one of the names below";
    case KeyType::kMaterial:
      return "material id";
    case KeyType::kThread:
      return "thread id";
    case KeyType::kStitch:
      return "ISO 4915 number as text";
    case KeyType::kVector:
      return "[x, y, z], each " + dimension + " with its unit";
    case KeyType::kAxes:
      return "letters out of \"xyz\"";
    case KeyType::kProperty:
      return key.dimension == Dimension::kNone ? "plain number" : dimension + " with its unit";
    case KeyType::kObject:
      return "object";
    case KeyType::kList:
      return "list of objects";
    case KeyType::kNamed:
      return "object with a name of your choice for each entry";
    case KeyType::kExpect:
      return "object of [lowest, highest]";
    case KeyType::kPatch:
      return "object of keys of the scene";
    case KeyType::kValue:
      return "value as that key takes it";
    case KeyType::kValues:
      return "list of values as that key takes them";
  }
  return "";
}

std::string units_text(Dimension dimension) {
  std::string out;
  int n = 0;
  for (const Unit& unit : units_of(dimension)) {
    if (++n > 6) break;
    out += (n > 1 ? ", " : "") + std::string(unit.name);
  }
  return out;
}

std::string presence_text(const Key& key) {
  switch (key.presence) {
    case Presence::kRequired:
      return "must be given";
    case Presence::kDefault:
      if (key.type == KeyType::kObject) return "may be left out";
      return key.source.empty() ? key.default_text
                                : fmt::format("{}  [{}]", key.default_text, key.source);
    case Presence::kDerived:
      return fmt::format("{}  [{}]", key.default_text, key.source);
    case Presence::kOptional:
      return fmt::format("{} when left out", key.default_text);
  }
  return "";
}

std::string when_text(const Key& key) {
  if (key.when.key.empty()) return "";
  std::string out = key.when.key + " is ";
  for (std::size_t i = 0; i < key.when.values.size(); ++i) {
    out += fmt::format("{}\"{}\"", i == 0 ? "" : " or ", key.when.values[i]);
  }
  return out;
}

std::string in_full(const Entry& entry) {
  const Key& key = *entry.key;
  std::string out = fmt::format("{}\n  {}\n  type      {}\n", entry.path, key.doc, type_text(key));
  if (key.dimension != Dimension::kNone) {
    out += fmt::format("  units     {}\n", units_text(key.dimension));
  }
  out += fmt::format("  default   {}\n", presence_text(key));
  if (!key.plausible.text.empty()) out += fmt::format("  usual     {}\n", key.plausible.text);
  if (!key.possible.text.empty()) out += fmt::format("  possible  {}\n", key.possible.text);
  if (!key.when.key.empty()) out += fmt::format("  only when {}\n", when_text(key));
  for (std::size_t i = 0; i < key.choices.size(); ++i) {
    const std::string doc = i < key.choice_docs.size() ? key.choice_docs[i] : "";
    out += fmt::format("  \"{}\"{}{}\n", key.choices[i], doc.empty() ? "" : ": ", doc);
  }
  if (key.children != nullptr) {
    out += "  keys      ";
    for (std::size_t i = 0; i < key.children->keys.size(); ++i) {
      out += (i > 0 ? ", " : "") + key.children->keys[i].name;
    }
    out += '\n';
  }
  if (key.type == KeyType::kExpect) {
    for (const Figure& figure : kFigures) {
      if (figure.expect_key == nullptr) continue;
      out += fmt::format("  {:24}{}\n", figure.expect_key, figure.meaning);
    }
  }
  return out;
}

std::string in_one_line(const Entry& entry) {
  const Key& key = *entry.key;
  std::string default_text = presence_text(key);
  return fmt::format("{:34} {}\n{:34} default: {}{}\n", entry.path, key.doc, "", default_text,
                     key.when.key.empty() ? "" : "; only when " + when_text(key));
}

// "/bag/width" and "layers.upper.0.material" are spellings of dotted names.
std::string plain_name(std::string key) {
  std::replace(key.begin(), key.end(), '/', '.');
  while (!key.empty() && key.front() == '.') key.erase(0, 1);
  std::string out;
  std::size_t start = 0;
  while (start <= key.size()) {
    const std::size_t end = std::min(key.find('.', start), key.size());
    const std::string part = key.substr(start, end - start);
    const bool index = !part.empty() && part.find_first_not_of("0123456789") == std::string::npos;
    if (index) {
      out += "[]";
    } else {
      out += (out.empty() ? "" : ".") + part;
    }
    start = end + 1;
  }
  return out;
}

std::string without_brackets(std::string path) {
  for (std::size_t at = path.find("[]"); at != std::string::npos; at = path.find("[]")) {
    path.erase(at, 2);
  }
  return path;
}

// The full path, the end of one ("attachment.length"), or the bare name.
std::vector<Entry> matches(const std::string& key) {
  const std::string wanted = without_brackets(plain_name(key));
  std::vector<Entry> exact;
  std::vector<Entry> tail;
  for (const Entry& entry : all_entries()) {
    const std::string path = without_brackets(entry.path);
    if (path == wanted) exact.push_back(entry);
    const bool ends = path.size() > wanted.size() + 1 &&
                      path.compare(path.size() - wanted.size(), wanted.size(), wanted) == 0 &&
                      path[path.size() - wanted.size() - 1] == '.';
    if (ends) tail.push_back(entry);
  }
  // One table used in several places is told once.
  if (exact.empty()) {
    for (const Entry& entry : tail) {
      const bool told = std::any_of(exact.begin(), exact.end(),
                                    [&](const Entry& e) { return e.key == entry.key; });
      if (!told) exact.push_back(entry);
    }
  }
  return exact;
}

// Words of people who sew that are no keys, what they are here and which keys belong to them.
struct SewingWord {
  std::vector<std::string> words;
  std::string says;
  std::vector<std::string> keys;
};

const std::vector<SewingWord>& sewing_words() {
  static const std::vector<SewingWord> list = {
      {{"pocket", "base pocket"},
       "A pocket for the base sheet: \"base\": { \"kind\": \"in a pocket\", ... }. Pockets for "
       "things on the walls are not part of a scene; take their cloth as one more layer where they "
       "cover a wall.",
       {"base.kind", "base.clearance"}},
      {{"lining"},
       "A lining is the innermost layer: the last of layers.upper, with \"join\": \"sewn at "
       "edges\" "
       "(caught in the seams) or \"loose\".",
       {"layers.upper", "layers.upper.join"}},
      {{"stabilizer", "stabiliser", "interfacing", "fusible", "fleece", "batting", "foam",
        "wadding"},
       "A layer like any other, between outer cloth and lining, with \"join\": \"fused\", "
       "\"quilted\" "
       "or \"sewn at edges\". `totebench materials stabilizer` and `totebench materials fusible` "
       "compare what the library has.",
       {"layers.upper.material", "layers.upper.join", "layers.base"}},
      {{"handle", "handles", "shoulder strap", "webbing"},
       "Handles and shoulder straps are \"straps\".",
       {"straps.style", "straps.material", "straps.length", "straps.spacing"}},
      {{"bartack", "bartacks", "box", "cross", "rivet", "rivets", "box with cross", "x box"},
       "How a strap's end is sewn on is straps.attachment.pattern; `totebench strap-ends SCENE` "
       "compares them.",
       {"straps.attachment.pattern", "straps.attachment.length"}},
      {{"boxed corner", "boxed corners", "corner", "gusset", "bottom"},
       "The bottom's shape follows from the bag's.",
       {"bag.shape", "bag.depth"}},
      {{"hem", "topstitching", "seam", "seam allowance", "allowance"},
       "What is turned and sewn.",
       {"bag.hem", "bag.seam_allowance", "seams"}},
      {{"stitch", "stitches", "needle", "stitch length"},
       "Stitches of the straps and of the body's seams.",
       {"straps.attachment.stitch_length", "straps.attachment.thread", "seams.stitch_length"}},
      {{"cloth", "fabric", "canvas"},
       "Cloth is a material of a layer, the outermost first. `totebench materials canvas` compares "
       "what goes by a word.",
       {"layers.upper.material"}},
      {{"load", "weight", "groceries", "books"},
       "What is in the bag.",
       {"contents.kind", "contents.mass"}},
      {{"board", "insert", "stiffener", "plastic"},
       "A sheet on the bag's bottom is \"base\".",
       {"base.kind", "base.material", "base.thickness"}},
  };
  return list;
}

// "" where the word is none of them.
std::string told_of_word(const std::string& word) {
  std::string wanted;
  for (const char c : word) {
    wanted +=
        c == '_' || c == '-' ? ' ' : static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  }
  for (const SewingWord& known : sewing_words()) {
    if (std::count(known.words.begin(), known.words.end(), wanted) == 0) continue;
    std::string text = known.says + "\n";
    for (const std::string& key : known.keys) {
      for (const Entry& entry : matches(key)) text += "\n" + in_full(entry);
    }
    return text;
  }
  return "";
}

}  // namespace

Explanation explain(const std::string& key) {
  Explanation out;
  if (key.empty()) {
    out.found = true;
    out.text =
        "Every key of a scene file and, from \"swatch\" on, of a swatch file. `totebench explain "
        "KEY` tells more about one.\n\n";
    for (const Entry& entry : all_entries()) out.text += in_one_line(entry);
    return out;
  }
  const std::vector<Entry> found = matches(key);
  if (!found.empty()) {
    out.found = true;
    for (std::size_t i = 0; i < found.size(); ++i) {
      out.text += (i > 0 ? "\n" : "") + in_full(found[i]);
    }
    return out;
  }
  for (const Entry& entry : all_entries()) {  // "swatch": a file of its own, no key
    if (entry.path.rfind(plain_name(key) + ".", 0) == 0) out.text += in_one_line(entry);
  }
  out.found = !out.text.empty();
  if (out.found) return out;
  out.text = told_of_word(key);
  out.found = !out.text.empty();
  if (out.found) return out;
  std::vector<std::string> names;
  for (const Entry& entry : all_entries()) {
    names.push_back(entry.key->name);
    names.push_back(entry.path);
  }
  std::sort(names.begin(), names.end());
  names.erase(std::unique(names.begin(), names.end()), names.end());
  out.nearest = nearest_few(plain_name(key), names, 5);
  out.text = fmt::format("there is no key \"{}\"; the nearest are:\n", key.substr(0, 60));
  for (const std::string& name : out.nearest) out.text += "  " + name + "\n";
  return out;
}

std::string explain_json(const std::string& key) {
  using Json = nlohmann::ordered_json;
  Json out = Json::array();
  for (const Entry& entry : key.empty() ? all_entries() : matches(key)) {
    const Key& k = *entry.key;
    static const char* const kPresence[] = {"required", "default", "derived", "optional"};
    Json item = {{"key", entry.path},
                 {"type", type_text(k)},
                 {"unit", std::string(si_unit(k.dimension))},
                 {"presence", kPresence[static_cast<int>(k.presence)]},
                 {"default", k.default_text},
                 {"source", k.source},
                 {"usual", k.plausible.text},
                 {"possible", k.possible.text},
                 {"meaning", k.doc}};
    if (!k.choices.empty()) item["choices"] = k.choices;
    if (!k.choice_docs.empty()) item["choice_meanings"] = k.choice_docs;
    if (!k.when.key.empty()) item["only_when"] = when_text(k);
    out.push_back(std::move(item));
  }
  return out.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace totebench::scenes
