#include <algorithm>
#include <string>
#include <vector>

#include "tests/support/random_draw.hpp"
#include "tests/support/random_scenes.hpp"
#include "totebench/scenes/packing.hpp"
#include "totebench/scenes/things.hpp"

namespace totebench::test {
namespace {

using namespace scenes;

class ToteMaker {
 public:
  ToteMaker(unsigned seed, Draw draw) : random_(seed), edge_(draw == Draw::kEdge) {}

  Scene make(unsigned seed) {
    scene_.name = "random tote " + std::to_string(seed);
    scene_.units = random_.one_of<std::string>({"in", "cm", "si"});
    body();
    layers();
    strap();
    attachment();
    base();
    support();
    contents();
    mesh();
    return scene_;
  }

 private:
  // Now and then, and only at the edge of what is possible, a value near `limit`.
  void perhaps_near(double& value, double limit) {
    if (edge_ && random_.one_in(5)) value = std::max(random_.near(limit), 1e-3);
  }

  [[nodiscard]] bool flat() const {
    return scene_.bag.shape == BagShape::kRounded || scene_.bag.shape == BagShape::kSack;
  }

  void body() {
    Bag& bag = scene_.bag;
    bag.shape = random_.kind<BagShape>(4);
    bag.width_m = random_.between(0.15, 0.60);
    bag.height_m = random_.between(0.15, 0.60);
    if (!flat()) bag.depth_m = random_.between(0.05, std::min(0.30, 0.8 * bag.width_m));
    bag.seam_allowance_m = random_.one_of({0.0, 0.00635, 0.010, 0.0127});
    bag.hem_m = random_.one_in(4) ? 0 : random_.between(0.012, 0.05);
    bag.upper_height_m = random_.one_in(2) ? 0 : random_.between(0.055, 0.5 * bag.height_m);
    bag.lengthwise_seams = random_.one_in(2) ? 0 : random_.whole(1, 4);
    bag.warp_angle_rad = random_.one_of({0.0, 0.0, 0.78539816339744828, 0.3});
    if (bag.shape == BagShape::kRounded) {
      bag.corner_radius_m = random_.between(0.02, 0.4 * std::min(bag.width_m, bag.height_m));
      perhaps_near(bag.corner_radius_m, 0.48 * bag.width_m);
      perhaps_near(bag.corner_radius_m, 0.95 * (bag.height_m - bag.hem_m));
    }
    if (!edge_) return;
    perhaps_near(bag.hem_m, bag.upper_height_m > 0 ? bag.upper_height_m : bag.height_m);
    perhaps_near(bag.upper_height_m, bag.height_m);
    if (random_.one_in(8)) bag.lengthwise_seams = random_.whole(5, 12);
    if (random_.one_in(8)) bag.seam_allowance_m = random_.between(0.02, 0.07);
    if (!flat() && random_.one_in(8)) bag.depth_m = random_.near(0.02);
  }

  std::vector<Layer> stack() {
    static const std::vector<std::vector<Layer>> stacks = {
        {{"quilting_cotton"}},
        {{"lining_polyester_taffeta"}},
        {{"cotton_duck_10oz"}},
        {{"denim_12oz"}, {"quilting_cotton", LayerJoin::kSewnAtEdges}},
        {{"quilting_cotton"}, {"fusible_woven_light"}},
        {{"quilting_cotton"},
         {"fusible_nonwoven_medium"},
         {"stabilizer_foam_4mm", LayerJoin::kSewnAtEdges},
         {"quilting_cotton", LayerJoin::kLoose}},
        {{"cotton_duck_7oz"}, {"batting_needled_cotton", LayerJoin::kStitchedGrid, 0, 0.05}},
        {{"cotton_duck_12oz"}, {"stabilizer_nonwoven_1p7mm"}},
        {{"cotton_duck_no8"}, {"buckram", LayerJoin::kSewnAtEdges}}};
    return stacks[static_cast<std::size_t>(random_.whole(0, static_cast<int>(stacks.size()) - 1))];
  }

