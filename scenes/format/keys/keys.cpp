#include "scenes/format/keys/keys.hpp"

#include <fmt/format.h>

#include <stdexcept>

#include "scenes/format/keys/build.hpp"

namespace totebench::scenes {

const Key* KeyTable::find(const std::string& key) const {
  for (const Key& k : keys) {
    if (k.name == key) return &k;
  }
  return nullptr;
}

std::vector<std::string> KeyTable::names() const {
  std::vector<std::string> out;
  for (const Key& k : keys) out.push_back(k.name);
  return out;
}

namespace keys {

Range Build::range(const std::string& low, const std::string& high) const {
  Range out;
  out.text = low + " to " + high;
  const auto value = [&](const std::string& text) {
    if (dimension == Dimension::kNone) return std::stod(text);
    const QuantityResult parsed = parse_quantity(text, dimension);
    if (!parsed.quantity) {
      throw std::logic_error(fmt::format("key table, {}: {}", name, parsed.problem));
    }
    return parsed.quantity->si;
  };
  out.low = value(low);
  out.high = value(high);
  return out;
}

}  // namespace keys
}  // namespace totebench::scenes
