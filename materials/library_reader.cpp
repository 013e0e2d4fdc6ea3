// Reads the library's JSON files. Kept apart from library.cpp so that JSON stays in one place.
#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <set>
#include <sstream>
#include <stdexcept>

#include "materials/units.hpp"
#include "totebench/materials/library.hpp"

namespace totebench::materials {
namespace {

using nlohmann::json;
namespace fs = std::filesystem;

constexpr const char* kSourcesFile = "sources.json";

// One library file with what is needed to say where in it something is wrong.
struct LibraryFile : LibraryText {
  [[nodiscard]] std::string at(std::size_t byte) const {
    byte = std::min(byte, text.size());
    const auto end = text.begin() + static_cast<std::ptrdiff_t>(byte);
    const auto line = std::count(text.begin(), end, '\n') + 1;
    const std::size_t line_start = byte == 0 ? std::string::npos : text.rfind('\n', byte - 1);
    const std::size_t column = byte - (line_start == std::string::npos ? 0 : line_start + 1) + 1;
    return fmt::format("{}:{}:{}", name, line, column);
  }

  // The parsed values carry no position, so it is found again by walking down the quoted names.
  [[noreturn]] void fail(const std::vector<std::string>& names, const std::string& message) const {
    std::size_t byte = 0;
    for (const std::string& quoted : names) {
      const std::size_t next = text.find('"' + quoted + '"', byte);
      if (next == std::string::npos) break;
      byte = next;
    }
    throw std::runtime_error(fmt::format("{}: {}", at(byte), message));
  }
};

std::string text_field(const LibraryFile& file, const json& object, const char* key,
                       std::vector<std::string> where, bool required = true) {
  const auto found = object.find(key);
  if (found == object.end()) {
    if (required) file.fail(where, fmt::format("\"{}\" is missing", key));
    return {};
  }
  where.emplace_back(key);
  if (!found->is_string()) file.fail(where, fmt::format("\"{}\" must be text", key));
  return found->get<std::string>();
}

double number_field(const LibraryFile& file, const json& object, const char* key,
                    std::vector<std::string> where) {
  const auto found = object.find(key);
  if (found == object.end()) file.fail(where, fmt::format("\"{}\" is missing", key));
  where.emplace_back(key);
  if (!found->is_number()) file.fail(where, fmt::format("\"{}\" must be a number", key));
  return found->get<double>();
}

void only_keys(const LibraryFile& file, const json& object, const std::set<std::string>& known,
               std::vector<std::string> where) {
  if (!object.is_object()) file.fail(where, "an object { } was expected");
  for (const auto& item : object.items()) {
    if (known.count(item.key()) == 0) {
      where.push_back(item.key());
      file.fail(where, fmt::format("unknown key \"{}\"", item.key()));
    }
  }
}

std::vector<std::string> source_ids(const std::string& list) {
  std::vector<std::string> ids;
  std::stringstream stream(list);
  for (std::string id; std::getline(stream, id, ',');) {
    id.erase(0, id.find_first_not_of(' '));
    id.erase(id.find_last_not_of(' ') + 1);
    ids.push_back(id);
  }
  return ids;
}

fs::path beside_program() {
  char buffer[4096];
  const ssize_t length = readlink("/proc/self/exe", buffer, sizeof buffer);
  if (length <= 0) return {};
  const fs::path program(std::string(buffer, static_cast<std::size_t>(length)));
  return program.parent_path().parent_path() / "share/totebench/materials";
}

std::string library_directory(const std::string& path) {
  const auto is_library = [](const fs::path& p) {
    std::error_code ignored;
    return fs::is_regular_file(p / "sources.json", ignored);
  };
  if (!path.empty()) {
    if (is_library(path)) return path;
    throw std::runtime_error(fmt::format(
        "{}: no material library here (a folder with sources.json was expected)", path));
  }
  if (const char* set = std::getenv("TOTEBENCH_MATERIALS"); set != nullptr && *set != '\0') {
    if (is_library(set)) return set;
    throw std::runtime_error(fmt::format(
        "{}: no material library here, where the environment variable TOTEBENCH_MATERIALS points",
        set));
  }
  const std::vector<fs::path> places = {beside_program(), TOTEBENCH_MATERIALS_DIR,
                                        TOTEBENCH_MATERIALS_INSTALL_DIR};
  std::string looked_at;
  for (const fs::path& place : places) {
    if (place.empty()) continue;
    if (is_library(place)) return place.string();
    looked_at += "\n  " + place.string();
  }
  throw std::runtime_error(
      "no material library found; set TOTEBENCH_MATERIALS to its folder. Looked in" + looked_at);
}

LibraryText read_text(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  std::stringstream text;
  text << in.rdbuf();
  if (!in) throw std::runtime_error(path.string() + ": cannot be read");
  return {path.string(), text.str()};
}

}  // namespace

class LibraryReader {
 public:
  LibraryReader(std::vector<LibraryText> files, std::string directory) {
    library_.directory_ = std::move(directory);
    // Sources first, because every number is checked against them.
    std::sort(files.begin(), files.end(), [](const LibraryText& a, const LibraryText& b) {
      const bool a_first = fs::path(a.name).filename() == kSourcesFile;
      const bool b_first = fs::path(b.name).filename() == kSourcesFile;
      return a_first != b_first ? a_first : a.name < b.name;
    });
    for (const LibraryText& file : files) read_file({file});
  }

