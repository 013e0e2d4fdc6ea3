#include "scenes/format/resolve.hpp"

#include <algorithm>
#include <cmath>

#include "totebench/scenes/attachment_patterns.hpp"
#include "totebench/scenes/base_shape.hpp"
#include "totebench/scenes/sewing.hpp"
#include "totebench/scenes/things.hpp"

namespace totebench::scenes {
namespace {

constexpr double kToteTriangles = 1200;  // before those around the strap seams
constexpr double kSheetTriangles = 600;
constexpr double kLeastStitchedLength_m = 0.0254;
constexpr double kBeyondStitching_m = 0.00635;  // strap left below the last row of stitches
constexpr double kUncutFile_m = 1e5;            // a mesh read from a file is not refined

void set_if_missing(double& value, double derived) {
  if (std::isnan(value)) value = derived;
}

// Three digits are plenty for a mesh size and easier to read.
double rounded(double value) {
  if (!(value > 0) || !std::isfinite(value)) return value;
  const double scale = std::pow(10.0, 2 - std::floor(std::log10(value)));
  return std::round(value * scale) / scale;
}

double size_for(double area_m2, double triangles) {
  return rounded(std::sqrt(area_m2 / triangles * 4 / std::sqrt(3.0)));
}

void fill_items(Contents& contents) {
  if (contents.kind != ContentsKind::kItems) return;
  contents.mass_kg = 0;
  for (Item& item : contents.items) {
    const Item& ordinary = ordinary_things()[static_cast<std::size_t>(item.what)].item;
    if (item.what != 0) item.shape = ordinary.shape;
    for (double Item::*value : {&Item::length_m, &Item::width_m, &Item::height_m, &Item::diameter_m,
                                &Item::mass_kg, &Item::friction}) {
      if (item.*value == 0) item.*value = ordinary.*value;
    }
    contents.mass_kg += item.count * item.mass_kg;
  }
}

// Sizes that follow from pieces; without any, those that could not be read.
void fill_piece_sizes(Bag& bag, const std::string& units) {
  const bool drawn = !bag.pieces.empty() && !bag.pieces.front().outline_m.empty();
  const Sewing sewing = drawn ? sew(bag, units) : Sewing{};
  const bool sewn = drawn && sewing.faults.empty();
  bag.width_m = sewn ? sewing.width_m : std::nan("");
  bag.height_m = sewn ? sewing.height_m : std::nan("");
  bag.depth_m = sewn ? sewing.base_depth_m : std::nan("");
  bag.base_width_m = sewn ? sewing.base_width_m : std::nan("");
}

void fill_tote(Scene& scene) {
  if (scene.bag.shape == BagShape::kPieces) fill_piece_sizes(scene.bag, scene.units);
  const auto fill_region = [&](const char* region, const char* from) {
    if (scene.layers[region].empty()) scene.layers[region] = scene.layers[from];
  };
  fill_region("lower", "upper");
  fill_region("base", "lower");
  fill_items(scene.contents);
  for (Strap& strap : scene.straps) {
    Attachment& attachment = strap.attachment;
    const bool hem = attachment.pattern == AttachmentPattern::kInHem;
    set_if_missing(attachment.length_m, hem ? scene.bag.hem_m - attachment.top_offset_m
                                            : std::max(strap.width_m, kLeastStitchedLength_m));
    const double overlap = overlap_of_pattern(strap, scene.bag);
    if (overlap > 0) set_if_missing(strap.overlap_m, overlap);
    set_if_missing(strap.overlap_m,
                   attachment.top_offset_m + attachment.length_m + kBeyondStitching_m);
    set_if_missing(strap.spacing_m, scene.bag.width_m / 3 + strap.width_m);
  }
  if (std::isnan(scene.mesh.size_m)) {
    const double size = size_for(tote_area_m2(scene), kToteTriangles);
    scene.mesh.size_m = std::clamp(size, 0.002, 0.040);
  }
}

}  // namespace

double tote_area_m2(const Scene& scene) {
  const Bag& bag = scene.bag;
  double area = 2 * bag.width_m * bag.height_m;
  if (bag.shape == BagShape::kPieces) {
    area = std::isnan(bag.width_m) ? std::nan("") : sew(bag, scene.units).area_m2;
  } else if (has_flat_base(bag)) {
    area += 2 * bag.depth_m * bag.height_m + bag.width_m * bag.depth_m;
  }
  for (const Strap& strap : scene.straps) {
    const int ribbons = strap.style == StrapStyle::kTwoHandles ? 2 : 1;
    area += ribbons * strap.width_m * (strap.length_m + 2 * strap.overlap_m);
  }
  return area;
}

double sheet_area_m2(const SheetGeometry& g) {
  const double turn = g.to_angle_rad - g.from_angle_rad;
  switch (g.shape) {
    case SheetShape::kStrip:
    case SheetShape::kRectangle:
      return g.length_m * g.width_m;
    case SheetShape::kDisc:
      return M_PI * g.radius_m * g.radius_m;
    case SheetShape::kAnnulus:
      return turn / 2 * (g.radius_m * g.radius_m - g.inner_radius_m * g.inner_radius_m);
    case SheetShape::kCylinder:
      return turn * g.radius_m * g.length_m;
    case SheetShape::kSphere:
      return turn * g.radius_m * g.radius_m *
             (std::sin(g.to_latitude_rad) - std::sin(g.from_latitude_rad));
    case SheetShape::kFile:
      return std::nan("");
  }
  return std::nan("");
}

double triangle_count(double area_m2, double size_m) {
  return area_m2 / (std::sqrt(3.0) / 4 * size_m * size_m);
}

double rough_volume_m3(const Bag& bag) {
  if (has_flat_base(bag)) return base_width_m(bag) * bag.depth_m * bag.height_m;
  const double w = std::min(bag.width_m, 2 * bag.height_m);
  const double h = std::max(bag.width_m, 2 * bag.height_m);
  return w * w * w * (h / (M_PI * w) - 0.142 * (1 - std::pow(10.0, -h / w))) / 2;
}

void fill_derived(Scene& scene) {
  if (scene.kind == SceneKind::kTote) {
    fill_tote(scene);
  } else if (std::isnan(scene.mesh.size_m)) {
    scene.mesh.size_m = scene.sheet.geometry.shape == SheetShape::kFile
                            ? kUncutFile_m
                            : size_for(sheet_area_m2(scene.sheet.geometry), kSheetTriangles);
  }
}

}  // namespace totebench::scenes
