#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "scenes/swatch/coupon.hpp"
#include "scenes/swatch/material.hpp"
#include "totebench/materials/stack.hpp"
#include "totebench/scenes/swatch_fit.hpp"
#include "totebench/scenes/units.hpp"

namespace totebench::scenes {
namespace {

double mean(const std::vector<double>& v) {
  return std::accumulate(v.begin(), v.end(), 0.0) / static_cast<double>(v.size());
}

// What a reading may have been: `side` -1 is the smallest, +1 the largest.
double reading_at(const std::vector<double>& readings, double error, int side) {
  if (side < 0) return *std::min_element(readings.begin(), readings.end()) - error;
  if (side > 0) return *std::max_element(readings.begin(), readings.end()) + error;
  return mean(readings);
}

Band band_of(const materials::Quantity& q) { return {q.value, q.low, q.high}; }

class SwatchFitter {
 public:
  SwatchFitter(const Swatch& swatch, const materials::MaterialLibrary& library)
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
    make_material(swatch_, like_, thickness_, areal_mass_, fit_);
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
      if (const materials::Quantity* q = like_.find("areal_mass")) return band_of(*q);
      const materials::Quantity& density = like_.get("density");
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
    const materials::PlySection ply = materials::ply_section(like_);
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
      out.pull_N_per_m = test.weight_kg * kStandardGravity / test.width_m;
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

  const Swatch& swatch_;
  const materials::Material& like_;
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

SwatchFit fit_swatch(const Swatch& swatch, const materials::MaterialLibrary& library,
                     const RunAll& run) {
  return SwatchFitter(swatch, library).run(run);
}

}  // namespace totebench::scenes
