#include "scenes/swatch_fit.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "materials/stack.hpp"
#include "scenes/coupon.hpp"

namespace totebench {
namespace {

constexpr double kGravity = 9.80665;          // m/s2
constexpr double kLibraryPull_N_per_m = 490;  // the library's initial stiffnesses are secants to it

double mean(const std::vector<double>& v) {
  return std::accumulate(v.begin(), v.end(), 0.0) / static_cast<double>(v.size());
}

// What a reading may have been: `side` -1 is the smallest, +1 the largest.
double reading_at(const std::vector<double>& readings, double error, int side) {
  if (side < 0) return *std::min_element(readings.begin(), readings.end()) - error;
  if (side > 0) return *std::max_element(readings.begin(), readings.end()) + error;
  return mean(readings);
}

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

Band band_of(const Quantity& q) { return {q.value, q.low, q.high}; }

class SwatchFitter {
 public:
  SwatchFitter(const Swatch& swatch, const MaterialLibrary& library)
      : swatch_(swatch), like_(*library.find(swatch.like)), solid_(is_solid_sheet(like_)) {
    thickness_ = thickness();
    areal_mass_ = areal_mass();
  }

  SwatchFit run(const RunAll& run_all) {
    std::vector<const StripTest*> tests;
    for (const auto* list :
         {&swatch_.overhang, &swatch_.droop, &swatch_.loop, &swatch_.stretch, &swatch_.gap}) {
      for (const StripTest& test : *list) tests.push_back(&test);
    }
    fit_.strips.resize(tests.size());
    std::vector<std::function<void()>> work;
    for (std::size_t i = 0; i < tests.size(); ++i) {
      work.emplace_back([this, i, &tests] { fit_.strips[i] = strip(*tests[i]); });
    }
    run_all(work);
    fit_.complete = std::all_of(fit_.strips.begin(), fit_.strips.end(),
                                [](const StripFit& s) { return s.found; });
    material();
    remarks();
    return std::move(fit_);
  }

 private:
  [[nodiscard]] Band thickness() const {
    if (swatch_.thickness.empty()) return band_of(like_.get("thickness"));
    std::vector<Band> bands;
    for (const ThicknessTest& test : swatch_.thickness) {
      const double error = test.error_m.value_or(swatch_.ruler_error_m);
      const auto one = [&](int side) {
        return reading_at(test.height_m, error, side) / test.plies;
      };
      bands.push_back({one(0), one(-1), one(1)});
    }
    return joined(bands);
  }

  [[nodiscard]] Band areal_mass() const {
    if (swatch_.mass.empty()) {
      if (const Quantity* q = like_.find("areal_mass")) return band_of(*q);
      const Quantity& density = like_.get("density");
      return {density.value * thickness_.value, density.low * thickness_.low,
              density.high * thickness_.high};
    }
    std::vector<Band> bands;
    for (const MassTest& test : swatch_.mass) {
      const auto one = [&](int side) {
        const double side_m = test.side_m - side * swatch_.ruler_error_m;
        return reading_at(test.mass_kg, swatch_.scale_error_kg, side) /
               (test.pieces * side_m * side_m);
      };
      bands.push_back({one(0), one(-1), one(1)});
    }
    return joined(bands);
  }

  [[nodiscard]] std::string property_of(const StripTest& test) const {
    const int i = static_cast<int>(test.along);
    static const char* const kCloth[] = {"_warp", "_weft", ""};
    static const char* const kSolid[] = {"_md", "_cd", ""};
    if (test.kind == StripTestKind::kStretch) {
      return std::string("tensile_stiffness_initial") + kCloth[i];
    }
    return solid_ ? std::string("youngs_modulus") + kSolid[i]
                  : std::string("bending_rigidity") + kCloth[i];
  }

  // The test with everything at the edge of its error that makes the stiffness low (-1) or high
  // (+1), and its reading: stiffness rises with length, mass and weight and falls with the reading,
  // but for the overhang, where the reading is the length.
  [[nodiscard]] Coupon coupon(const StripTest& test, int side, double& reading) const {
    const double error = swatch_.ruler_error_m;
    Coupon c;
    c.kind = test.kind;
    c.angle_rad = test.angle_rad;
    if (test.kind == StripTestKind::kOverhang) {
      c.length_m = reading = reading_at(test.reading_m, error, side);
    } else {
      reading = reading_at(test.reading_m, error, -side);
      c.length_m = test.span_m + side * error;
    }
    c.width_m = test.weight_kg > 0 ? test.width_m - side * error : test.width_m;
    c.areal_mass_kg_per_m2 = at(areal_mass_, side);
    if (test.weight_kg > 0) c.weight_kg = test.weight_kg + side * swatch_.scale_error_kg;
    c.poisson_ratio = like_.get("poisson_ratio").value;
    c.membrane_N_per_m = membrane(test.along);
    return c;
  }

