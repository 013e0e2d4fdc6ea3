#include "app/studies/rate/work_key.hpp"

#include <fmt/format.h>

#include <cstdint>

#include "totebench/scenes/reader.hpp"

namespace totebench::studies {
namespace {

void mix(std::uint64_t& hash, const std::string& text) {
  for (const char c : text) hash = (hash ^ static_cast<unsigned char>(c)) * 1099511628211ull;
}

}  // namespace

std::string work_key(const scenes::Scene& scene, const std::vector<ScatterInput>& inputs) {
  std::uint64_t hash = 14695981039346656037ull;
  mix(hash, scenes::resolved_json(scene));
  for (const ScatterInput& in : inputs) {
    mix(hash,
        fmt::format("{} {} {} {} {} {}", in.kind, in.id, in.property, in.low, in.value, in.high));
  }
  return fmt::format("{:016x}", hash);
}

}  // namespace totebench::studies
