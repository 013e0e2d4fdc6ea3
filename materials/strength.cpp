#include "totebench/materials/strength.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace totebench::materials {
namespace {

std::string joined_notes(const std::string& a, const std::string& b) {
  if (a.empty() || a == b) return b;
  if (b.empty()) return a;
  return a + "; " + b;
}

Quantity scaled(Quantity q, double factor, std::string unit) {
  q.value *= factor;
  q.low *= factor;
  q.high *= factor;
  q.unit = std::move(unit);
  return q;
}

// A quantity through a monotonic function, with the grade and source it has.
template <class Function>
Quantity mapped(Quantity q, const Function& f) {
  const double ends[] = {f(q.low), f(q.high)};
  q.value = f(q.value);
  q.low = std::min(ends[0], ends[1]);
  q.high = std::max(ends[0], ends[1]);
  return q;
}

int stitches_in(double length_m, double stitch_length_m) {
  if (!(stitch_length_m > 0)) {
    throw std::invalid_argument(
        fmt::format("stitch length {:g} m: must be above zero", stitch_length_m));
  }
  // A length that is a whole number of stitches but for rounding counts as that number.
  return static_cast<int>(std::floor(length_m / stitch_length_m + 1e-9));
}

}  // namespace

Quantity product(const Quantity& a, const Quantity& b, std::string unit) {
  Quantity q;
  q.value = a.value * b.value;
  q.low = a.low * b.low;
  q.high = a.high * b.high;
  q.unit = std::move(unit);
  q.source = merged_sources(a.source, b.source);
  q.grade = weaker_grade(a.grade, b.grade);
  q.note = joined_notes(a.note, b.note);
  q.bound = a.bound.empty() ? b.bound : a.bound;
  return q;
}

const Thread& weaker_thread(const Thread& needle, const Thread& bobbin) {
  return bobbin.breaking_strength.value < needle.breaking_strength.value ? bobbin : needle;
}

Quantity stitch_capacity(const StitchType& stitch, const Thread& needle, const Thread& bobbin) {
  return product(stitch.factor, weaker_thread(needle, bobbin).breaking_strength, "N");
}

Quantity stitch_capacity(const StitchType& stitch, const Thread& thread) {
  return stitch_capacity(stitch, thread, thread);
}

SeamStrength seam_strength(const MaterialLibrary& library, const Quantity& per_stitch,
                           double stitch_length_m, const Quantity& cloth_N_per_m) {
  if (!(stitch_length_m > 0)) {
    throw std::invalid_argument(
        fmt::format("stitch length {:g} m: must be above zero", stitch_length_m));
  }
  const Quantity thread = scaled(per_stitch, 1.0 / stitch_length_m, "N/m");
  SeamStrength seam;
  seam.strength = thread;
  seam.governed_by = "thread";
  if (cloth_N_per_m.value <= 0) return seam;

  const Quantity& damage = library.rule("needle_damage");
  Quantity kept = damage;
  kept.value = 1.0 - damage.value;
  kept.low = 1.0 - damage.high;
  kept.high = 1.0 - damage.low;
  const Quantity cloth = product(cloth_N_per_m, kept, "N/m");
  if (cloth.value < thread.value) {
    seam.strength = cloth;
    seam.governed_by = "cloth";
  }
  seam.strength.low = std::min(thread.low, cloth.low);
  seam.strength.high = std::max(seam.strength.value, std::min(thread.high, cloth.high));
  seam.efficiency = seam.strength.value / cloth_N_per_m.value;
  return seam;
}

Quantity patch_capacity(const MaterialLibrary& library, const Quantity& per_stitch, int stitches) {
  return product(scaled(per_stitch, stitches, "N"), library.rule("attachment_sharing"), "N");
}

Quantity peeled_row_capacity(const Quantity& per_stitch, double row_length_m,
                             double stitch_length_m) {
  return scaled(per_stitch, stitches_in(row_length_m, stitch_length_m), "N");
}

Quantity strap_strength(const MaterialLibrary& library, const Material& material, double width_m,
                        int plies, double thickness_m) {
  const double n = plies;
  if (const Quantity* whole = material.find("breaking_strength")) {
    return scaled(*whole, n * width_m / material.get("width").value, "N");
  }
  if (const Quantity* strip = material.directional("strip_strength", true)) {
    const Quantity sum = scaled(*strip, n * width_m, "N");
    return plies > 1 ? product(sum, library.rule("folded_strap_efficiency"), "N") : sum;
  }
  if (const Quantity* stress = material.find("strength_stress")) {
    const double t = thickness_m > 0 ? thickness_m : material.get("thickness").value;
    return scaled(*stress, n * width_m * t, "N");
  }
  return Quantity{};
}

const Quantity* sheet_stress_limit(const Material& material) {
  const Quantity* yield = material.find("yield_stress");
  return yield ? yield : material.find("flexural_strength");
}

double numbered_duck_areal_mass(int number) {
  if (number < 1 || number > 12) {
    throw std::invalid_argument(fmt::format("duck number {}: numbers run from 1 to 12", number));
  }
  constexpr double kOunceKg = 0.028349523125;
  constexpr double kPieceM2 = (36 * 0.0254) * (22 * 0.0254);
  return (19 - number) * kOunceKg / kPieceM2;
}

Quantity modulus_under_load(const Material& material, double seconds) {
  constexpr double kHourS = 3600;
  constexpr double kShortTestS = 60;
  const Quantity* kept_short = material.find("youngs_modulus_short");
  const Quantity& short_time = kept_short ? *kept_short : material.get("youngs_modulus");
  const Quantity* start = material.find("creep_modulus_0.5h");
  const Quantity* exponent = material.find("creep_power_law_exponent");
  const Quantity* ratio = material.find("creep_modulus_1000h_over_short");
  Quantity share;
  double from_s = 0.5 * kHourS;
  if (start && exponent) {
    const double t = std::max(seconds, 1e-3);  // the law has no value at zero time
    share = mapped(*exponent, [&](double n) { return std::pow(t / from_s, -n); });
  } else if (ratio && seconds > kShortTestS) {
    start = &short_time;
    from_s = kShortTestS;
    const double decades = std::log(seconds / from_s) / std::log(1000 * kHourS / from_s);
    share = mapped(*ratio, [&](double r) { return std::pow(r, decades); });
  } else {
    return short_time;
  }
  Quantity q = seconds == from_s ? *start : product(*start, share, "Pa");
  q.value = std::min(q.value, short_time.value);
  q.low = std::min(q.low, q.value);
  q.high = std::max(std::min(q.high, short_time.high), q.value);
  q.note = fmt::format("after {:g} h under load", seconds / kHourS);
  return q;
}

double creep_modulus(const Material& material, double seconds) {
  return modulus_under_load(material, seconds).value;
}

}  // namespace totebench::materials
