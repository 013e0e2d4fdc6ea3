#include "app/studies/rate/sample_text.hpp"

#include <fmt/format.h>

#include <sstream>

namespace totebench::studies {
namespace {

std::string word(const std::string& s) { return s.empty() ? "-" : s; }
std::string unworded(const std::string& s) { return s == "-" ? "" : s; }

}  // namespace

std::string sample_text(const SampledBag& bag) {
  return fmt::format("{:.17g} {} {:.17g} {}", bag.drops, word(bag.drops_by), bag.spoilt,
                     word(bag.spoilt_by));
}

std::optional<SampledBag> sample_of(const std::string& text) {
  std::istringstream words(text);
  SampledBag bag;
  if (!(words >> bag.drops >> bag.drops_by >> bag.spoilt >> bag.spoilt_by)) return std::nullopt;
  bag.drops_by = unworded(bag.drops_by);
  bag.spoilt_by = unworded(bag.spoilt_by);
  return bag;
}

}  // namespace totebench::studies
