// What cannot be sewn, cannot be hung or contradicts itself in a tote.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "scenes/check/scene.hpp"
#include "scenes/format/resolve.hpp"
#include "totebench/materials/stack.hpp"
#include "totebench/scenes/attachment_patterns.hpp"
#include "totebench/scenes/units.hpp"

namespace totebench::scenes {
namespace {

// Lengths in messages are given in the units the scene asks its results in.
constexpr double kHoursAWeek = 168;

class ToteCheck {
 public:
  ToteCheck(const Scene& scene, const materials::MaterialLibrary& library, SceneReport& report)
      : scene_(scene),
        bag_(scene.bag),
        library_(library),
        report_(report),
        unit_(scene.units == "in"   ? "in"
              : scene.units == "si" ? "m"
                                    : "cm") {}

  void run() {
    body();
    layers();
    if (!scene_.straps.empty()) {
      straps(scene_.straps.front());
      attachment(scene_.straps.front());
      support(scene_.straps.front());
    }
    base();
    feet();
    contents();
    use();
    expectations();
    if (report_.places().contains("/mesh/size")) {
      check_triangles(tote_area_m2(scene_), scene_.mesh.size_m, kToteLimits, report_);
    }
  }

 private:
  [[nodiscard]] std::string len(double metres) const {
    return quantity_in(metres, unit_, Dimension::kLength);
  }

  void body() {
    if (bag_.upper_height_m >= bag_.height_m) {
      report_.error("/bag/upper_height",
                    fmt::format("the upper section ({}) is as high as the whole bag ({})",
                                len(bag_.upper_height_m), len(bag_.height_m)),
                    "upper_height is measured from the opening down to the crosswise seam; make "
                    "it less than height");
    }
    if (bag_.shape == BagShape::kRounded) {
      const double most = std::min(bag_.width_m / 2, bag_.height_m);
      if (bag_.corner_radius_m > most) {
        report_.error(
            "/bag/corner_radius",
            fmt::format("the lower corners cannot have a radius of {} on a bag {} wide "
                        "and {} high",
                        len(bag_.corner_radius_m), len(bag_.width_m), len(bag_.height_m)),
            fmt::format("at most {}: half the width, and no more than the height", len(most)));
      }
    }
    if (has_flat_base(bag_) && bag_.depth_m > bag_.width_m) {
      report_.warning("/bag/depth",
                      fmt::format("the bag is deeper ({}) than wide ({})", len(bag_.depth_m),
                                  len(bag_.width_m)),
                      "were width and depth swapped?");
    }
    if (bag_.hem_m >= bag_.height_m) {
      report_.error("/bag/hem",
                    fmt::format("a hem of {} does not fit a bag {} high", len(bag_.hem_m),
                                len(bag_.height_m)),
                    "the hem is the turned edge at the opening, usually 1 in");
    } else if (bag_.upper_height_m > 0 && bag_.hem_m > bag_.upper_height_m) {
      report_.error("/bag/hem",
                    fmt::format("the hem ({}) reaches past the crosswise seam ({} "
                                "below the opening)",
                                len(bag_.hem_m), len(bag_.upper_height_m)),
                    "make hem less than upper_height");
    }
    const double narrowest =
        has_flat_base(bag_) ? std::min(bag_.width_m, bag_.depth_m) : bag_.width_m;
    if (2 * bag_.seam_allowance_m >= narrowest) {
      report_.error("/bag/seam_allowance",
                    fmt::format("two seam allowances of {} do not fit a panel {} wide",
                                len(bag_.seam_allowance_m), len(narrowest)),
                    "1/4 in to 5/8 in is usual");
    }
    const double strip = bag_.width_m / (bag_.lengthwise_seams + 1);
    if (bag_.lengthwise_seams > 0 && strip < 2 * bag_.seam_allowance_m) {
      report_.error("/bag/lengthwise_seams",
                    fmt::format("{} lengthwise seams leave strips of {}, less than two seam "
                                "allowances",
                                bag_.lengthwise_seams, len(strip)),
                    "use fewer lengthwise seams or a smaller seam_allowance");
    }
  }

