#include "totebench/scenes/cutlist.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "scenes/builder/tote/tote_sections.hpp"
#include "scenes/patterns/cut_outline.hpp"
#include "totebench/scenes/base_shape.hpp"
#include "totebench/scenes/sewing.hpp"
#include "totebench/scenes/unit_text.hpp"

namespace totebench::scenes {
namespace {

using Eigen::Vector2d;

class CutList {
 public:
  CutList(const Scene& scene, const materials::MaterialLibrary& library)
      : scene_(scene), bag_(scene.bag), library_(library) {}

  std::vector<CutPiece> make() {
    add_walls();
    add_base_panel();
    add_stabilizers();
    add_base_sheet();
    add_pocket();
    add_feet();
    add_straps();
    add_binding();
    return std::move(pieces_);
  }

 private:
  [[nodiscard]] const std::vector<Layer>& layers(const std::string& region) const {
    static const std::vector<Layer> kNone;
    const auto it = scene_.layers.find(region);
    return it == scene_.layers.end() ? kNone : it->second;
  }

  [[nodiscard]] bool is_stabilizer(const Layer& layer) const {
    const materials::Material* material = library_.find(layer.material);
    return material != nullptr && material->category != "fabric" &&
           material->category != "interfacing" && layer.join != LayerJoin::kFused;
  }

  [[nodiscard]] bool is_fabric(const Layer& layer) const {
    const materials::Material* material = library_.find(layer.material);
    return material != nullptr && material->category == "fabric";
  }

  // Every cloth and fusible of a region over one outline.
  void add_plies(const std::string& what, int count, const Outline& sewn, double grain_rad,
                 const std::string& region) {
    int n = 0;
    for (const Layer& layer : layers(region)) {
      ++n;
      if (is_stabilizer(layer)) continue;
      CutPiece piece;
      piece.name = n == 1 ? what + ", outer" : fmt::format("{}, layer {}", what, n);
      piece.material = layer.material;
      piece.count = count;
      piece.sewn_m = sewn.points;
      piece.cut_m = with_allowances(sewn, bag_.seam_allowance_m, bag_.hem_m);
      piece.notches = notches(sewn, bag_.seam_allowance_m, bag_.hem_m);
      piece.grain_rad = grain_rad + layer.warp_angle_rad;
      piece.note = wall_note(what, n);
      pieces_.push_back(std::move(piece));
    }
  }

  // What a drawing shows and a table does not, told with the outer cloth: notches and marks.
  [[nodiscard]] std::string wall_note(const std::string& what, int layer) const {
    const bool wall = what.starts_with("front and back");
    if (!wall || layer > 1 || bag_.upper_height_m > 0 || bag_.lengthwise_seams > 0) return "";
    const auto len = [&](double length_m) { return length_text(length_m, scene_.units); };
    std::string note;
    if (bag_.shape == BagShape::kBoxed) {
      note = fmt::format(
          "boxed corners, all layers alike: a square of {0} by {0} is cut from each lower corner "
          "(half the depth); "
          "after sides and bottom are sewn, its edges are laid together and sewn across",
          len(bag_.depth_m / 2));
    }
    note += std::string(note.empty() ? "" : "; ") + "notch the middle of the top and bottom edges";
    const Strap& strap = scene_.straps.front();
    if (strap.style == StrapStyle::kTwoHandles) {
      note += fmt::format("; mark the middle of each strap end {} from the middle of the top edge",
                          len(strap.spacing_m / 2));
    }
    return note;
  }

  // One wall face: cut apart at the crosswise seam and at the lengthwise seams.
  void add_face(const std::string& what, int count, const Outline& face, bool lengthwise) {
    const double grain = M_PI / 2 + bag_.warp_angle_rad;
    const double across = bag_.upper_height_m > 0 ? bag_.height_m - bag_.upper_height_m : 0;
    std::vector<std::pair<std::string, Outline>> bands;
    if (across > 0) {
      bands = {{"upper", left_of(face, {0, across}, {1, 0})},
               {"lower", left_of(face, {0, across}, {-1, 0})}};
    } else {
      bands = {{"upper", face}};
    }
    for (const auto& [region, band] : bands) {
      const std::string name = bands.size() > 1 ? fmt::format("{}, {} part", what, region) : what;
      const int n_strips = lengthwise ? bag_.lengthwise_seams + 1 : 1;
      for (int i = 0; i < n_strips; ++i) {
        Outline strip = band;
        const auto at = [&](int k) { return -bag_.width_m / 2 + bag_.width_m * k / n_strips; };
        if (i > 0) strip = left_of(strip, {at(i), 0}, {0, -1});
        if (i + 1 < n_strips) strip = left_of(strip, {at(i + 1), 0}, {0, 1});
        add_plies(n_strips > 1 ? fmt::format("{}, strip {}", name, i + 1) : name, count, strip,
                  grain, region);
      }
    }
  }

