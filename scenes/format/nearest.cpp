#include "totebench/scenes/nearest.hpp"

#include <algorithm>
#include <utility>

namespace totebench::scenes {
namespace {

constexpr std::size_t kLongestSlip = 64;  // longer input is not a slip of a known name

char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

// Spaces, hyphens and underscores are the same to someone who remembers a name by ear.
std::string plain(std::string_view text) {
  std::string out;
  for (const char c : text.substr(0, kLongestSlip)) {
    out += c == '-' || c == '_' ? ' ' : lower(c);
  }
  return out;
}

// Whether every word of `typed` is a part of `name`: "stabilizer 1mm", "stabilizer nonwoven 1mm".
bool has_all_words(const std::string& name, const std::string& typed) {
  std::size_t start = 0;
  while (start < typed.size()) {
    const std::size_t end = std::min(typed.find(' ', start), typed.size());
    if (name.find(typed.substr(start, end - start)) == std::string::npos) return false;
    start = end + 1;
  }
  return true;
}

int score(const std::string& typed, const std::string& name) {
  const int edits = edit_distance(typed, name);
  // Words that are parts of the name count as two edits, however long the rest is.
  return typed.size() >= 4 && has_all_words(name, typed) ? std::min(edits, 2) : edits;
}

int most_edits(std::size_t length) {
  if (length <= 2) return 1;
  return std::max(2, static_cast<int>(length) / 3);
}

}  // namespace

int edit_distance(std::string_view a, std::string_view b) {
  const std::size_t n = b.size();
  std::vector<int> before(n + 1);
  std::vector<int> previous(n + 1);
  std::vector<int> current(n + 1);
  for (std::size_t j = 0; j <= n; ++j) previous[j] = static_cast<int>(j);
  for (std::size_t i = 1; i <= a.size(); ++i) {
    current[0] = static_cast<int>(i);
    for (std::size_t j = 1; j <= n; ++j) {
      const bool same = lower(a[i - 1]) == lower(b[j - 1]);
      current[j] =
          std::min({previous[j] + 1, current[j - 1] + 1, previous[j - 1] + (same ? 0 : 1)});
      const bool swapped = i > 1 && j > 1 && lower(a[i - 1]) == lower(b[j - 2]) &&
                           lower(a[i - 2]) == lower(b[j - 1]);
      if (swapped) current[j] = std::min(current[j], before[j - 2] + 1);
    }
    std::swap(before, previous);
    std::swap(previous, current);
  }
  return previous[n];
}

std::string nearest(std::string_view typed, const std::vector<std::string>& known) {
  if (typed.empty() || typed.size() > kLongestSlip) return "";
  const std::string wanted = plain(typed);
  std::string best;
  int best_score = most_edits(wanted.size()) + 1;
  for (const std::string& name : known) {
    const int s = score(wanted, plain(name));
    if (s < best_score) {
      best_score = s;
      best = name;
    }
  }
  return best;
}

std::vector<std::string> nearest_few(std::string_view typed, const std::vector<std::string>& known,
                                     std::size_t count) {
  const std::string wanted = plain(typed);
  std::vector<std::pair<int, std::string>> scored;
  scored.reserve(known.size());
  for (const std::string& name : known) scored.emplace_back(score(wanted, plain(name)), name);
  std::stable_sort(scored.begin(), scored.end(),
                   [](const auto& a, const auto& b) { return a.first < b.first; });
  std::vector<std::string> out;
  for (std::size_t i = 0; i < scored.size() && i < count; ++i) out.push_back(scored[i].second);
  return out;
}

}  // namespace totebench::scenes
