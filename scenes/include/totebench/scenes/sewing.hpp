// How pattern pieces of one's own go together: which stretch of an outline is sewn to which, and
// what bag comes of it.
//
// An outline is divided by its marks into stretches. Each is sewn or folded to one other, or is
// part of the opening; sewn, the pieces are one cloth with one opening (a disc: V - E + F = 1).
#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

#include "totebench/scenes/scene.hpp"

namespace totebench::scenes {

// From one mark to the next, counter-clockwise; both marks are one where an outline has no other.
struct Stretch {
  int piece = -1;
  int from = 0;  // indices into Piece::marks
  int to = 0;
  double length_m = 0;
};

struct Joint {
  Stretch a;
  Stretch b;  // b.from lies on a.to and b.to on a.from; piece -1 at the opening
  EdgeUse use = EdgeUse::kSeam;
  int edge = 0;  // index into Bag::edges
  [[nodiscard]] bool is_opening() const { return b.piece < 0; }
};

struct SewingFault {
  std::string pointer;  // into the scene file
  std::string what;
  std::string cure;
};

// Where a piece lies in its face's coordinates: drawing to (u, v) by adding. On walls v = height is
// the highest place of the piece's opening, or the piece hangs by its seams on those above; v = 0
// is the lowest place of all walls. u = 0 is the middle of the opening, else of the piece. Pieces
// of the base keep their places to each other about the middle of all.
struct Sewing {
  std::vector<Joint> joints;
  std::vector<std::vector<int>> corner;  // per piece and mark: one number where marks meet, from 0
  std::vector<SewingFault> faults;       // then nothing else is meant to be used
  std::vector<Eigen::Vector2d> shift_m;  // per piece
  double height_m = 0;
  double width_m = 0;    // of the piece "front" at the opening, else half the opening
  double opening_m = 0;  // once round
  double base_width_m = 0;
  double base_depth_m = 0;
  double area_m2 = 0;
};

// `units` are those of lengths in sentences. The bag's pieces have their outlines.
[[nodiscard]] Sewing sew(const Bag& bag, const std::string& units);

// Points of a stretch as drawn, both ends included.
[[nodiscard]] std::vector<Eigen::Vector2d> points_of(const Bag& bag, const Stretch& stretch);

// Of the warp of a piece as it lies, from u towards v.
[[nodiscard]] double warp_of(const Piece& piece);

// Index of the piece with this name, -1 = none.
[[nodiscard]] int piece_called(const Bag& bag, const std::string& name);

}  // namespace totebench::scenes