  void add_walls() {
    switch (bag_.shape) {
      case BagShape::kBoxed:
        add_face("front and back with half of sides and base", 2, boxed_panel(bag_), true);
        break;
      case BagShape::kGusset:
        add_face("front and back", 2, wall(bag_.width_m), true);
        add_face("sides", 2, wall(bag_.depth_m), false);
        break;
      case BagShape::kRounded:
      case BagShape::kSack:
        add_face("front and back", 2, flat_face(bag_), true);
        break;
      case BagShape::kPieces:
        add_own_pieces();
        break;
    }
  }

  // As drawn; two that are cut from one outline are one entry.
  void add_own_pieces() {
    std::vector<char> taken(bag_.pieces.size(), 0);
    for (std::size_t p = 0; p < bag_.pieces.size(); ++p) {
      if (taken[p] != 0) continue;
      const Piece& piece = bag_.pieces[p];
      std::string name = piece.name;
      int count = 1;
      for (std::size_t q = p + 1; q < bag_.pieces.size(); ++q) {
        const Piece& other = bag_.pieces[q];
        if (!is_cut_alike(piece, other)) continue;
        taken[q] = 1;
        ++count;
        name += " and " + other.name;
      }
      add_plies(name, count, piece_outline(bag_, static_cast<int>(p)), warp_of(piece),
                region_of(piece));
    }
  }

  [[nodiscard]] static std::string region_of(const Piece& piece) {
    switch (piece.layers) {
      case PieceLayers::kUpper:
        return "upper";
      case PieceLayers::kLower:
        return "lower";
      case PieceLayers::kBase:
        return "base";
    }
    return "upper";
  }

  [[nodiscard]] static bool is_cut_alike(const Piece& a, const Piece& b) {
    constexpr double kAlike_m = 1e-4;  // far below what is cut
    if (a.layers != b.layers || a.warp_angle_rad != b.warp_angle_rad || a.mirrored != b.mirrored ||
        a.outline_m.size() != b.outline_m.size()) {
      return false;
    }
    for (std::size_t i = 0; i < a.outline_m.size(); ++i) {
      const Vector2d off = (a.outline_m[i] - a.outline_m[0]) - (b.outline_m[i] - b.outline_m[0]);
      if (off.norm() > kAlike_m) return false;
    }
    return true;
  }

  [[nodiscard]] Outline wall(double width) const {
    Outline face = rectangle(width, bag_.height_m, Border::kSewn, Border::kSewn, Border::kOpening,
                             Border::kSewn);
    for (Vector2d& p : face.points) p.x() -= width / 2;
    return face;
  }

  void add_base_panel() {
    if (bag_.shape == BagShape::kGusset) {
      add_plies("base", 1,
                rectangle(bag_.width_m, bag_.depth_m, Border::kSewn, Border::kSewn, Border::kSewn,
                          Border::kSewn),
                bag_.base_warp_angle_rad, "base");
      return;
    }
    if (bag_.shape != BagShape::kBoxed) return;
    // The base is cut with the walls; only what it has beyond them is cut for it alone.
    const std::string walls = bag_.upper_height_m > 0 ? "lower" : "upper";
    std::vector<Layer> beyond = layers("base");
    for (const Layer& layer : layers(walls)) {
      const auto it = std::find(beyond.begin(), beyond.end(), layer);
      if (it != beyond.end()) beyond.erase(it);
    }
    for (const Layer& layer : beyond) {
      CutPiece piece;
      piece.name = "base, further layer";
      piece.material = layer.material;
      piece.cut_m = rectangle(bag_.width_m, bag_.depth_m, Border::kFold, Border::kFold,
                              Border::kFold, Border::kFold)
                        .points;
      piece.grain_rad = bag_.base_warp_angle_rad + layer.warp_angle_rad;
      piece.note = "without allowances";
      pieces_.push_back(std::move(piece));
    }
  }

