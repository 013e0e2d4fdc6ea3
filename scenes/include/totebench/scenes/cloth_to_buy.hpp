// How much of each material to buy: the pieces laid out on the widths in which goods are sold.
//
// A shelf packing: every piece is its smallest rectangle, turned so that its warp runs along the
// bolt; rectangles stand in rows across the width, the longest first, each row as long as its
// first. A layout by hand, with pieces turned into each other's notches, can take less, never more.
// Widths are common ones (common practice, no source); nothing is added for shrinking or prints.
#pragma once

#include <string>
#include <vector>

#include "totebench/materials/library.hpp"
#include "totebench/scenes/cutlist.hpp"

namespace totebench::scenes {

// Usable width and length of one way to lay a material out.
struct Layout {
  double width_m = 0;
  double length_m = 0;  // 0: a piece is wider than that
};

struct ToBuy {
  std::string material;  // library id
  // Goods by the piece or by the length (webbing, sheets) have no widths: straps are told as the
  // length of all, sheets as the area.
  std::vector<Layout> layouts;
  double strap_length_m = 0;
  double sheet_area_m2 = 0;
};

// In the order in which materials stand in the cut list. `units` as Scene::units.
[[nodiscard]] std::vector<ToBuy> cloth_to_buy(const std::vector<CutPiece>& pieces,
                                              const materials::MaterialLibrary& library,
                                              const std::string& units);

// Length that rectangles take on a width; rectangles as (across, along). 0 where one is wider.
[[nodiscard]] double packed_length_m(std::vector<Eigen::Vector2d> rectangles_m, double width_m);

}  // namespace totebench::scenes