  void layers() {
    for (const auto& [region, stack] : scene_.layers) {
      if (report_.places().contains("/layers/" + region)) {
        check_layers(stack, "/layers/" + region, library_, report_, false);
      }
    }
    const auto stack = [&](const char* region) -> const std::vector<Layer>& {
      static const std::vector<Layer> none;
      const auto it = scene_.layers.find(region);
      return it == scene_.layers.end() ? none : it->second;
    };
    if (bag_.upper_height_m == 0 && report_.places().contains("/layers/lower") &&
        !report_.has_errors() && stack("upper") != stack("lower")) {
      report_.error("/layers/lower",
                    "the lower section has layers of its own, but the bag has no crosswise seam",
                    "give bag.upper_height, or take out layers.lower");
    }
    if (!has_flat_base(bag_) && report_.places().contains("/layers/base") &&
        !report_.has_errors() && stack("lower") != stack("base")) {
      report_.error("/layers/base", "this shape of bag has no base panel",
                    "take out layers.base, or use the shape \"boxed\" or \"gusset\"");
    }
    if (bag_.hem_m == 0 && !stack("hem").empty()) {
      report_.error("/layers/hem", "the hem has layers, but bag.hem is 0",
                    "give bag.hem the depth of the band they lie in");
    }
  }

  void straps(const Strap& strap) {
    const std::string at = "/straps";
    const bool handles = strap.style == StrapStyle::kTwoHandles;
    if (strap.width_m >= bag_.width_m) {
      report_.error(at + "/width",
                    fmt::format("the strap ({}) is wider than the bag ({})", len(strap.width_m),
                                len(bag_.width_m)),
                    "straps of 1 in to 1 1/2 in are usual");
    } else if (!handles && has_flat_base(bag_) && strap.width_m > bag_.depth_m) {
      report_.error(
          at + "/width",
          fmt::format("the shoulder strap ({}) is wider than the sides it is sewn to ({})",
                      len(strap.width_m), len(bag_.depth_m)),
          "make the strap narrower than bag.depth");
    } else if (handles && strap.spacing_m + strap.width_m > bag_.width_m) {
      report_.error(at + "/spacing",
                    fmt::format("the strap ends lie outside the bag: {} apart, {} wide, on a front "
                                "{} wide",
                                len(strap.spacing_m), len(strap.width_m), len(bag_.width_m)),
                    fmt::format("spacing is from centre to centre; at most {}",
                                len(bag_.width_m - strap.width_m)));
    } else if (handles && strap.spacing_m < strap.width_m) {
      report_.error(at + "/spacing",
                    fmt::format("the two ends of a handle lie on each other: {} apart, {} wide",
                                len(strap.spacing_m), len(strap.width_m)),
                    "spacing is from centre to centre and must be more than the strap's width");
    }
    const double span = handles ? strap.spacing_m : bag_.width_m / 2;
    if (strap.length_m <= span) {
      report_.error(at + "/length",
                    fmt::format("a strap {} long cannot reach between its ends, {} apart",
                                len(strap.length_m), len(span)),
                    "length is the visible length, about twice the strap drop plus the spacing");
    } else if (strap.length_m < 1.3 * span) {
      report_.warning(at + "/length", "there is hardly room for a hand under so short a strap",
                      "length is about twice the strap drop plus the spacing");
    }
    const bool to_base = strap.attachment.pattern == AttachmentPattern::kToBase;
    if (to_base ? strap.overlap_m > bag_.height_m : strap.overlap_m >= bag_.height_m) {
      report_.error(at + "/overlap",
                    fmt::format("the strap overlaps the panel by {}, but the wall is {} high",
                                len(strap.overlap_m), len(bag_.height_m)),
                    "overlap is the length lying on the panel at each end, usually 1 in to 4 in");
    }
    strap_material(strap);
  }