  void layers() {
    auto& layers = scene_.layers;
    layers["upper"] = stack();
    layers["lower"] = scene_.bag.upper_height_m > 0 ? stack() : layers["upper"];
    layers["base"] = flat() ? layers["lower"] : stack();
    if (scene_.bag.hem_m > 0 && random_.one_in(4)) layers["hem"] = {{"buckram"}};
    scene_.seams.thread = "spun_polyester_tex40";
    scene_.seams.stitch_length_m = 0.0025;
  }

  void strap() {
    const Bag& bag = scene_.bag;
    Strap strap;
    strap.style = random_.one_in(3) ? StrapStyle::kShoulderStrap : StrapStyle::kTwoHandles;
    const bool handles = strap.style == StrapStyle::kTwoHandles;
    strap.material =
        random_.one_of<std::string>({"web_cotton_25", "web_cotton_38", "web_nylon_38",
                                     "leather_strap_3mm", "cotton_duck_10oz", "quilting_cotton"});
    if (strap.material.rfind("cotton", 0) == 0 || strap.material.rfind("quilting", 0) == 0) {
      strap.plies = 4;
    }
    const double room = handles ? 0.3 * bag.width_m : flat() ? 0.4 * bag.width_m : bag.depth_m;
    strap.width_m = std::min(random_.between(0.015, 0.06), 0.8 * room);
    if (handles) {
      strap.spacing_m = random_.between(strap.width_m + 0.01, bag.width_m - strap.width_m - 0.02);
      perhaps_near(strap.spacing_m, bag.width_m - strap.width_m - 0.008);
      perhaps_near(strap.spacing_m, bag.width_m - strap.width_m);
      perhaps_near(strap.spacing_m, strap.width_m + 0.004);
    } else {
      perhaps_near(strap.width_m, flat() ? 0.5 * bag.width_m : bag.depth_m - 0.008);
    }
    const double apart = handles ? strap.spacing_m : bag.width_m;
    strap.length_m = apart + random_.between(0.35, 0.9);
    perhaps_near(strap.length_m, 1.5 * apart);
    perhaps_near(strap.length_m, apart + 0.1);
    scene_.straps = {strap};
  }

  void attachment() {
    const Bag& bag = scene_.bag;
    Strap& strap = scene_.straps.front();
    Attachment& a = strap.attachment;
    a.pattern = random_.kind<AttachmentPattern>(7);
    a.rows = random_.whole(1, 4);
    a.stitch_length_m = random_.one_of({0.002, 0.003, 0.004});
    a.thread = "spun_polyester_tex60";
    a.patch = random_.one_in(3);
    a.top_offset_m = random_.one_of({0.0, 0.00635, 0.012});
    a.length_m = std::max(random_.between(0.02, 0.05), a.rows * a.rivet_cap_m);
    const double below = random_.one_of({0.0, 0.0, 0.00635, 0.02});  // mostly flush
    strap.overlap_m = a.top_offset_m + a.length_m + below;
    if (a.pattern == AttachmentPattern::kInHem && (bag.hem_m > a.top_offset_m + 0.005)) {
      a.length_m = bag.hem_m - a.top_offset_m;
      strap.overlap_m = bag.hem_m;
    }
    if (a.pattern == AttachmentPattern::kToBase) strap.overlap_m = bag.height_m;
    if (!edge_) return;
    perhaps_near(strap.overlap_m, a.top_offset_m + a.length_m);
    perhaps_near(strap.overlap_m, 0.9 * (bag.height_m - bag.corner_radius_m));
    perhaps_near(a.length_m, strap.overlap_m - a.top_offset_m);
    perhaps_near(a.stitch_length_m, std::min(strap.width_m, std::max(a.length_m, 0.001)));
    if (random_.one_in(5)) a.rows = random_.whole(4, 12);
    if (random_.one_in(8)) a.rivet_cap_m = random_.near(strap.width_m);
    if (random_.one_in(8)) a.tack_width_m = random_.between(0.001, 0.02);
    if (random_.one_in(8)) a.tack_stitches = random_.whole(4, 200);
    if (random_.one_in(10)) a.thread = "cotton_soft_tex350";
    a.stitch_length_m = std::clamp(a.stitch_length_m, 0.0005, 0.012);
  }

