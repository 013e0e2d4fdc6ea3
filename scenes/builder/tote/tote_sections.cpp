#include "scenes/builder/tote/tote_sections.hpp"

#include <fmt/format.h>

#include <Eigen/Dense>
#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <stdexcept>

#include "totebench/materials/strength.hpp"
#include "totebench/scenes/base_shape.hpp"

namespace totebench::scenes {
namespace {

using Eigen::Vector2d;

constexpr int kDivisions = 4;  // samples per triangle: its kDivisions^2 equal parts
constexpr int kSamples = kDivisions * kDivisions;
// Samples fall on round measures: one on the border of what covers it is covered, whatever the last
// digit says.
constexpr double kOnBorder_m = 1e-9;

double mean_bending(const materials::StackSection& section) {
  const Eigen::Matrix3d d = section.free_bending_rigidity();
  return 0.5 * (d(0, 0) + d(1, 1));
}

// Centroids of the equal parts of a triangle.
std::array<Vector2d, kSamples> samples_of(const Vector2d& a, const Vector2d& b, const Vector2d& c) {
  std::array<Vector2d, kSamples> points;
  int n = 0;
  const double third = 1.0 / 3;
  for (int i = 0; i < kDivisions; ++i) {
    for (int j = 0; i + j < kDivisions; ++j) {
      const auto at = [&](double x, double y) -> Vector2d {
        return a + (b - a) * ((i + x) / kDivisions) + (c - a) * ((j + y) / kDivisions);
      };
      points[n++] = at(third, third);
      if (i + j < kDivisions - 1) points[n++] = at(2 * third, 2 * third);
    }
  }
  return points;
}

// What covers a triangle: samples (0 .. kSamples) of each extra. Equal keys share a section.
struct Cover {
  int stack = 0;  // Region, kStrapStack or kSheetStack
  int seam = 0;
  int hem = 0;
  int foot_patches = 0;
  int backing = 0;
  int base_sheet = 0;
  [[nodiscard]] auto key() const {
    return std::array<int, 6>{stack, seam, hem, foot_patches, backing, base_sheet};
  }
};

struct Stack {
  materials::StackSection section;
  materials::StackSection outer;  // of its outer group
  double strength_warp = 0;       // N/m
  double strength_weft = 0;
  double outer_warp = 0;  // of its outer group
  double outer_weft = 0;
};

class SectionMaker {
 public:
  SectionMaker(const Scene& scene, const materials::MaterialLibrary& library,
               const Pattern& pattern, const std::vector<Ribbon>& ribbons)
      : scene_(scene), pattern_(pattern), ribbons_(ribbons) {
    for (const int region : {kRegionUpper, kRegionLower, kRegionBase}) {
      const std::vector<materials::Ply> plies = plies_of(layers_of(scene, region), library);
      Stack stack;
      stack.section = materials::stack_section(library, plies);
      stack.outer = materials::stack_section(library, outer_group(plies));
      const materials::StackStrength strength = materials::stack_strength(plies);
      stack.strength_warp = strength.warp.value;
      stack.strength_weft = strength.weft.value;
      const materials::StackStrength outer = materials::stack_strength(outer_group(plies));
      stack.outer_warp = outer.warp.value;
      stack.outer_weft = outer.weft.value;
      stacks_[region] = stack;
    }
    stacks_[kRegionHem] = stacks_[kRegionUpper];
    hem_ = stacks_[kRegionUpper].outer;
    const auto listed = scene.layers.find("hem");
    if (listed != scene.layers.end() && !listed->second.empty()) {
      materials::add_sliding_plies(
          hem_, materials::stack_section(library, plies_of(listed->second, library)), 1);
    }
    Stack strap;
    strap.section = strap_section_of(scene, library).section;
    const Strap& spec = scene.straps.front();
    strap.strength_warp = materials::strap_strength(library, *library.find(spec.material),
                                                    spec.width_m, spec.plies, spec.thickness_m)
                              .value /
                          spec.width_m;
    stacks_[kRegionStrap] = stacks_[kRegionStrapHeld] = strap;
    if (scene.base.kind != BaseKind::kNone) {
      sheet_ = materials::stack_section(
          library,
          plies_of({{scene.base.material, LayerJoin::kFused, scene.base.thickness_m, 0, 0}},
                   library));
      stacks_[kRegionBaseSheet].section = sheet_;
    }
    sheet_outline_ = base_sheet_outline(scene);
    feet_ = foot_places(scene);
    for (const PatternFace& face : pattern.faces) seam_lines_.push_back(seams_of(face));
  }