  void strap_material(const Strap& strap) {
    const std::string at = "/straps/material";
    const materials::Material* material = library_.find(strap.material);
    if (material == nullptr || !(strap.width_m > 0)) return;
    const bool webbing = material->category == "strap";
    if (webbing && strap.plies > 1) {
      report_.error("/straps/plies",
                    fmt::format("{} is a finished strap and cannot have {} plies", strap.material,
                                strap.plies),
                    "take out plies, or name a cloth to be folded as the material");
      return;
    }
    if (!webbing && material->category != "fabric") {
      report_.warning(at,
                      fmt::format("{} is sold as {}, not as a strap or a cloth", strap.material,
                                  material->category),
                      "webbing, leather or folded cloth are usual");
    }
    if (material->category == "fabric" && strap.plies == 1) {
      report_.warning(at, "a strap of one ply of cloth", "folded straps have \"plies\": 4");
    }
    const totebench::materials::Quantity* width = webbing ? material->find("width") : nullptr;
    if (width != nullptr && width->value > 0 && std::abs(strap.width_m / width->value - 1) > 0.3) {
      report_.warning("/straps/width",
                      fmt::format("the numbers of {} were found at a width of {}", strap.material,
                                  len(width->value)),
                      "they are scaled to this width");
    }
    try {
      (void)materials::strap_section(library_, *material, strap.width_m, std::max(1, strap.plies),
                                     strap.thickness_m);
    } catch (const std::invalid_argument& error) {
      report_.error(at, fmt::format("no strap can be made of this: {}", error.what()),
                    "choose webbing, leather or a cloth");
    }
  }

  void attachment(const Strap& strap) {
    const Attachment& a = strap.attachment;
    const std::string at = "/straps/attachment";
    const bool rows = a.pattern == AttachmentPattern::kRows;
    if (a.top_offset_m + a.length_m > strap.overlap_m * (1 + 1e-9)) {
      const bool own = report_.places().contains(at + "/length");
      report_.error(own ? at + "/length" : "/straps/overlap",
                    fmt::format("the stitching ({} below the opening, {} long) is longer than the "
                                "overlap ({})",
                                len(a.top_offset_m), len(a.length_m), len(strap.overlap_m)),
                    "make overlap longer, or attachment.length or top_offset shorter");
    }
    if (!rows && a.length_m <= 0) {
      report_.error(at + "/length", "a stitched box needs a height",
                    "give length, or use the pattern \"rows\"");
    }
    if (rows && a.rows > 1 && a.length_m / (a.rows - 1) < 0.001) {
      report_.error(at + "/rows",
                    fmt::format("{} rows within {} lie on each other", a.rows, len(a.length_m)),
                    "use fewer rows or a larger length");
    }
    const double shortest = rows ? strap.width_m : std::min(strap.width_m, a.length_m);
    if (a.stitch_length_m >= shortest) {
      report_.error(at + "/stitch_length",
                    fmt::format("a stitch of {} is longer than the stitching ({})",
                                len(a.stitch_length_m), len(shortest)),
                    "3 mm is usual");
    }
    const materials::Thread* sewn = library_.find_thread(scene_.seams.thread);
    if (const auto f = thread_fault(sewn ? sewn->tex : 0, scene_.seams.stitch_length_m)) {
      report_.error("/seams/" + f->key, f->what, f->cure);
    }
    const materials::Thread* thread = library_.find_thread(a.thread);
    for (const AttachmentFault& f : attachment_faults(strap, bag_, thread ? thread->tex : 0)) {
      report_.error(at + "/" + f.key, f.what, f.cure);
    }
  }

  void support(const Strap& strap) {
    const Support& s = scene_.support;
    const double half_loop = strap.length_m / 2;
    if (s.kind == SupportKind::kHook && s.diameter_m >= half_loop) {
      report_.error("/support/diameter",
                    fmt::format("a peg of {} does not fit under a strap {} long", len(s.diameter_m),
                                len(strap.length_m)),
                    "10 mm to 40 mm is usual");
    }
    if (s.kind == SupportKind::kHand && s.grip_width_m >= half_loop) {
      report_.error("/support/grip_width",
                    fmt::format("a grip of {} does not fit a strap {} long", len(s.grip_width_m),
                                len(strap.length_m)),
                    "make the strap longer or the grip narrower");
    }
  }

