#include "totebench/studies/data_grade.hpp"

#include <algorithm>

#include "totebench/scenes/attachment_patterns.hpp"
#include "totebench/studies/rate_scatter.hpp"

namespace totebench::studies {
namespace {

class WorstGrade {
 public:
  WorstGrade(const scenes::Scene& scene, const materials::MaterialLibrary& library)
      : scene_(scene), library_(library) {}

  void consider(const std::string& what, const std::string& grade) {
    if (grade.empty()) return;
    if (worst_.grade != grade) {
      if (!worst_.grade.empty() && materials::weaker_grade(grade, worst_.grade) != grade) return;
      worst_ = {grade, {}};
    }
    if (std::count(worst_.of.begin(), worst_.of.end(), what) == 0) worst_.of.push_back(what);
  }

  void consider(const char* kind, const std::string& id, const std::string& property,
                const materials::Quantity* quantity) {
    if (quantity == nullptr) return;
    ScatterInput named;
    named.kind = kind;
    named.id = id;
    named.property = property;
    if (named.kind != "rule") named.of = part_words(scene_, library_, kind, id);
    consider(named.label(), quantity->grade);
  }

  // What a ply's mass and stiffness are read from (materials/ply.cpp).
  void consider_ply(const materials::Material& m, bool own_thickness) {
    const auto one = [&](const std::string& property) {
      consider("material", m.id, property, m.find(property));
    };
    // In the two directions, else for both.
    const auto both = [&](const std::string& base, const char* along, const char* across) {
      if (m.has(base + along) || m.has(base + across)) {
        one(base + along);
        one(base + across);
      } else {
        one(base);
      }
    };
    const bool solid = m.has("youngs_modulus") || m.has("youngs_modulus_md");
    one(m.has("areal_mass") ? "areal_mass" : "density");
    if (!own_thickness) one("thickness");
    one("poisson_ratio");
    one("fused_bending_ratio");
    if (solid) {
      both("youngs_modulus", "_md", "_cd");
      one("shear_modulus");
      return;
    }
    one("axial_stiffness_EA");
    both("tensile_stiffness_initial", "_warp", "_weft");
    one("shear_stiffness");
    both("bending_rigidity", "_warp", "_weft");
  }

  DataGrade take() { return std::move(worst_); }

 private:
  const scenes::Scene& scene_;
  const materials::MaterialLibrary& library_;
  DataGrade worst_;
};

}  // namespace

DataGrade data_grade(const scenes::Scene& scene, const materials::MaterialLibrary& library,
                     const scenes::Utilisation& governing) {
  WorstGrade worst(scene, library);
  worst.consider("strength of the " + governing.what, governing.grade);
  const auto ply = [&](const std::string& id, bool own_thickness) {
    const materials::Material* material = library.find(id);
    if (material != nullptr) worst.consider_ply(*material, own_thickness);
  };
  for (const auto& [region, layers] : scene.layers) {
    for (const scenes::Layer& layer : layers) {
      ply(layer.material, layer.thickness_m > 0);
      if (layer.join == scenes::LayerJoin::kStitchedGrid) {
        worst.consider("rule", "grid_slip_length", "value", &library.rule("grid_slip_length"));
      }
    }
  }
  for (const scenes::Strap& strap : scene.straps) {
    ply(strap.material, strap.thickness_m > 0);
    if (!scenes::is_stitched(strap.attachment.pattern)) continue;
    const std::string& id = strap.attachment.thread;
    if (const materials::Thread* thread = library.find_thread(id)) {
      worst.consider("thread", id, "breaking_strength", &thread->breaking_strength);
      worst.consider("thread", id, "elongation", &thread->elongation);
    }
  }
  if (scene.base.kind != scenes::BaseKind::kNone) {
    ply(scene.base.material, scene.base.thickness_m > 0);
  }
  return worst.take();
}

}  // namespace totebench::studies
