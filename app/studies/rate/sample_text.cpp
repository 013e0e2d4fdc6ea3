#include "app/studies/rate/sample_text.hpp"

#include <fmt/format.h>

#include <sstream>

#include "app/studies/rate/kept_words.hpp"

namespace totebench::studies {

std::string sample_text(const SampledBag& bag) {
  return fmt::format("{:.17g} {} {:.17g} {}", bag.drops, kept_word(bag.drops_by), bag.spoilt,
                     kept_word(bag.spoilt_by));
}

std::optional<SampledBag> sample_of(const std::string& text) {
  std::istringstream words(text);
  SampledBag bag;
  if (!(words >> bag.drops >> bag.drops_by >> bag.spoilt >> bag.spoilt_by)) return std::nullopt;
  bag.drops_by = word_of_kept(bag.drops_by);
  bag.spoilt_by = word_of_kept(bag.spoilt_by);
  return bag;
}

}  // namespace totebench::studies