  // That of the library's material: a strip that bends hardly stretches.
  [[nodiscard]] double membrane(CutAlong along) const {
    const PlySection ply = ply_section(like_);
    const int axis = along == CutAlong::kWeft ? 1 : 0;
    const double nu = like_.get("poisson_ratio").value;
    return ply.A(axis, axis) * (1 - nu * nu);
  }

  [[nodiscard]] StripFit strip(const StripTest& test) const {
    StripFit out;
    out.kind = test.kind;
    out.property = property_of(test);
    out.n_readings = static_cast<int>(test.reading_m.size());
    out.reading_m = mean(test.reading_m);
    static const char* const kAlong[] = {", warp", ", weft", ""};
    static const char* const kFace[] = {", right side up", ", wrong side up", ""};
    out.what = fmt::format("{}{}{}", test_name(test.kind), kAlong[static_cast<int>(test.along)],
                           kFace[static_cast<int>(test.face)]);
    if (test.kind == StripTestKind::kStretch) {
      out.pull_N_per_m = test.weight_kg * kGravity / test.width_m;
    }
    double reading = 0;
    const Coupon usual = coupon(test, 0, reading);
    out.formula = formula_stiffness(usual, reading);
    const StiffnessFit middle = fit_stiffness(usual, reading, out.formula);
    out.triangles = middle.triangles;
    out.fit.value = middle.stiffness;
    out.found = middle.found;
    for (const int side : {-1, 1}) {
      if (!out.found) return out;
      const Coupon edge = coupon(test, side, reading);
      const double guess =
          formula_stiffness(edge, reading) * out.fit.value / out.formula;  // same miss as before
      const StiffnessFit fit = fit_stiffness(edge, reading, guess);
      out.found = fit.found;
      (side < 0 ? out.fit.low : out.fit.high) = fit.stiffness;
    }
    return out;
  }

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

  void material() {
    Material& m = fit_.material;
    m = like_;
    m.id = material_id(swatch_);
    m.name = swatch_.name;
    m.note = swatch_.note;
    for (auto& [name, q] : m.properties) {
      q.note = fmt::format("not measured: that of {} ({}){}", like_.id, q.grade,
                           q.note.empty() ? "" : "; " + q.note);
      q.grade = kGradeEstimate;
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
    Quantity q = Quantity::own(band.value, unit, kOwnSource);
    q.low = band.low;
    q.high = band.high;
    q.note = note;
    fit_.material.properties[name] = q;
    fit_.measured.push_back(name);
  }

  void remarks() {
    const bool bent = std::any_of(fit_.strips.begin(), fit_.strips.end(), [](const StripFit& s) {
      return s.kind != StripTestKind::kStretch;
    });
    if (swatch_.mass.empty() && bent) {
      fit_.remarks.push_back(fmt::format(
          "The cloth was not weighed: the {:.0f} g/m2 of {} were taken, and stiffness "
          "found by bending goes in proportion to that. A square and a scale settle it.",
          1e3 * areal_mass_.value, like_.id));
    }
    one_direction_only("bending_rigidity", "bent");
    one_direction_only("tensile_stiffness_initial", "stretched");
    for (std::size_t i = 0; i < fit_.strips.size(); ++i) {
      for (std::size_t j = i + 1; j < fit_.strips.size(); ++j) {
        disagreement(fit_.strips[i], fit_.strips[j]);
      }
    }
    for (const StripFit& s : fit_.strips) {
      if (s.kind != StripTestKind::kStretch ||
          std::abs(std::log(s.pull_N_per_m / kLibraryPull_N_per_m)) < 1.2) {
        continue;
      }
      fit_.remarks.push_back(fmt::format(
          "{} pulled with {:.0f} N per metre of width, the library's cloths were stretched with "
          "up to {:.0f}: cloth gives more at first than later.",
          s.what, s.pull_N_per_m, kLibraryPull_N_per_m));
    }
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
  const Material& like_;
  bool solid_;
  Band thickness_;
  Band areal_mass_;
  SwatchFit fit_;
};

}  // namespace

const char* test_name(StripTestKind kind) {
  static const char* const kNames[] = {"overhang", "droop", "loop", "stretch", "gap"};
  return kNames[static_cast<int>(kind)];
}

SwatchFit fit_swatch(const Swatch& swatch, const MaterialLibrary& library, const RunAll& run) {
  return SwatchFitter(swatch, library).run(run);
}

}  // namespace totebench
