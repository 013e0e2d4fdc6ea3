#include "totebench/materials/library.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <numeric>
#include <sstream>
#include <stdexcept>

#include "totebench/materials/trade_words.hpp"

namespace totebench::materials {
namespace {

template <class Items>
auto find_by_id(const Items& items, std::string_view id) -> decltype(items.data()) {
  const auto found =
      std::find_if(items.begin(), items.end(), [id](const auto& item) { return item.id == id; });
  return found == items.end() ? nullptr : &*found;
}

template <class Items>
std::vector<std::string> ids_of(const Items& items) {
  std::vector<std::string> ids;
  ids.reserve(items.size());
  for (const auto& item : items) ids.push_back(item.id);
  return ids;
}

std::string plain(std::string_view text) {
  std::string out;
  for (const char c : text) {
    const auto u = static_cast<unsigned char>(c);
    out.push_back(std::isalnum(u) ? static_cast<char>(std::tolower(u)) : '_');
  }
  return out;
}

// Levenshtein distance.
std::size_t edit_distance(const std::string& a, const std::string& b) {
  std::vector<std::size_t> row(b.size() + 1);
  std::iota(row.begin(), row.end(), std::size_t{0});
  for (std::size_t i = 0; i < a.size(); ++i) {
    std::size_t diagonal = row[0];
    row[0] = i + 1;
    for (std::size_t j = 0; j < b.size(); ++j) {
      const std::size_t substitute = diagonal + (a[i] == b[j] ? 0 : 1);
      diagonal = row[j + 1];
      row[j + 1] = std::min({substitute, row[j] + 1, diagonal + 1});
    }
  }
  return row.back();
}

// A name that contains what was typed is nearer than any that is merely spelt alike.
std::size_t misfit(const std::string& typed, const std::string& known) {
  if (typed.size() >= 3 && known.find(typed) != std::string::npos) return 0;
  return edit_distance(typed, known);
}

// Nothing where more than a third of what was typed would have to change.
template <class Items>
std::string closest_id(const Items& items, std::string_view name) {
  const std::string typed = plain(name);
  std::string best;
  std::size_t best_misfit = std::max<std::size_t>(2, typed.size() / 3);
  for (const auto& item : items) {
    const std::size_t here =
        std::min(misfit(typed, plain(item.id)), misfit(typed, plain(item.name)));
    if (here < best_misfit ||
        (here == best_misfit && (best.empty() || item.id.size() < best.size()))) {
      best = item.id;
      best_misfit = here;
    }
  }
  return best;
}

int grade_rank(const std::string& grade) {
  if (grade == kGradeSeen) return 0;
  if (grade == kGradeTrade) return 1;
  if (grade == kGradeMemory) return 2;
  return 3;
}

}  // namespace

Quantity Quantity::own(double value_si, std::string unit, std::string source) {
  Quantity q;
  q.value = q.low = q.high = value_si;
  q.unit = std::move(unit);
  q.source = std::move(source);
  q.grade = kGradeSeen;
  return q;
}

std::string weaker_grade(const std::string& a, const std::string& b) {
  return grade_rank(a) >= grade_rank(b) ? a : b;
}

std::string merged_sources(const std::string& a, const std::string& b) {
  std::vector<std::string> ids;
  std::stringstream stream(a + "," + b);
  for (std::string id; std::getline(stream, id, ',');) {
    id.erase(0, id.find_first_not_of(' '));
    if (!id.empty() && std::find(ids.begin(), ids.end(), id) == ids.end()) ids.push_back(id);
  }
  return fmt::format("{}", fmt::join(ids, ", "));
}

const Quantity* Material::find(std::string_view property) const {
  const auto found = properties.find(property);
  return found == properties.end() ? nullptr : &found->second;
}

const Quantity& Material::get(std::string_view property) const {
  const Quantity* found = find(property);
  if (!found) {
    throw std::invalid_argument(fmt::format("material \"{}\" has no {}", id, property));
  }
  return *found;
}

const Quantity* Material::directional(const std::string& base, bool warp) const {
  const Quantity* own_direction = find(base + (warp ? "_warp" : "_weft"));
  return own_direction ? own_direction : find(base);
}

const Material* MaterialLibrary::find(std::string_view id) const {
  return find_by_id(materials_, id);
}
const Thread* MaterialLibrary::find_thread(std::string_view id) const {
  return find_by_id(threads_, id);
}
const StitchType* MaterialLibrary::find_stitch(std::string_view id) const {
  return find_by_id(stitches_, id);
}

const Quantity& MaterialLibrary::rule(std::string_view id) const {
  const auto found = rules_.find(id);
  if (found == rules_.end()) {
    throw std::invalid_argument(
        fmt::format("the material library in {} has no rule \"{}\"", directory_, id));
  }
  return found->second;
}

std::vector<std::string> MaterialLibrary::ids() const { return ids_of(materials_); }
std::vector<std::string> MaterialLibrary::thread_ids() const { return ids_of(threads_); }
std::vector<std::string> MaterialLibrary::stitch_ids() const { return ids_of(stitches_); }

std::string MaterialLibrary::name_of(const std::string& id) const {
  const Material* material = find(id);
  return material == nullptr || material->name.empty() ? id : material->name;
}

std::string MaterialLibrary::closest(std::string_view name) const {
  const std::vector<std::string> called = materials_called(*this, name);
  const auto known = std::find_if(called.begin(), called.end(),
                                  [&](const auto& id) { return find(id) != nullptr; });
  return known == called.end() ? closest_id(materials_, name) : *known;
}
std::string MaterialLibrary::closest_thread(std::string_view name) const {
  return closest_id(threads_, name);
}
std::string MaterialLibrary::closest_stitch(std::string_view name) const {
  return closest_id(stitches_, name);
}

void MaterialLibrary::add(Material material) {
  const auto same = std::find_if(materials_.begin(), materials_.end(),
                                 [&](const Material& m) { return m.id == material.id; });
  if (same == materials_.end()) {
    materials_.push_back(std::move(material));
  } else {
    *same = std::move(material);
  }
}

void MaterialLibrary::for_each_quantity(const OnQuantity& visit) {
  for (Material& m : materials_) {
    for (auto& [name, quantity] : m.properties) visit("material", m.id, name, quantity);
  }
  for (Thread& t : threads_) {
    visit("thread", t.id, "breaking_strength", t.breaking_strength);
    visit("thread", t.id, "elongation", t.elongation);
    visit("thread", t.id, "loop_ratio", t.loop_ratio);
  }
  for (StitchType& stitch : stitches_) visit("stitch", stitch.id, "factor", stitch.factor);
  for (auto& [id, quantity] : rules_) visit("rule", id, "value", quantity);
}

}  // namespace totebench::materials
