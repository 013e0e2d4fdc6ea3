// Outlines of the pieces of a bag as they are sewn, and what is cut beyond them.
#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

#include "totebench/scenes/cutlist.hpp"
#include "totebench/scenes/scene.hpp"

namespace totebench::scenes {

enum class Border { kSewn, kOpening, kFold };  // what is added outside an edge

// A sewn outline in metres, counter-clockwise; edge i runs from point i to point i + 1.
struct Outline {
  struct Mark {
    std::string name;
    std::size_t point = 0;
  };
  std::vector<Eigen::Vector2d> points;
  std::vector<Border> borders;
  std::vector<Mark> marks;  // along edges; a corner marks itself
  void add(const Eigen::Vector2d& p, Border border);
};

// The part on the left of the line through `at` along `along`; the new edge is sewn.
[[nodiscard]] Outline left_of(const Outline& whole, const Eigen::Vector2d& at,
                              const Eigen::Vector2d& along);

// Every edge moved outwards by what its border needs (allowance, hem, nothing at a fold); corners
// where the moved edges meet.
[[nodiscard]] std::vector<Eigen::Vector2d> with_allowances(const Outline& sewn, double allowance_m,
                                                           double hem_m);

// At its marks, from the line to cut to the sewing line.
[[nodiscard]] std::vector<Notch> notches(const Outline& sewn, double allowance_m, double hem_m);

[[nodiscard]] Outline rectangle(double width_m, double height_m, Border low, Border right,
                                Border top, Border left);

// Wall faces have the opening at the top and v = 0 at the base or bottom seam, u centred.
[[nodiscard]] Outline boxed_panel(const Bag& bag);  // with half of the sides and of the base
[[nodiscard]] Outline flat_face(const Bag& bag);    // of a bag of two faces, corners rounded
// Of the bag's own pieces the one with this index, as drawn; chords of curves turn by a degree.
[[nodiscard]] Outline piece_outline(const Bag& bag, int piece);

}  // namespace totebench::scenes