  // One file beside the library.
  LibraryReader(const LibraryText& file, const MaterialLibrary& library) {
    library_.sources_ = library.sources_;
    read_file({file});
  }

  MaterialLibrary take() { return std::move(library_); }

 private:
  void read_file(const LibraryFile& file) {
    json root;
    try {
      root = json::parse(file.text);
    } catch (const json::parse_error& e) {
      std::string what = e.what();
      const std::size_t detail = what.rfind("syntax error");
      if (detail != std::string::npos) what = what.substr(detail);
      throw std::runtime_error(fmt::format("{}: {}", file.at(e.byte > 0 ? e.byte - 1 : 0), what));
    }
    only_keys(file, root, {"about", "materials", "threads", "stitches", "rules", "sources"}, {});
    if (root.contains("sources")) read_sources(file, root["sources"]);
    if (root.contains("materials")) read_materials(file, root["materials"]);
    if (root.contains("threads")) read_threads(file, root["threads"]);
    if (root.contains("stitches")) read_stitches(file, root["stitches"]);
    if (root.contains("rules")) read_rules(file, root["rules"]);
  }

  void read_sources(const LibraryFile& file, const json& sources) {
    if (!sources.is_object()) file.fail({"sources"}, "an object { } was expected");
    for (const auto& item : sources.items()) {
      const std::vector<std::string> where = {"sources", item.key()};
      only_keys(file, item.value(), {"cite", "address", "kind"}, where);
      Source source;
      source.id = item.key();
      source.cite = text_field(file, item.value(), "cite", where);
      source.kind = text_field(file, item.value(), "kind", where);
      source.address = text_field(file, item.value(), "address", where, false);
      library_.sources_[source.id] = source;
    }
  }

  Quantity read_quantity(const LibraryFile& file, const json& object,
                         const std::vector<std::string>& where) {
    only_keys(file, object, {"value", "low", "high", "unit", "source", "grade", "note", "bound"},
              where);
    Quantity q;
    const std::string unit_name = text_field(file, object, "unit", where);
    const SiUnit* unit = find_unit(unit_name);
    if (!unit) file.fail(where, fmt::format("unknown unit \"{}\"", unit_name));
    q.unit = unit->si;
    q.value = number_field(file, object, "value", where) * unit->factor;
    q.low = number_field(file, object, "low", where) * unit->factor;
    q.high = number_field(file, object, "high", where) * unit->factor;
    if (!(q.low <= q.value && q.value <= q.high)) {
      file.fail(where, "low <= value <= high does not hold");
    }
    q.source = text_field(file, object, "source", where);
    for (const std::string& id : source_ids(q.source)) {
      if (library_.sources_.find(id) == library_.sources_.end()) {
        file.fail(where, fmt::format("source \"{}\" is not in sources.json", id));
      }
    }
    q.grade = text_field(file, object, "grade", where);
    if (q.grade != kGradeSeen && q.grade != kGradeTrade && q.grade != kGradeMemory &&
        q.grade != kGradeEstimate) {
      file.fail(where, fmt::format("grade must be \"{}\", \"{}\", \"{}\" or \"{}\"", kGradeSeen,
                                   kGradeTrade, kGradeMemory, kGradeEstimate));
    }
    q.note = text_field(file, object, "note", where, false);
    q.bound = text_field(file, object, "bound", where, false);
    if (!q.bound.empty() && q.bound != "minimum" && q.bound != "maximum") {
      file.fail(where, "bound must be \"minimum\" or \"maximum\"");
    }
    return q;
  }