  // Front, base, back (and sides) unfolded into one piece.
  [[nodiscard]] std::vector<Vector2d> unfolded() const {
    const double w = bag_.width_m / 2, d = bag_.depth_m / 2, h = bag_.height_m;
    if (bag_.shape == BagShape::kBoxed) {
      const double o = w + d;
      return {{-o, -d - h}, {o, -d - h}, {o, -d}, {w, -d}, {w, d},   {o, d},
              {o, d + h},   {-o, d + h}, {-o, d}, {-w, d}, {-w, -d}, {-o, -d}};
    }
    if (bag_.shape == BagShape::kGusset) {
      return {{-w, -d - h}, {w, -d - h}, {w, -d}, {w + h, -d}, {w + h, d},   {w, d},
              {w, d + h},   {-w, d + h}, {-w, d}, {-w - h, d}, {-w - h, -d}, {-w, -d}};
    }
    if (bag_.shape == BagShape::kSack) return rectangle_points(2 * w, 2 * h);
    return flat_face(bag_).points;
  }

  static std::vector<Vector2d> rectangle_points(double width, double height) {
    return {{0, 0}, {width, 0}, {width, height}, {0, height}};
  }

  // What is cut without allowances, piece by piece.
  void add_own_stabilizers() {
    for (std::size_t p = 0; p < bag_.pieces.size(); ++p) {
      const Piece& piece = bag_.pieces[p];
      for (const Layer& layer : layers(region_of(piece))) {
        if (!is_stabilizer(layer)) continue;
        CutPiece cut;
        cut.name = "stabilizer, " + piece.name;
        cut.material = layer.material;
        cut.cut_m = piece_outline(bag_, static_cast<int>(p)).points;
        cut.grain_rad = warp_of(piece) + layer.warp_angle_rad;
        cut.note = "without allowances";
        pieces_.push_back(std::move(cut));
      }
    }
  }

  void add_stabilizers() {
    if (bag_.shape == BagShape::kPieces) return add_own_stabilizers();
    for (const Layer& layer : layers("upper")) {
      if (!is_stabilizer(layer)) continue;
      CutPiece piece;
      piece.name = "stabilizer";
      piece.material = layer.material;
      piece.count = bag_.shape == BagShape::kRounded ? 2 : 1;
      piece.cut_m = unfolded();
      piece.grain_rad = M_PI / 2 + bag_.warp_angle_rad + layer.warp_angle_rad;
      piece.note = bag_.shape == BagShape::kRounded ? "without allowances"
                                                    : "in one piece, without allowances";
      pieces_.push_back(std::move(piece));
    }
  }

  void add_base_sheet() {
    const BaseSheet& base = scene_.base;
    if (base.kind == BaseKind::kNone) return;
    const double w = base_width_m(bag_) - 2 * base.clearance_m,
                 d = bag_.depth_m - 2 * base.clearance_m;
    const double r = std::min(base.corner_radius_m, 0.5 * std::min(w, d));
    CutPiece piece;
    piece.name = "base sheet";
    piece.material = base.material;
    piece.has_grain = false;
    const Vector2d centre[4] = {{w - r, r}, {w - r, d - r}, {r, d - r}, {r, r}};
    for (int k = 0; k < 4; ++k) {
      const int steps = r > 0 ? 90 : 0;
      for (int i = 0; i <= steps; ++i) {
        const double angle = M_PI / 2 * (k - 1 + (steps > 0 ? double(i) / steps : 0));
        piece.cut_m.push_back(centre[k] + r * Vector2d(std::cos(angle), std::sin(angle)));
      }
    }
    piece.round_corners = r > 0;
    if (r > 0) piece.note = "corners rounded to a radius of " + length_text(r, scene_.units);
    pieces_.push_back(std::move(piece));
  }

  // Over the base like the sheet's border in base_pocket.cpp: the sheet and its clearance.
  void add_pocket() {
    if (scene_.base.kind != BaseKind::kPocket) return;
    const Outline sewn = rectangle(base_width_m(bag_), bag_.depth_m, Border::kSewn, Border::kSewn,
                                   Border::kSewn, Border::kSewn);
    CutPiece piece;
    piece.name = "pocket of the base sheet";
    const std::vector<Layer>& base = layers_of(scene_, kRegionBase);
    const auto inner = std::find_if(base.rbegin(), base.rend(),
                                    [&](const Layer& layer) { return is_fabric(layer); });
    piece.material = inner != base.rend() ? inner->material : base.back().material;
    piece.sewn_m = sewn.points;
    piece.cut_m = with_allowances(sewn, bag_.seam_allowance_m, bag_.hem_m);
    piece.grain_rad = bag_.base_warp_angle_rad;
    piece.note =
        "one end stays open for the sheet, its allowance turned in; the pocket's cloth is not in "
        "the weight that hang computes";
    pieces_.push_back(std::move(piece));
  }

