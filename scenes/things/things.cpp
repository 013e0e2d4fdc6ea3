#include "totebench/scenes/things.hpp"

#include <algorithm>

namespace totebench::scenes {
namespace {

// Of paper and card, of plastic and of metal and glass on cotton (estimates, from card on wood,
// 0.5, and plastics on laminate, 0.2: code of practice for packing cargo, friction appendix).
constexpr double kCard = 0.40;
constexpr double kPlastic = 0.25;
constexpr double kMetal = 0.22;
constexpr double kFruit = 0.43;  // oranges on plywood, tan 23.5 degrees (measured)

Item box(double length_mm, double width_mm, double height_mm, double mass_kg, double friction) {
  Item item;
  item.length_m = 1e-3 * length_mm;
  item.width_m = 1e-3 * width_mm;
  item.height_m = 1e-3 * height_mm;
  item.mass_kg = mass_kg;
  item.friction = friction;
  return item;
}

Item cylinder(double diameter_mm, double height_mm, double mass_kg, double friction) {
  Item item;
  item.shape = ItemShape::kCylinder;
  item.diameter_m = 1e-3 * diameter_mm;
  item.height_m = 1e-3 * height_mm;
  item.mass_kg = mass_kg;
  item.friction = friction;
  return item;
}

Item sphere(double diameter_mm, double mass_kg, double friction) {
  Item item;
  item.shape = ItemShape::kSphere;
  item.diameter_m = 1e-3 * diameter_mm;
  item.mass_kg = mass_kg;
  item.friction = friction;
  return item;
}

}  // namespace

const std::vector<Thing>& ordinary_things() {
  static const std::vector<Thing> things = [] {
    std::vector<Thing> all = {
        {"own shape", box(0, 0, 0, 0, kCard), ""},
        {"A5 notebook", box(210, 16, 148, 0.39, kCard), "ISO 216, and 300 pages at 80 g/m2"},
        {"paperback book", box(198, 17, 129, 0.26, kCard), "320 pages at 60 g/m2; 200 to 300 g"},
        {"hardback book", box(234, 28, 156, 0.72, kCard),
         "400 pages at 80 g/m2; covers an estimate"},
        {"A4 textbook", box(303, 27, 215, 1.2, kCard), "400 pages; covers an estimate"},
        {"ring folder", box(318, 50, 285, 1.5, kCard), "200 sheets of A4; folder an estimate"},
        {"water bottle 0.5 l", cylinder(64, 203, 0.51, kPlastic), "published bottle drawing"},
        {"water bottle 1.5 l", cylinder(88, 315, 1.53, kPlastic), "from memory"},
        {"wine bottle", cylinder(72, 315, 1.27, kMetal), "trade chart"},
        {"steel flask 0.5 l", cylinder(70, 260, 0.8, kMetal), "estimate"},
        {"tin 400 g", cylinder(73, 110, 0.46, kMetal), "from memory"},
        {"milk carton 1 l", box(70, 70, 235, 1.06, kCard), "from memory"},
        {"flour 1 kg", box(105, 65, 175, 1.01, kCard), "estimate"},
        {"lunch box", box(190, 140, 70, 0.8, kPlastic), "estimate"},
        {"laptop 14 in", box(314, 17, 222, 1.4, kPlastic), "from memory; class 1.4 to 2.7 kg"},
        {"tablet", box(250, 7, 180, 0.5, kPlastic), "from memory"},
        {"folding umbrella", cylinder(55, 270, 0.35, kPlastic), "estimate"},
        {"orange", sphere(79, 0.215, kFruit), "measured fruit, mean of three axes"},
        {"apple", sphere(75, 0.17, kFruit), "from memory"}};
    for (std::size_t i = 0; i < all.size(); ++i) all[i].item.what = static_cast<int>(i);
    return all;
  }();
  return things;
}

Eigen::Vector3d extent_of(const Item& item) {
  Eigen::Vector3d extent(item.length_m, item.width_m, item.height_m);
  if (item.shape == ItemShape::kSphere) extent.setConstant(item.diameter_m);
  if (item.shape == ItemShape::kCylinder) {
    extent << item.diameter_m, item.diameter_m, item.height_m;
  }
  if (item.way == ItemWay::kAsListed) return extent;
  // Down goes the shortest or the longest; of the others the longer lies along the bag.
  std::sort(extent.begin(), extent.end());
  const auto [a, b, c] = std::array{extent[0], extent[1], extent[2]};
  return item.way == ItemWay::kLaidFlat ? Eigen::Vector3d(c, b, a) : Eigen::Vector3d(b, a, c);
}

std::string name_of(const Item& item) {
  if (item.what != 0) return ordinary_things()[static_cast<std::size_t>(item.what)].name;
  switch (item.shape) {
    case ItemShape::kBox:
      return "box";
    case ItemShape::kCylinder:
      return "cylinder";
    case ItemShape::kSphere:
      return "ball";
  }
  return "thing";
}

}  // namespace totebench::scenes