  std::map<std::string, Quantity, std::less<>> read_properties(
      const LibraryFile& file, const json& entry, const std::vector<std::string>& where) {
    std::map<std::string, Quantity, std::less<>> properties;
    const auto found = entry.find("properties");
    if (found == entry.end()) file.fail(where, "\"properties\" is missing");
    if (!found->is_object()) file.fail(where, "\"properties\" must be an object { }");
    for (const auto& item : found->items()) {
      std::vector<std::string> here = where;
      here.push_back(item.key());
      properties.emplace(item.key(), read_quantity(file, item.value(), here));
    }
    return properties;
  }

  // Walks a list of entries that have an id of their own, refusing one that is there already.
  template <class Read>
  void each_entry(const LibraryFile& file, const json& list, const char* key,
                  const std::set<std::string>& known, Read read) {
    if (!list.is_array()) file.fail({key}, "a list [ ] was expected");
    for (const json& entry : list) {
      if (!entry.is_object()) file.fail({key}, "a list of objects { } was expected");
      const std::string id = text_field(file, entry, "id", {key});
      only_keys(file, entry, known, {key, id});
      if (!seen_.insert(std::string(key) + "/" + id).second) {
        file.fail({key, id}, fmt::format("\"{}\" is defined twice", id));
      }
      read(entry, id, std::vector<std::string>{key, id});
    }
  }

  void read_materials(const LibraryFile& file, const json& list) {
    static const std::set<std::string> categories = {"fabric", "interfacing", "stabilizer", "base",
                                                     "strap"};
    each_entry(
        file, list, "materials", {"id", "name", "category", "note", "properties"},
        [&](const json& entry, const std::string& id, const std::vector<std::string>& where) {
          Material m;
          m.id = id;
          m.name = text_field(file, entry, "name", where);
          m.category = text_field(file, entry, "category", where);
          if (categories.count(m.category) == 0) {
            file.fail(where, fmt::format("unknown category \"{}\"", m.category));
          }
          m.note = text_field(file, entry, "note", where, false);
          m.properties = read_properties(file, entry, where);
          library_.materials_.push_back(std::move(m));
        });
  }

  static Quantity need(const LibraryFile& file,
                       const std::map<std::string, Quantity, std::less<>>& properties,
                       const char* key, const std::vector<std::string>& where) {
    const auto found = properties.find(key);
    if (found == properties.end()) file.fail(where, fmt::format("\"{}\" is missing", key));
    return found->second;
  }

  void read_threads(const LibraryFile& file, const json& list) {
    each_entry(
        file, list, "threads", {"id", "name", "tex", "properties"},
        [&](const json& entry, const std::string& id, const std::vector<std::string>& where) {
          Thread t;
          t.id = id;
          t.name = text_field(file, entry, "name", where);
          t.tex = number_field(file, entry, "tex", where);
          const auto properties = read_properties(file, entry, where);
          t.breaking_strength = need(file, properties, "breaking_strength", where);
          t.elongation = need(file, properties, "elongation", where);
          t.loop_ratio = need(file, properties, "loop_ratio", where);
          library_.threads_.push_back(std::move(t));
        });
  }

  void read_stitches(const LibraryFile& file, const json& list) {
    each_entry(
        file, list, "stitches", {"id", "name", "properties"},
        [&](const json& entry, const std::string& id, const std::vector<std::string>& where) {
          StitchType s;
          s.id = id;
          s.name = text_field(file, entry, "name", where);
          s.factor = need(file, read_properties(file, entry, where), "factor", where);
          library_.stitches_.push_back(std::move(s));
        });
  }

  void read_rules(const LibraryFile& file, const json& rules) {
    if (!rules.is_object()) file.fail({"rules"}, "an object { } was expected");
    for (const auto& item : rules.items()) {
      library_.rules_[item.key()] = read_quantity(file, item.value(), {"rules", item.key()});
    }
  }

  MaterialLibrary library_;
  std::set<std::string> seen_;
};

MaterialLibrary MaterialLibrary::load(const std::string& path) {
  const std::string directory = library_directory(path);
  std::vector<LibraryText> files;
  for (const auto& entry : fs::directory_iterator(directory)) {
    if (entry.path().extension() == ".json") files.push_back(read_text(entry.path()));
  }
  return LibraryReader(std::move(files), directory).take();
}

MaterialLibrary MaterialLibrary::parse(std::vector<LibraryText> files) {
  return LibraryReader(std::move(files), "").take();
}

MaterialLibrary MaterialLibrary::load_file(const std::string& path,
                                           const MaterialLibrary& library) {
  return parse_file(read_text(path), library);
}

MaterialLibrary MaterialLibrary::parse_file(const LibraryText& file,
                                            const MaterialLibrary& library) {
  return LibraryReader(file, library).take();
}

}  // namespace totebench::materials
