// Pattern pieces of one's own: how they are sewn together, and whether straps and base sheet lie on
// them.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "scenes/check/tote_rules.hpp"
#include "scenes/patterns/pattern.hpp"
#include "totebench/scenes/base_shape.hpp"
#include "totebench/scenes/sewing.hpp"

namespace totebench::scenes {
namespace {

using Eigen::Vector2d;

constexpr double kBeside_m = 0.3e-3;  // as good as on it
constexpr int kLooks = 12;            // along each edge of what must lie on a piece

bool is_inside(const std::vector<Vector2d>& outline, const Vector2d& p) {
  bool inside = false;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Vector2d &a = outline[i], &b = outline[(i + 1) % outline.size()];
    if (distance_to_segment(p, a, b) < kBeside_m) return true;
    if ((a.y() > p.y()) != (b.y() > p.y()) &&
        p.x() < a.x() + (b.x() - a.x()) * (p.y() - a.y()) / (b.y() - a.y())) {
      inside = !inside;
    }
  }
  return inside;
}

class PieceCheck {
 public:
  explicit PieceCheck(const ToteUnderCheck& tote)
      : tote_(tote), bag_(tote.scene.bag), sewing_(sew(bag_, tote.scene.units)) {}

  void run() {
    for (const SewingFault& fault : sewing_.faults) {
      tote_.report.error(fault.pointer, fault.what, fault.cure);
    }
    if (!sewing_.faults.empty()) return;
    if (!tote_.scene.straps.empty()) check_strap();
    if (tote_.scene.base.kind != BaseKind::kNone && has_flat_base(bag_)) check_sheet();
  }

 private:
  // In its face's coordinates.
  [[nodiscard]] std::vector<Vector2d> outline_of(int piece) const {
    const auto p = static_cast<std::size_t>(piece);
    std::vector<Vector2d> outline = bag_.pieces[p].outline_m;
    for (Vector2d& point : outline) point += sewing_.shift_m[p];
    return outline;
  }

  // How far to the left and right the top of the opening reaches on a piece; empty when it has
  // none.
  [[nodiscard]] double reach(int piece) const {
    double most = -1;
    for (const Vector2d& p : outline_of(piece)) {
      if (std::abs(p.y() - sewing_.height_m) < kBeside_m) most = std::max(most, std::abs(p.x()));
    }
    return most;
  }

  [[nodiscard]] bool on_opening(int piece, const Vector2d& p) const {
    const Vector2d shift = sewing_.shift_m[static_cast<std::size_t>(piece)];
    for (const Joint& joint : sewing_.joints) {
      if (!joint.is_opening() || joint.a.piece != piece) continue;
      const std::vector<Vector2d> points = points_of(bag_, joint.a);
      for (std::size_t i = 1; i < points.size(); ++i) {
        if (distance_to_segment(p - shift, points[i - 1], points[i]) < kBeside_m) return true;
      }
    }
    return false;
  }

  void check_strap() {
    const Strap& strap = tote_.scene.straps.front();
    const int front = piece_called(bag_, "front"), back = piece_called(bag_, "back");
    if (strap.style == StrapStyle::kTwoHandles) {
      if (front < 0 || back < 0)
        return no_place("handles are sewn to pieces called \"front\" and \"back\"");
      for (const int piece : {front, back}) {
        for (const double side : {-1.0, 1.0}) {
          check_end(piece, 0.5 * side * strap.spacing_m, 0.5 * strap.width_m, 0.5 * strap.width_m);
        }
      }
      return;
    }
    const int left = piece_called(bag_, "side left"), right = piece_called(bag_, "side right");
    if (left >= 0 && right >= 0) {
      for (const int piece : {left, right})
        check_end(piece, 0, 0.5 * strap.width_m, 0.5 * strap.width_m);
    } else if (left < 0 && right < 0 && front >= 0 && back >= 0) {
      for (const int piece : {front, back}) {
        check_end(piece, -reach(piece), 0, 0.5 * strap.width_m);
        check_end(piece, reach(piece), 0.5 * strap.width_m, 0);
      }
    } else {
      no_place(
          "a shoulder strap is sewn to pieces called \"side left\" and \"side right\", or "
          "astride the seams between \"front\" and \"back\"");
    }
  }

