// What cannot be sewn, cannot be hung or contradicts itself in a tote.
#include <fmt/format.h>

#include <algorithm>

#include "scenes/check/scene.hpp"
#include "scenes/check/tote_rules.hpp"
#include "scenes/format/resolve.hpp"
#include "totebench/scenes/base_shape.hpp"
#include "totebench/scenes/packing.hpp"
#include "totebench/scenes/things.hpp"
#include "totebench/scenes/unit_text.hpp"

namespace totebench::scenes {
namespace {

constexpr double kHoursAWeek = 168;
constexpr double kBrimFull = 0.85;
constexpr int kMostThings = 40;
constexpr double kMostOut_m = 0.04;  // of the bag

void check_regions(const ToteUnderCheck& tote) {
  const Bag& bag = tote.scene.bag;
  SceneReport& report = tote.report;
  for (const auto& [region, stack] : tote.scene.layers) {
    if (report.given("/layers/" + region)) {
      check_layers(stack, "/layers/" + region, tote.library, report, false);
    }
  }
  const auto stack = [&](const char* region) -> const std::vector<Layer>& {
    static const std::vector<Layer> none;
    const auto it = tote.scene.layers.find(region);
    return it == tote.scene.layers.end() ? none : it->second;
  };
  const auto differs = [&](const char* region, const char* from) {
    return report.given(std::string("/layers/") + region) && !report.has_errors() &&
           !stack(region).empty() && stack(region) != stack(from);
  };
  const bool has_lower = std::any_of(bag.pieces.begin(), bag.pieces.end(), [](const Piece& piece) {
    return piece.layers == PieceLayers::kLower;
  });
  if (bag.shape == BagShape::kPieces) {
    if (!has_lower && differs("lower", "upper")) {
      report.error("/layers/lower",
                   "the lower section has layers of its own, but no piece is of it",
                   "give pieces \"layers\": \"lower\", or take out layers.lower");
    }
  } else if (bag.upper_height_m == 0 && differs("lower", "upper")) {
    report.error("/layers/lower",
                 "the lower section has layers of its own, but the bag has no crosswise seam",
                 "give bag.upper_height, or take out layers.lower");
  }
  if (!has_flat_base(bag) && differs("base", "lower")) {
    report.error(
        "/layers/base", "this shape of bag has no base panel",
        "take out layers.base, or use the shape \"boxed\" or \"gusset\" or a piece of the base");
  }
  if (bag.hem_m == 0 && !stack("hem").empty()) {
    report.error("/layers/hem", "the hem has layers, but bag.hem is 0",
                 "give bag.hem the depth of the band they lie in");
  }
}

// Sizes that an item's shape needs, or does not know.
void check_sizes(const Item& item, const std::string& at, SceneReport& report) {
  const bool box = item.shape == ItemShape::kBox, ball = item.shape == ItemShape::kSphere;
  const auto size = [&](const char* key, double value, bool wanted) {
    if (wanted && !(value > 0)) {
      report.error(at, fmt::format("this item, {}, needs a {}", name_of(item), key),
                   fmt::format("give \"{}\", or name an ordinary thing as \"what\"", key));
    } else if (!wanted && value > 0 && report.given(at + "/" + key)) {
      report.error(at + "/" + key, fmt::format("this item, {}, has no {}", name_of(item), key),
                   fmt::format("take out \"{}\"", key));
    }
  };
  size("length", item.length_m, box);
  size("width", item.width_m, box);
  size("height", item.height_m, !ball);
  size("diameter", item.diameter_m, !box);
  size("mass", item.mass_kg, true);
}

void check_items(const ToteUnderCheck& tote) {
  const Scene& scene = tote.scene;
  SceneReport& report = tote.report;
  if (!has_flat_base(scene.bag)) {
    report.error("/contents/kind", "items need a bag with a base of some depth to be put on",
                 "use the shape \"boxed\" or \"gusset\", or contents of the kind \"loose\"");
    return;
  }
  if (!scene.solve.contact) {
    report.error("/solve/contact", "items lie on the cloth by contact, which is switched off",
                 "take out solve.contact, or use contents of the kind \"even\"");
  }
  if (scene.contents.items.empty()) {
    report.error("/contents/items", "there is nothing in the bag",
                 "list what is put in, such as { \"what\": \"hardback book\", \"count\": 3 }");
  }
  int count = 0;
  for (std::size_t i = 0; i < scene.contents.items.size(); ++i) {
    const Item& item = scene.contents.items[i];
    const std::string at = fmt::format("/contents/items/{}", i);
    check_sizes(item, at, report);
    count += item.count;
    const Eigen::Vector3d extent = extent_of(item);
    if (!(extent.minCoeff() > 0) || !too_large(scene.bag, extent)) continue;
    report.error(
        at,
        fmt::format("this item, {}, {} x {}, does not go between the walls of a bag of {} x {}",
                    name_of(item), length_text(extent.x(), scene.units),
                    length_text(extent.y(), scene.units),
                    length_text(base_width_m(scene.bag), scene.units),
                    length_text(scene.bag.depth_m, scene.units)),
        "put it in another \"way\", or make the bag wider");
  }
  if (count > kMostThings) {
    report.error("/contents/items", fmt::format("{} things are more than can be settled", count),
                 fmt::format("at most {}; many small ones are \"loose\" contents", kMostThings));
  }
  if (report.has_errors()) return;
  double top = 0;
  for (const PackedItem& packed : pack_items(scene)) top = std::max(top, packed.high.z());
  const double out_m = top - scene.bag.height_m;
  const std::string stands =
      fmt::format("what is in the bag stands {} out of it", length_text(out_m, scene.units));
  const char* cure = "a taller bag, fewer things, or things put in another \"way\" would do";
  if (out_m > kMostOut_m) {
    report.error("/contents/items", stands + ", into the straps", cure);
  } else if (out_m > 0) {
    report.warning("/contents/items", stands, cure);
  }
}

void check_contents(const ToteUnderCheck& tote) {
  const Contents& c = tote.scene.contents;
  if (c.kind == ContentsKind::kItems) check_items(tote);
  if (c.kind != ContentsKind::kLoose) return;
  const double room = rough_volume_m3(tote.scene.bag);
  const double needed = c.mass_kg / c.bulk_density_kg_per_m3;
  const std::string figures = fmt::format(
      "{:.3g} kg at {:.4g} kg/m3 fill {:.3g} litres; the bag "
      "holds about {:.3g}",
      c.mass_kg, c.bulk_density_kg_per_m3, needed * 1000, room * 1000);
  if (needed > room) {
    tote.report.error(
        "/contents/mass", figures,
        fmt::format("at most {:.3g} kg of this fits", room * c.bulk_density_kg_per_m3));
  } else if (needed > kBrimFull * room) {
    tote.report.warning("/contents/mass", figures, "the bag will be brim-full");
  }
}

void check_use(const ToteUnderCheck& tote) {
  const UseSpec& use = tote.scene.use;
  if (!(use.times_a_week * use.loaded_hours > kHoursAWeek)) return;
  tote.report.error("/use/loaded_hours",
                    fmt::format("{:g} times a week for {:g} hours is more than a week has",
                                use.times_a_week, use.loaded_hours),
                    "lower loaded_hours or times_a_week");
}

void check_expectations(const ToteUnderCheck& tote) {
  for (const Expectation& e : tote.scene.expect) {
    if (e.key.rfind("probes.", 0) != 0) continue;
    tote.report.error("/expect", fmt::format("a tote has no probes ({})", e.key),
                      "totebench explain expect lists what a tote gives");
  }
}

}  // namespace

void check_tote(const Scene& scene, const materials::MaterialLibrary& library,
                SceneReport& report) {
  const ToteUnderCheck tote{scene, library, report};
  check_body(tote);
  check_regions(tote);
  check_base(tote);
  check_feet(tote);
  check_contents(tote);
  check_use(tote);
  check_expectations(tote);
  check_triangles({tote_area_m2(scene), scene.mesh.size_m, scene.units}, kToteLimits, report);
  if (scene.straps.empty()) return;
  check_straps(tote);
  check_attachment(tote);
  check_support(tote);
  check_reach(tote);
  if (scene.bag.shape == BagShape::kPieces) check_triangles_on_pieces(tote);
}

}  // namespace totebench::scenes
