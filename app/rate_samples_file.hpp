// Sampled bags kept in a file as they are finished, so that a stopped rating can go on.
#pragma once

#include <cstdint>
#include <mutex>
#include <string>
#include <vector>

#include "app/rate_study.hpp"

namespace totebench {

// What the samples of a file belong to: scene, data, draw.
[[nodiscard]] std::uint64_t samples_key(const Scene& scene, const std::vector<ScatterInput>& inputs,
                                        const RateOptions& options);

class SamplesFile {
 public:
  // `file` "": nothing is kept. A file of another key is begun anew.
  SamplesFile(std::string file, std::uint64_t key);
  // Reads finished bags into their places; returns how many.
  int load(std::vector<SampledBag>& bags, std::vector<char>& done) const;
  void add(int index, const SampledBag& bag);  // may be called from several threads

 private:
  std::string file_;
  std::uint64_t key_;
  std::mutex guard_;
};

}  // namespace totebench