  ToteSections run(const ToteMesh& tote) {
    ToteSections out;
    std::map<std::array<int, 6>, int> known;
    std::vector<double> thickness;
    for (int i = 0; i < tote.mesh.n_triangles(); ++i) {
      const Cover cover = cover_of(tote, i);
      const auto [entry, is_new] = known.try_emplace(cover.key(), 0);
      if (is_new) {
        const materials::StackSection section = compose(cover);
        entry->second = find_or_add(to_solver_section(section), out.sections);
        thickness.resize(out.sections.size(), section.thickness_m);
      }
      const Stack& stack = stacks_.at(cover.stack);
      out.of_triangle.push_back(entry->second);
      out.thickness_m.push_back(thickness[entry->second]);
      // Cloth added over part of a triangle counts by that part.
      const double extra =
          static_cast<double>(cover.hem + cover.foot_patches + cover.backing) / kSamples;
      out.strength_warp_N_per_m.push_back(stack.strength_warp + extra * stack.outer_warp);
      out.strength_weft_N_per_m.push_back(stack.strength_weft + extra * stack.outer_weft);
      out.sheet_share.push_back(static_cast<double>(cover.base_sheet) / kSamples);
    }
    out.sheet_A = sheet_.A;
    out.sheet_D = sheet_.D;
    return out;
  }

 private:
  // Regions with the same layers share their sections.
  static int find_or_add(const solver::Section& section, std::vector<solver::Section>& sections) {
    for (std::size_t i = 0; i < sections.size(); ++i) {
      if (sections[i].A == section.A && sections[i].B == section.B && sections[i].D == section.D &&
          sections[i].areal_mass_kg_per_m2 == section.areal_mass_kg_per_m2) {
        return static_cast<int>(i);
      }
    }
    sections.push_back(section);
    return static_cast<int>(sections.size()) - 1;
  }

  [[nodiscard]] std::vector<PatternLine> seams_of(const PatternFace& face) const {
    std::vector<PatternLine> seams;
    for (std::size_t i = 0; i < face.edges.size(); ++i) {
      if (!pattern_.edges[face.edges[i]].sewn) continue;
      seams.push_back({face.outline[i], face.outline[(i + 1) % face.outline.size()], 0, true});
    }
    for (const PatternLine& line : face.lines) {
      if (line.sewn) seams.push_back(line);
    }
    return seams;
  }

  [[nodiscard]] Cover cover_of(const ToteMesh& tote, int i) const {
    Cover cover;
    cover.stack = tote.mesh.triangles[i].region;
    const ToteSurface& surface = tote.surfaces[tote.surface[i]];
    const bool wall = surface.kind == ToteSurface::Kind::kWall;
    if (!wall && surface.kind != ToteSurface::Kind::kBase) return cover;
    for (const Vector2d& p :
         samples_of(tote.rest_corner(i, 0), tote.rest_corner(i, 1), tote.rest_corner(i, 2))) {
      cover.seam += near_seam(surface.index, p) ? 1 : 0;
      if (wall) {
        cover.hem += pattern_.below_opening(pattern_.faces[surface.index], p) <=
                             scene_.bag.hem_m + kOnBorder_m
                         ? 1
                         : 0;
        cover.backing += behind_strap(surface.index, p) ? 1 : 0;
      } else {
        for (const Vector2d& foot : feet_) {
          const double off = (p - foot).cwiseAbs().maxCoeff();
          cover.foot_patches += off <= scene_.feet.patch_m / 2 + kOnBorder_m ? 1 : 0;
        }
        const bool stitched = scene_.base.kind == BaseKind::kStitched;
        cover.base_sheet += stitched && sheet_outline_->contains(p, kOnBorder_m) ? 1 : 0;
      }
    }
    return cover;
  }

