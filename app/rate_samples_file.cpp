#include "app/rate_samples_file.hpp"

#include <fmt/format.h>

#include <fstream>
#include <sstream>

#include "scenes/reader.hpp"

namespace totebench {
namespace {

constexpr const char* kSamplesTitle = "totebench samples 1";

// FNV-1a.
void mix(std::uint64_t& hash, const std::string& text) {
  for (const char c : text) hash = (hash ^ static_cast<unsigned char>(c)) * 1099511628211ull;
}

std::string heading(std::uint64_t key) { return fmt::format("{} {:016x}", kSamplesTitle, key); }

}  // namespace

std::uint64_t samples_key(const Scene& scene, const std::vector<ScatterInput>& inputs,
                          const RateOptions& options) {
  std::uint64_t hash = 14695981039346656037ull;
  mix(hash, resolved_json(scene));
  for (const ScatterInput& in : inputs) {
    mix(hash,
        fmt::format("{} {} {} {} {} {}", in.kind, in.id, in.property, in.low, in.value, in.high));
  }
  mix(hash, fmt::format("{} {}", options.samples, options.seed));
  return hash;
}

SamplesFile::SamplesFile(std::string file, std::uint64_t key) : file_(std::move(file)), key_(key) {
  if (file_.empty()) return;
  std::string first;
  {
    std::ifstream in(file_);
    std::getline(in, first);
  }
  if (first != heading(key_)) std::ofstream(file_, std::ios::trunc) << heading(key_) << "\n";
}

int SamplesFile::load(std::vector<SampledBag>& bags, std::vector<char>& done) const {
  int read = 0;
  if (file_.empty()) return read;
  std::ifstream in(file_);
  std::string line;
  std::getline(in, line);
  while (std::getline(in, line)) {
    std::istringstream words(line);
    std::size_t index = 0;
    SampledBag bag;
    std::string end;
    // A line cut short by a stop lacks its last word and is solved again.
    if (!(words >> index >> bag.drops >> bag.drops_by >> bag.spoilt >> bag.spoilt_by >> end) ||
        end != "." || index >= bags.size() || done[index] != 0) {
      continue;
    }
    if (bag.drops_by == "-") bag.drops_by.clear();
    if (bag.spoilt_by == "-") bag.spoilt_by.clear();
    bags[index] = bag;
    done[index] = 1;
    ++read;
  }
  return read;
}

void SamplesFile::add(int index, const SampledBag& bag) {
  if (file_.empty()) return;
  const auto word = [](const std::string& s) { return s.empty() ? std::string("-") : s; };
  const std::lock_guard<std::mutex> lock(guard_);
  std::ofstream(file_, std::ios::app)
      << fmt::format("{} {:.17g} {} {:.17g} {} .\n", index, bag.drops, word(bag.drops_by),
                     bag.spoilt, word(bag.spoilt_by));
}

}  // namespace totebench