  void base() {
    const BaseSheet& b = scene_.base;
    if (b.kind == BaseKind::kNone) return;
    if (!has_flat_base(bag_)) {
      report_.error("/base/kind", "this shape of bag has no flat base to put a sheet in",
                    "use the shape \"boxed\" or \"gusset\", or set base.kind to \"none\"");
      return;
    }
    const double smaller = std::min(bag_.width_m, bag_.depth_m) - 2 * b.clearance_m;
    if (smaller <= 0) {
      report_.error("/base/clearance",
                    fmt::format("a clearance of {} on each side leaves nothing of a base {} by {}",
                                len(b.clearance_m), len(bag_.width_m), len(bag_.depth_m)),
                    "clearance is a few millimetres");
    } else if (b.corner_radius_m > smaller / 2) {
      report_.error("/base/corner_radius",
                    fmt::format("a radius of {} does not fit a sheet {} wide",
                                len(b.corner_radius_m), len(smaller)),
                    fmt::format("at most {}", len(smaller / 2)));
    }
    const materials::Material* material = library_.find(b.material);
    if (material == nullptr) return;
    const std::string& category = material->category;
    if (category == "strap") {
      report_.error("/base/material", fmt::format("{} is a strap, not a sheet", b.material),
                    "hdpe_sheet, pp_sheet and chipboard_2mm are usual");
      return;
    }
    if (category == "fabric" || category == "interfacing") {
      report_.warning("/base/material",
                      fmt::format("{} is too soft to serve as a base", b.material),
                      "hdpe_sheet, pp_sheet and chipboard_2mm are usual");
    }
    try {
      (void)materials::ply_section(*material, b.thickness_m);
    } catch (const std::invalid_argument& error) {
      report_.error("/base/material", fmt::format("no sheet can be made of this: {}", error.what()),
                    "hdpe_sheet, pp_sheet and chipboard_2mm are usual");
    }
  }

  void feet() {
    const Feet& f = scene_.feet;
    if (f.count == 0) return;
    if (f.count != 4 && f.count != 5) {
      report_.error("/feet/count", fmt::format("{} feet cannot be placed", f.count),
                    "use 4 (one in each corner), 5 (and one in the middle) or 0");
    }
    if (!has_flat_base(bag_)) {
      report_.error("/feet/count", "this shape of bag has no base to put feet under",
                    "use the shape \"boxed\" or \"gusset\", or set feet.count to 0");
      return;
    }
    if (scene_.base.kind == BaseKind::kNone) {
      report_.error("/feet/count", "feet need a stiff base behind them, and base.kind is \"none\"",
                    "add a base sheet, or set feet.count to 0");
    }
    if (2 * f.inset_m >= std::min(bag_.width_m, bag_.depth_m)) {
      report_.error("/feet/inset",
                    fmt::format("feet {} from each edge pass each other on a base {} "
                                "deep",
                                len(f.inset_m), len(bag_.depth_m)),
                    "1 in is usual");
    } else if (f.patch_m > 2 * f.inset_m) {
      report_.error("/feet/patch",
                    fmt::format("a reinforcement of {} reaches past the edge of the "
                                "base, {} from the foot",
                                len(f.patch_m), len(f.inset_m)),
                    "make patch at most twice inset");
    }
  }

  void contents() {
    const Contents& c = scene_.contents;
    if (c.kind != ContentsKind::kLoose) return;
    const double room = rough_volume_m3(bag_);
    const double needed = c.mass_kg / c.bulk_density_kg_per_m3;
    const std::string figures = fmt::format(
        "{:.3g} kg at {:.4g} kg/m3 fill {:.3g} litres; the bag "
        "holds about {:.3g}",
        c.mass_kg, c.bulk_density_kg_per_m3, needed * 1000, room * 1000);
    if (needed > room) {
      report_.error("/contents/mass", figures,
                    fmt::format("at most {:.3g} kg of this fits", room * c.bulk_density_kg_per_m3));
    } else if (needed > 0.85 * room) {
      report_.warning("/contents/mass", figures, "the bag will be brim-full");
    }
  }

  void use() {
    const UseSpec& u = scene_.use;
    if (u.times_a_week * u.loaded_hours > kHoursAWeek) {
      report_.error("/use/loaded_hours",
                    fmt::format("{:g} times a week for {:g} hours is more than a week has",
                                u.times_a_week, u.loaded_hours),
                    "lower loaded_hours or times_a_week");
    }
  }

  void expectations() {
    for (const Expectation& e : scene_.expect) {
      if (e.key.rfind("probes.", 0) != 0) continue;
      report_.error("/expect", fmt::format("a tote has no probes ({})", e.key),
                    "totebench explain expect lists what a tote gives");
    }
  }

  const Scene& scene_;
  const Bag& bag_;
  const materials::MaterialLibrary& library_;
  SceneReport& report_;
  const char* unit_;
};

}  // namespace

void check_tote(const Scene& scene, const materials::MaterialLibrary& library,
                SceneReport& report) {
  ToteCheck(scene, library, report).run();
}

}  // namespace totebench::scenes