  [[nodiscard]] bool near_seam(int face, const Vector2d& p) const {
    return std::any_of(seam_lines_[face].begin(), seam_lines_[face].end(),
                       [&](const PatternLine& line) {
                         return distance_to_segment(p, line.a, line.b) <=
                                scene_.bag.seam_allowance_m + kOnBorder_m;
                       });
  }

  [[nodiscard]] bool behind_strap(int face, const Vector2d& p) const {
    if (!scene_.straps.front().attachment.patch) return false;
    const double margin = kPatchMargin_m + kOnBorder_m;
    for (const Ribbon& ribbon : ribbons_) {
      for (const RibbonEnd& end : ribbon.ends) {
        for (const StrapFootprint& foot : end.footprints) {
          const double across = p.x() - foot.u_centre;
          if (foot.face == face && across >= foot.from - margin && across <= foot.to + margin &&
              p.y() >= pattern_.height_m - ribbon.overlap_m - margin) {
            return true;
          }
        }
      }
    }
    return false;
  }

  [[nodiscard]] materials::StackSection compose(const Cover& cover) const {
    const Stack& stack = stacks_.at(cover.stack);
    materials::StackSection section = stack.section;
    const auto share = [](int samples) { return static_cast<double>(samples) / kSamples; };
    if (cover.seam > 0) {
      materials::StackSection allowance = stack.outer;
      allowance.D = allowance.free_bending_rigidity();
      allowance.A.setZero();
      allowance.B.setZero();
      section.D += share(cover.seam) * allowance.D;
      section.areal_mass_kg_per_m2 += share(cover.seam) * allowance.areal_mass_kg_per_m2;
      section.thickness_m += share(cover.seam) * allowance.thickness_m;
    }
    const auto add = [&](const materials::StackSection& extra, int samples) {
      if (samples > 0) materials::add_sliding_plies(section, extra, share(samples));
    };
    add(hem_, cover.hem);
    add(stack.outer, cover.foot_patches);
    add(stack.outer, cover.backing);
    add(sheet_, cover.base_sheet);
    return section;
  }

