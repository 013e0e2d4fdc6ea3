#include "scenes/swatch/material.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "totebench/materials/ageing.hpp"
#include "totebench/scenes/units.hpp"

namespace totebench::scenes {
namespace {

constexpr double kLibraryPull_N_per_m = 490;  // the library's initial stiffnesses are secants to it
// Times beyond the library's low or high: no cloth that is like its model is as far off (estimate).
constexpr double kFarFromLike = 3;

class MaterialMaker {
 public:
  MaterialMaker(const Swatch& swatch, const materials::Material& like, const Band& thickness,
                const Band& areal_mass, SwatchFit& fit)
      : swatch_(swatch),
        like_(like),
        solid_(is_solid_sheet(like)),
        thickness_(thickness),
        areal_mass_(areal_mass),
        fit_(fit) {}

  void material() {
    materials::Material& m = fit_.material;
    m = like_;
    m.id = material_id(swatch_);
    m.name = swatch_.name;
    m.note = swatch_.note;
    for (auto& [name, q] : m.properties) {
      q.note = fmt::format("not measured: that of {} ({}){}", like_.id, q.grade,
                           q.note.empty() ? "" : "; " + q.note);
      q.grade = materials::kGradeEstimate;
    }
    if (!swatch_.thickness.empty()) {
      measured("thickness", thickness_, "m", "thickness of a pile");
    }
    if (!swatch_.mass.empty()) {
      if (solid_ && !like_.has("areal_mass")) {
        measured("density",
                 {areal_mass_.value / thickness_.value, areal_mass_.low / thickness_.high,
                  areal_mass_.high / thickness_.low},
                 "kg/m3", "mass of a square over its thickness");
      } else {
        measured("areal_mass", areal_mass_, "kg/m2", "mass of a square");
      }
    }
    for (const StripFit& s : fit_.strips) {
      if (std::count(fit_.measured.begin(), fit_.measured.end(), s.property) > 0) continue;
      const bool stretch = s.kind == StripTestKind::kStretch;
      const std::string unit = stretch ? "N/m" : solid_ ? "Pa" : "N m";
      for (const char* direction : {"_warp", "_weft", "_md", "_cd"}) {
        m.properties.erase(s.property + direction);  // alike both ways
      }
      measured(s.property, property_band(s.property), unit, how(s.property));
    }
    materials::creep_in_proportion(fit_.material, like_);
  }

  void remarks() {
    const bool inches = swatch_.units == "in";
    const auto pull = [&](double pull_N_per_m) {
      return quantity_in(pull_N_per_m, inches ? "lbf/in" : "N/m", Dimension::kForcePerLength);
    };
    const bool bent = std::any_of(fit_.strips.begin(), fit_.strips.end(), [](const StripFit& s) {
      return s.kind != StripTestKind::kStretch;
    });
    if (swatch_.mass.empty() && bent) {
      fit_.remarks.push_back(fmt::format(
          "The cloth was not weighed: the {} of {} were taken, and stiffness "
          "found by bending goes in proportion to that. A square and a scale settle it.",
          quantity_in(areal_mass_.value, inches ? "oz/yd2" : "g/m2", Dimension::kArealMass),
          like_.id));
    }
    one_direction_only("bending_rigidity", "bent");
    one_direction_only("tensile_stiffness_initial", "stretched");
    for (std::size_t i = 0; i < fit_.strips.size(); ++i) {
      for (std::size_t j = i + 1; j < fit_.strips.size(); ++j) {
        disagreement(fit_.strips[i], fit_.strips[j]);
      }
    }
    for (const std::string& name : fit_.measured) far_from_like(name);
    for (const StripFit& s : fit_.strips) {
      if (s.kind != StripTestKind::kStretch ||
          std::abs(std::log(s.pull_N_per_m / kLibraryPull_N_per_m)) < 1.2) {
        continue;
      }
      fit_.remarks.push_back(fmt::format(
          "{} pulled with {} of width, the library's cloths were stretched with up to {}: cloth "
          "gives more at first than later.",
          s.what, pull(s.pull_N_per_m), pull(kLibraryPull_N_per_m)));
    }
  }