  void base() {
    const Bag& bag = scene_.bag;
    BaseSheet& sheet = scene_.base;
    scene_.feet = {0, 0.0254, 0.0381, 0.004, 0.0047625};
    if (flat()) return;
    sheet.kind = random_.kind<BaseKind>(3);
    if (sheet.kind == BaseKind::kNone) return;
    sheet.material = random_.one_of<std::string>({"hdpe_sheet", "chipboard_2mm", "pp_sheet"});
    sheet.thickness_m = random_.one_of({0.0, 0.001, 0.002});
    sheet.clearance_m = random_.one_of({0.0, 0.003175, 0.008});
    sheet.corner_radius_m = random_.one_of({0.0, 0.0127, 0.02});
    const double narrow = std::min(bag.width_m, bag.depth_m);
    perhaps_near(sheet.clearance_m, (narrow - 0.010) / 2);
    perhaps_near(sheet.corner_radius_m, narrow / 2 - sheet.clearance_m);
    if (random_.one_in(2)) return;
    scene_.feet.count = random_.one_of({4, 5});
    perhaps_near(scene_.feet.inset_m, narrow / 2);
    perhaps_near(scene_.feet.patch_m, 2 * scene_.feet.inset_m);
    if (edge_ && random_.one_in(10)) scene_.feet.count = random_.whole(1, 5);
  }

  void support() {
    Support& support = scene_.support;
    const Strap& strap = scene_.straps.front();
    support.kind = random_.one_in(2) ? SupportKind::kHook : SupportKind::kHand;
    support.diameter_m = random_.between(0.006, 0.06);
    support.grip_width_m = random_.between(0.06, 0.11);
    perhaps_near(support.diameter_m, strap.length_m / 2);
    perhaps_near(support.grip_width_m, strap.length_m - 2 * strap.width_m);
    support.diameter_m = std::min(support.diameter_m, 0.3);
    support.grip_width_m = std::clamp(support.grip_width_m, 0.005, 0.4);
  }

  void contents() {
    Contents& contents = scene_.contents;
    contents.kind = random_.kind<ContentsKind>(2);
    contents.mass_kg = random_.between(0.5, 25);
    if (contents.kind != ContentsKind::kLoose) return;
    const Bag& bag = scene_.bag;
    const double room = bag.width_m * bag.height_m * (flat() ? 0.1 * bag.width_m : bag.depth_m);
    contents.bulk_density_kg_per_m3 =
        std::clamp(contents.mass_kg / (random_.between(0.2, 0.7) * room), 50.0, 20000.0);
    contents.friction_angle_rad = random_.one_of({0.0, 0.52359877559829882});
    perhaps_near(contents.bulk_density_kg_per_m3, contents.mass_kg / room);
    contents.bulk_density_kg_per_m3 = std::clamp(contents.bulk_density_kg_per_m3, 2.0, 20000.0);
  }

  void mesh() {
    const double size = random_.between(0.018, 0.04);
    scene_.mesh.size_m =
        edge_ && random_.one_in(10) ? random_.one_of({0.008, 0.012, 0.2, 0.5}) : size;
  }

  Random random_;
  bool edge_;
  Scene scene_;
};

}  // namespace

Scene with_random_items(Scene scene, unsigned seed) {
  Random random(seed);
  Contents& contents = scene.contents;
  contents.kind = ContentsKind::kItems;
  contents.place = random.kind<ContentsPlace>(3);
  contents.items.clear();
  contents.mass_kg = 0;
  const auto& things = ordinary_things();
  const int n = random.whole(1, 4);
  for (int i = 0; i < n; ++i) {
    Item item =
        things[static_cast<std::size_t>(random.whole(1, static_cast<int>(things.size()) - 1))].item;
    item.way = random.kind<ItemWay>(3);
    item.count = random.whole(1, 3);
    if (too_large(scene.bag, extent_of(item))) continue;
    contents.mass_kg += item.count * item.mass_kg;
    contents.items.push_back(item);
  }
  return scene;
}

Scene random_tote(unsigned seed, Draw draw) { return ToteMaker(seed, draw).make(seed); }

}  // namespace totebench::test
