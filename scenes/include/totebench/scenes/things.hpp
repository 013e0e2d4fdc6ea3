// Ordinary things that people carry, with their sizes, masses and friction, and where these figures
// are from.
#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

#include "totebench/scenes/scene.hpp"

namespace totebench::scenes {

struct Thing {
  std::string name;    // as a scene names it
  Item item;           // one of them, as it usually stands or lies
  std::string source;  // of its size and mass, with the grade
};

// The first is a shape of one's own, of which nothing is given.
[[nodiscard]] const std::vector<Thing>& ordinary_things();

// Length, width and height (m) that one takes up as it is put: along the bag's width, its depth and
// upwards.
[[nodiscard]] Eigen::Vector3d extent_of(const Item& item);

// What a person calls it: "hardback book", "box".
[[nodiscard]] std::string name_of(const Item& item);

}  // namespace totebench::scenes