  void no_place(const std::string& rule) {
    tote_.report.error("/straps/style", "the pieces have no place for this strap", rule);
  }

  // A strap's end lies on a piece from `low` to `high` beside `centre`, all its overlap, and comes
  // off at the opening.
  void check_end(int piece, double centre, double low, double high) {
    const std::string& name = bag_.pieces[static_cast<std::size_t>(piece)].name;
    if (reach(piece) < 0) return no_place(fmt::format("\"{}\" has no edge at the opening", name));
    const double overlap = tote_.scene.straps.front().overlap_m;
    if (std::isnan(overlap) || std::isnan(centre)) return;
    const std::vector<Vector2d> outline = outline_of(piece);
    bool level = true, inside = true;
    for (int i = 0; i <= kLooks; ++i) {
      const double share = static_cast<double>(i) / kLooks;
      const double u = centre - low + share * (low + high);
      level = level && on_opening(piece, {u, sewing_.height_m});
      inside = inside && is_inside(outline, {u, sewing_.height_m - overlap});
      for (const double side : {centre - low, centre + high}) {
        inside = inside && is_inside(outline, {side, sewing_.height_m - share * overlap});
      }
    }
    if (level && inside) return;
    const std::string where = fmt::format("the strap's end on \"{}\", {} from the middle,", name,
                                          tote_.len(std::abs(centre)));
    if (!level) {
      tote_.report.error("/straps",
                         where + " does not lie at a level, straight part of the opening",
                         "draw the opening level where the strap is sewn, as high as its highest "
                         "place, or move the strap");
    } else {
      tote_.report.error("/straps", where + " lies beside the piece",
                         "make the piece wider there, or the overlap or the strap's width smaller; "
                         "a seam under a strap is drawn upright");
    }
  }

  // The sheet's rounded rectangle lies on the pieces of the base.
  void check_sheet() {
    const BaseSheet& sheet = tote_.scene.base;
    const Vector2d half(0.5 * bag_.base_width_m - sheet.clearance_m,
                        0.5 * bag_.depth_m - sheet.clearance_m);
    const double r = std::min(sheet.corner_radius_m, half.minCoeff());
    bool inside = true;
    for (int i = 0; i <= 6 * kLooks; ++i) {
      const double angle = M_PI / 2 * i / (6 * kLooks);
      const Vector2d corner = half - Vector2d::Constant(r);
      for (const double x : {-1.0, 1.0}) {
        for (const double y : {-1.0, 1.0}) {
          const Vector2d p =
              Vector2d(x, y).cwiseProduct(corner + r * Vector2d(std::cos(angle), std::sin(angle)));
          inside = inside && on_base(p);
        }
      }
    }
    if (inside) return;
    tote_.report.error(
        "/base",
        fmt::format("the base sheet, {} by {}, reaches beyond the base as it is drawn",
                    tote_.len(2 * half.x()), tote_.len(2 * half.y())),
        fmt::format("round its corners (corner_radius, at most {}) or give it more clearance",
                    tote_.at_most(half.minCoeff())));
  }

  [[nodiscard]] bool on_base(const Vector2d& p) const {
    for (std::size_t i = 0; i < bag_.pieces.size(); ++i) {
      if (bag_.pieces[i].layers == PieceLayers::kBase &&
          is_inside(outline_of(static_cast<int>(i)), p)) {
        return true;
      }
    }
    return false;
  }

  const ToteUnderCheck& tote_;
  const Bag& bag_;
  Sewing sewing_;
};

}  // namespace

void check_pieces(const ToteUnderCheck& tote) {
  const Bag& bag = tote.scene.bag;
  const bool drawn = std::none_of(bag.pieces.begin(), bag.pieces.end(),
                                  [](const Piece& piece) { return piece.outline_m.empty(); });
  if (!bag.pieces.empty() && drawn) PieceCheck(tote).run();
}

}  // namespace totebench::scenes
