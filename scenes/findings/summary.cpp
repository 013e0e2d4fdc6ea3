// One sentence that lets a person see at once whether the file says what they meant.
#include <fmt/format.h>

#include <array>

#include "totebench/scenes/explain.hpp"
#include "totebench/scenes/things.hpp"
#include "totebench/scenes/unit_text.hpp"
#include "totebench/scenes/units.hpp"

namespace totebench::scenes {
namespace {

class Summary {
 public:
  Summary(const Scene& scene, const materials::MaterialLibrary& library, const std::string& units)
      : scene_(scene), library_(library), units_(units) {}

  [[nodiscard]] std::string tote() const {
    return fmt::format("{}, made of {}; {}{}; {}{}, held by {}.", body(), layers(), straps(),
                       base(), contents(), feet(), support());
  }

  [[nodiscard]] std::string sheet() const {
    const SheetScene& s = scene_.sheet;
    static const char* const kShapes[] = {"strip",    "rectangle", "disc", "ring",
                                          "cylinder", "sphere",    "mesh"};
    const std::string made = s.plain ? fmt::format("plain material {} thick (Young's modulus {})",
                                                   thickness_text(s.plain->thickness_m, units_),
                                                   stress_text(s.plain->youngs_modulus_Pa, units_))
                                     : stack(s.layers);
    const auto plural = [](std::size_t n, const char* word) {
      return fmt::format("{} {}{}", n, word, n == 1 ? "" : "s");
    };
    return fmt::format("A sheet ({}) of {}, with {}, {} and {}.",
                       kShapes[static_cast<int>(s.geometry.shape)], made,
                       plural(s.supports.size(), "support"), plural(s.loads.size(), "load"),
                       plural(s.probes.size(), "probe"));
  }

 private:
  [[nodiscard]] std::string len(double m) const { return length_text(m, units_); }

  [[nodiscard]] std::string body() const {
    const Bag& b = scene_.bag;
    static const char* const kShapes[] = {"tote with boxed corners", "tote with a gusset",
                                          "rounded slouchy bag", "flat sack",
                                          "bag of pattern pieces"};
    std::string out = fmt::format("A {}, {} wide, {} high", kShapes[static_cast<int>(b.shape)],
                                  len(b.width_m), len(b.height_m));
    if (b.depth_m > 0) out += fmt::format(", {} deep", len(b.depth_m));
    if (b.upper_height_m > 0) {
      out += fmt::format(", with a crosswise seam {} below the opening", len(b.upper_height_m));
    }
    return out;
  }

  [[nodiscard]] std::string stack(const std::vector<Layer>& layers) const {
    std::string out;
    for (std::size_t i = 0; i < layers.size(); ++i) {
      static const char* const kJoins[] = {"fused", "quilted on", "sewn in at the edges", "loose"};
      if (i > 0) out += " + ";
      out += library_.name_of(layers[i].material);
      if (i > 0) out += fmt::format(" ({})", kJoins[static_cast<int>(layers[i].join)]);
    }
    return out;
  }

  [[nodiscard]] std::string layers() const {
    const auto& upper = scene_.layers.at("upper");
    const auto& lower = scene_.layers.at("lower");
    if (upper == lower) return stack(upper);
    return fmt::format("{} above and {} below it", stack(upper), stack(lower));
  }

  [[nodiscard]] std::string straps() const {
    const Strap& s = scene_.straps.front();
    const bool handles = s.style == StrapStyle::kTwoHandles;
    std::string out =
        fmt::format("{} {} wide and {} long, of {}", handles ? "two handles" : "one shoulder strap",
                    len(s.width_m), len(s.length_m), library_.name_of(s.material));
    if (s.plies > 1) out += fmt::format(" folded to {} plies", s.plies);
    return out;
  }

  [[nodiscard]] std::string base() const {
    const BaseSheet& b = scene_.base;
    if (b.kind == BaseKind::kNone) return ", no base sheet";
    return fmt::format(", a base of {} {}", library_.name_of(b.material),
                       b.kind == BaseKind::kStitched ? "stitched in" : "in a pocket");
  }

  [[nodiscard]] std::string contents() const {
    const Contents& c = scene_.contents;
    const std::string mass = mass_text(c.mass_kg, units_);
    if (c.kind == ContentsKind::kItems) return fmt::format("carrying {}, {}", things(), mass);
    if (c.kind == ContentsKind::kEven) {
      constexpr std::array kWhere = {"the base", "the middle of the base", "one end of the base"};
      return fmt::format("carrying {} spread over {}", mass,
                         kWhere[static_cast<std::size_t>(c.place)]);
    }
    return fmt::format("filled with {} of {} at {}", mass,
                       c.friction_angle_rad == 0 ? "a liquid" : "loose goods",
                       quantity_in(c.bulk_density_kg_per_m3, units_ == "in" ? "lb/ft3" : "kg/m3",
                                   Dimension::kDensity));
  }

  // "hardback book (3) and lunch box"
  [[nodiscard]] std::string things() const {
    std::string all;
    const std::vector<Item>& items = scene_.contents.items;
    for (std::size_t i = 0; i < items.size(); ++i) {
      if (i > 0) all += i + 1 == items.size() ? " and " : ", ";
      all += name_of(items[i]);
      if (items[i].count > 1) all += fmt::format(" ({})", items[i].count);
    }
    return all;
  }

  [[nodiscard]] std::string feet() const {
    return scene_.feet.count > 0 ? fmt::format(", on {} feet", scene_.feet.count) : "";
  }

  [[nodiscard]] std::string support() const {
    const Support& s = scene_.support;
    return s.kind == SupportKind::kHand ? fmt::format("a hand {} wide", len(s.grip_width_m))
                                        : fmt::format("a peg {} in diameter", len(s.diameter_m));
  }

  const Scene& scene_;
  const materials::MaterialLibrary& library_;
  std::string units_;
};

}  // namespace

std::string summary(const Scene& scene, const materials::MaterialLibrary& library,
                    const std::string& units) {
  const Summary sentence(scene, library, units.empty() ? scene.units : units);
  return scene.kind == SceneKind::kTote ? sentence.tote() : sentence.sheet();
}

}  // namespace totebench::scenes