 private:
  // Of all strips that tested it: B and K as they are, a modulus by E = 12 B / t^3.
  [[nodiscard]] Band property_band(const std::string& property) const {
    std::vector<Band> bands;
    for (const StripFit& s : fit_.strips) {
      if (s.property != property) continue;
      const bool modulus = solid_ && s.kind != StripTestKind::kStretch;
      const auto one = [&](int side) {
        return modulus ? 12 * at(s.fit, side) / std::pow(at(thickness_, -side), 3)
                       : at(s.fit, side);
      };
      bands.push_back({one(0), one(-1), one(1)});
    }
    return joined(bands);
  }

  [[nodiscard]] std::string how(const std::string& property) const {
    std::vector<std::string> tests;
    for (const StripFit& s : fit_.strips) {
      const std::string one = test_name(s.kind);
      if (s.property == property && std::count(tests.begin(), tests.end(), one) == 0) {
        tests.push_back(one);
      }
    }
    return fmt::format("{} test fitted on the solver", fmt::join(tests, " and "));
  }

  void measured(const std::string& name, const Band& band, const std::string& unit,
                const std::string& note) {
    materials::Quantity q = materials::Quantity::own(band.value, unit, kOwnSource);
    q.low = band.low;
    q.high = band.high;
    q.note = note;
    fit_.material.properties[name] = q;
    fit_.measured.push_back(name);
  }

  void one_direction_only(const std::string& base, const char* done) {
    const auto was = [&](const char* end) {
      return std::count(fit_.measured.begin(), fit_.measured.end(), base + end) > 0;
    };
    if (was("_warp") == was("_weft") || was("")) return;
    fit_.remarks.push_back(fmt::format(
        "Only the {} was {}; along the {} the value stays that of {}.",
        was("_warp") ? "warp" : "weft", done, was("_warp") ? "weft" : "warp", like_.id));
  }

  // A slip of the unit or the decimal point looks like a cloth that is nothing like its model.
  void far_from_like(const std::string& name) {
    const materials::Quantity* theirs = like_.find(name);
    for (const char* end : {"_warp", "_weft", "_md", "_cd"}) {
      if (theirs == nullptr && name.ends_with(end)) {
        theirs = like_.find(name.substr(0, name.size() - std::string_view(end).size()));
      }
    }
    if (theirs == nullptr) return;
    const double value = fit_.material.get(name).value;
    if (value < kFarFromLike * theirs->high && value > theirs->low / kFarFromLike) return;
    const double times = value / theirs->value;
    std::string words = name;
    std::replace(words.begin(), words.end(), '_', ' ');
    fit_.remarks.push_back(fmt::format(
        "The {} comes out {:.2g} times that of {}, and more than {:.0f} times beyond the range the "
        "library gives there. Check the units and the readings, or name as \"like\" what this "
        "cloth "
        "is more like.",
        words, times, like_.id, kFarFromLike));
  }

  void disagreement(const StripFit& a, const StripFit& b) {
    if (a.property != b.property || !a.found || !b.found) return;
    const double gap = std::max(a.fit.low, b.fit.low) / std::min(a.fit.high, b.fit.high);
    if (gap <= 1) return;
    fit_.remarks.push_back(
        fmt::format("{} and {} differ by more than ruler and scale explain; the band below spans "
                    "both. Cloth that curls, a slipped strip or a mixed up direction are usual "
                    "reasons.",
                    a.what, b.what));
  }

  const Swatch& swatch_;
  const materials::Material& like_;
  bool solid_;
  const Band& thickness_;
  const Band& areal_mass_;
  SwatchFit& fit_;
};

}  // namespace

double at(const Band& band, int side) {
  return side < 0 ? band.low : side > 0 ? band.high : band.value;
}

Band joined(const std::vector<Band>& bands) {
  Band all = bands.front();
  double sum = 0;
  for (const Band& band : bands) {
    sum += band.value;
    all.low = std::min(all.low, band.low);
    all.high = std::max(all.high, band.high);
  }
  all.value = sum / static_cast<double>(bands.size());
  return all;
}

void make_material(const Swatch& swatch, const materials::Material& like, const Band& thickness_m,
                   const Band& areal_mass_kg_per_m2, SwatchFit& fit) {
  MaterialMaker maker(swatch, like, thickness_m, areal_mass_kg_per_m2, fit);
  maker.material();
  maker.remarks();
}

}  // namespace totebench::scenes
