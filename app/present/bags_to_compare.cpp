#include "app/present/bags_to_compare.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>
#include <string>
#include <utility>

namespace totebench::app {

std::vector<scenes::Scene> bags_to_compare(std::vector<scenes::ReadResult> read) {
  std::vector<scenes::Scene> bags;
  for (scenes::ReadResult& one : read) {
    std::vector<scenes::Scene> more = std::move(one.variants);
    more.insert(more.begin(), std::move(*one.scene));
    for (scenes::Scene& scene : more) {
      if (scene.kind != scenes::SceneKind::kTote) {
        throw std::invalid_argument("only totes can be compared; " + scene.name + " is a sheet");
      }
      const std::string name = scene.name;
      const auto taken = [&] {
        return std::any_of(bags.begin(), bags.end(),
                           [&](const scenes::Scene& other) { return other.name == scene.name; });
      };
      for (int i = 2; taken(); ++i) scene.name = fmt::format("{} ({})", name, i);
      bags.push_back(std::move(scene));
    }
  }
  if (bags.size() < 2) throw std::invalid_argument("there is only one bag to compare");
  return bags;
}

}  // namespace totebench::app