  void add_feet() {
    if (scene_.feet.count == 0) return;
    CutPiece piece;
    piece.name = "reinforcement under a foot";
    piece.material = scene_.base.material;
    piece.count = scene_.feet.count;
    piece.cut_m = rectangle_points(scene_.feet.patch_m, scene_.feet.patch_m);
    piece.has_grain = false;
    pieces_.push_back(std::move(piece));
  }

  void add_straps() {
    for (const Strap& strap : scene_.straps) {
      CutPiece piece;
      piece.name = strap.plies > 1 ? "strap strip" : "strap";
      piece.material = strap.material;
      piece.count = strap.style == StrapStyle::kTwoHandles ? 2 : 1;
      piece.cut_m = rectangle_points(strap.length_m + 2 * strap.overlap_m,
                                     strap.width_m * std::max(1, strap.plies));
      if (strap.plies > 1) {
        piece.note = fmt::format("folded to {} plies, {} finished", strap.plies,
                                 length_text(strap.width_m, scene_.units));
      }
      pieces_.push_back(std::move(piece));
      if (!strap.attachment.patch || layers("upper").empty()) continue;
      CutPiece patch;
      patch.name = "patch behind a strap end";
      patch.material = layers("upper").front().material;
      patch.count = strap.style == StrapStyle::kTwoHandles ? 4 : 2;
      const double s = bag_.seam_allowance_m;
      patch.cut_m = rectangle_points(strap.width_m + 2 * s, strap.attachment.length_m + 2 * s);
      patch.grain_rad = M_PI / 2;
      pieces_.push_back(std::move(patch));
    }
  }

  void add_binding() {
    if (bag_.hem_m > 0 || layers("upper").empty()) return;
    const bool box = has_flat_base(bag_);
    const double round = bag_.shape == BagShape::kPieces
                             ? sew(bag_, scene_.units).opening_m
                             : 2 * (bag_.width_m + (box ? bag_.depth_m : 0));
    CutPiece piece;
    piece.name = "binding of the opening";
    piece.material = layers("upper").front().material;
    piece.cut_m = rectangle_points(round + 2 * bag_.seam_allowance_m, kBindingWidth_m);
    piece.note = "for an opening that is bound; none for a raw edge";
    pieces_.push_back(std::move(piece));
  }

  const Scene& scene_;
  const Bag& bag_;
  const materials::MaterialLibrary& library_;
  std::vector<CutPiece> pieces_;
};

double extent(const std::vector<Vector2d>& points, int axis) {
  double low = 0, high = 0;
  for (std::size_t i = 0; i < points.size(); ++i) {
    low = i == 0 ? points[i][axis] : std::min(low, points[i][axis]);
    high = i == 0 ? points[i][axis] : std::max(high, points[i][axis]);
  }
  return high - low;
}

}  // namespace

bool CutPiece::by_ruler() const {
  constexpr double kStraight_m = 1e-6;
  if (round_corners) return true;
  for (std::size_t i = 0; i < cut_m.size(); ++i) {
    const Vector2d edge = cut_m[(i + 1) % cut_m.size()] - cut_m[i];
    if (std::min(std::abs(edge.x()), std::abs(edge.y())) > kStraight_m) return false;
  }
  return true;
}
double CutPiece::width_m() const { return extent(cut_m, 0); }
double CutPiece::height_m() const { return extent(cut_m, 1); }

double outline_area_m2(const std::vector<Vector2d>& outline) {
  double twice = 0;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Vector2d &a = outline[i], &b = outline[(i + 1) % outline.size()];
    twice += a.x() * b.y() - a.y() * b.x();
  }
  return 0.5 * std::abs(twice);
}

std::vector<CutPiece> cut_pieces(const Scene& scene, const materials::MaterialLibrary& library) {
  if (scene.kind != SceneKind::kTote) {
    throw std::invalid_argument("Only a tote has pieces to cut; this is a sheet");
  }
  return CutList(scene, library).make();
}

}  // namespace totebench::scenes