  const Scene& scene_;
  const Pattern& pattern_;
  const std::vector<Ribbon>& ribbons_;
  std::map<int, Stack> stacks_;  // by Region
  materials::StackSection hem_;
  materials::StackSection sheet_;
  std::optional<BaseOutline> sheet_outline_;
  std::vector<Vector2d> feet_;
  std::vector<std::vector<PatternLine>> seam_lines_;  // per face
};

materials::Join join_of(LayerJoin join) {
  switch (join) {
    case LayerJoin::kFused:
      return materials::Join::kFused;
    case LayerJoin::kStitchedGrid:
      return materials::Join::kStitchedGrid;
    case LayerJoin::kSewnAtEdges:
      return materials::Join::kSewnAtEdges;
    case LayerJoin::kLoose:
      return materials::Join::kLoose;
  }
  throw std::logic_error("a layer joint that this build does not know");
}

}  // namespace

materials::Ply ply_of(const Layer& layer, const materials::Material* material) {
  return {material, layer.thickness_m, layer.warp_angle_rad, join_of(layer.join),
          layer.grid_pitch_m};
}

std::vector<materials::Ply> plies_of(const std::vector<Layer>& layers,
                                     const materials::MaterialLibrary& library) {
  std::vector<materials::Ply> plies;
  for (const Layer& layer : layers) {
    const materials::Material* material = library.find(layer.material);
    if (material == nullptr) {
      throw std::invalid_argument(fmt::format("there is no material called \"{}\"; nearest: \"{}\"",
                                              layer.material, library.closest(layer.material)));
    }
    plies.push_back(ply_of(layer, material));
  }
  return plies;
}

std::vector<materials::Ply> outer_group(const std::vector<materials::Ply>& plies) {
  std::vector<materials::Ply> group;
  for (const materials::Ply& ply : plies) {
    const bool bonded =
        ply.join == materials::Join::kFused || ply.join == materials::Join::kStitchedGrid;
    if (!group.empty() && !bonded) break;
    group.push_back(ply);
  }
  return group;
}

solver::Section to_solver_section(const materials::StackSection& stack) {
  solver::Section section;
  section.A = stack.A;
  section.B = stack.B;
  section.D = stack.D;
  section.areal_mass_kg_per_m2 = stack.areal_mass_kg_per_m2;
  return section;
}

const std::vector<Layer>& layers_of(const Scene& scene, int region) {
  std::vector<const char*> order{"upper", "lower", "base"};
  if (region == kRegionLower) order = {"lower", "upper", "base"};
  if (region == kRegionBase) order = {"base", "lower", "upper"};
  for (const char* name : order) {
    const auto found = scene.layers.find(name);
    if (found != scene.layers.end() && !found->second.empty()) return found->second;
  }
  throw std::invalid_argument("the bag has no layers: list at least one material for \"upper\"");
}

materials::StrapSection strap_section_of(const Scene& scene,
                                         const materials::MaterialLibrary& library) {
  if (scene.straps.empty()) throw std::invalid_argument("the bag has no strap to be held by");
  const Strap& strap = scene.straps.front();
  const materials::Material* material = library.find(strap.material);
  if (material == nullptr) {
    throw std::invalid_argument(
        fmt::format("there is no strap material called \"{}\"; nearest: \"{}\"", strap.material,
                    library.closest(strap.material)));
  }
  return materials::strap_section(library, *material, strap.width_m, strap.plies,
                                  strap.thickness_m);
}

ToteSections tote_sections(const Scene& scene, const materials::MaterialLibrary& library,
                           const Pattern& pattern, const std::vector<Ribbon>& ribbons,
                           const ToteMesh& tote) {
  return SectionMaker(scene, library, pattern, ribbons).run(tote);
}

std::vector<solver::EdgeRule> edge_rules(const Scene& scene,
                                         const materials::MaterialLibrary& library) {
  const auto wall =
      materials::stack_section(library, plies_of(layers_of(scene, kRegionUpper), library));
  const auto allowance = materials::stack_section(
      library, outer_group(plies_of(layers_of(scene, kRegionUpper), library)));
  // A raw-edged bag without allowances still has some cloth that bends beside the stitching.
  const double length = std::max(scene.bag.seam_allowance_m, 0.003);
  const double seam =
      scene.seams.hinge_stiffness_N.value_or(mean_bending(allowance) / (2 * length));
  const double flat_seam = mean_bending(wall) / length;

  std::vector<solver::EdgeRule> rules;
  const auto hinge = [&rules](int label, double stiffness_N) {
    solver::EdgeRule rule;
    rule.label = label;
    rule.joint = solver::Joint::kHinge;
    rule.hinge_stiffness_N = stiffness_N;
    rules.push_back(rule);
  };
  hinge(kEdgeSeam, seam);
  // A stabilizer or base sheet sewn in as one piece bridges the seam across the base.
  const std::vector<Layer>& base = layers_of(scene, kRegionBase);
  const bool bridged = scene.base.kind == BaseKind::kStitched ||
                       std::any_of(base.begin(), base.end(), [](const Layer& layer) {
                         return layer.join == LayerJoin::kSewnAtEdges;
                       });
  if (!bridged) hinge(kEdgeBaseSeam, seam);
  hinge(kEdgeCrosswise, flat_seam);
  hinge(kEdgeLengthwise, flat_seam);
  if (base_is_sewn_on(scene.bag)) {
    hinge(kEdgeBaseOutline, seam);
  } else if (scene.base.kind == BaseKind::kStitched) {
    hinge(kEdgeBaseOutline, mean_bending(wall) / (2 * std::max(scene.base.clearance_m, length)));
  }
  // A hand gives way at its edge and a strap turns over it freely. Clamped level there it would
  // bend within sqrt(EI/T), some millimetres, where it leaves the hand, which no mesh of a bag
  // shows (EI: of the strap, T: its pull); resolved, that lifts the bag by a fifth of a millimetre.
  hinge(kEdgeHold, 0);
  return rules;  // creases and other folds of one cloth stay continuous
}

std::vector<Vector2d> foot_places(const Scene& scene) {
  std::vector<Vector2d> places;
  if (scene.feet.count >= 4) {
    const double u = base_width_m(scene.bag) / 2 - scene.feet.inset_m;
    const double v = scene.bag.depth_m / 2 - scene.feet.inset_m;
    places = {{-u, -v}, {u, -v}, {u, v}, {-u, v}};
  }
  if (scene.feet.count == 5) places.emplace_back(0, 0);
  return places;
}

}  // namespace totebench::scenes
