#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "totebench/materials/stack.hpp"

namespace totebench::materials {
namespace {

constexpr double kNeverParts = std::numeric_limits<double>::infinity();

// One cloth ply pulled along the panel's warp or weft.
struct PulledPly {
  const Material* material = nullptr;
  Quantity strength;  // N/m
  double break_strain = kNeverParts;
};

double hankinson(double along, double across, double c2, double s2) {
  return along * across / (along * s2 + across * c2);
}

// Returns false when the ply is not cloth or has no known strength.
bool pull(const Ply& ply, bool panel_warp, PulledPly* out) {
  const Material& m = *ply.material;
  if (m.category != "fabric") return false;
  const Quantity* warp = m.directional("strip_strength", true);
  const Quantity* weft = m.directional("strip_strength", false);
  if (!warp || !weft || warp->value <= 0 || weft->value <= 0) return false;

  const double c = std::cos(ply.warp_angle_rad), s = std::sin(ply.warp_angle_rad);
  const double warp_share = panel_warp ? c * c : s * s, weft_share = 1.0 - warp_share;
  out->material = &m;
  out->strength = *(warp_share >= weft_share ? warp : weft);  // its source, grade and unit
  out->strength.value = hankinson(warp->value, weft->value, warp_share, weft_share);
  out->strength.low = hankinson(warp->low, weft->low, warp_share, weft_share);
  out->strength.high = hankinson(warp->high, weft->high, warp_share, weft_share);
  const Quantity* warp_strain = m.directional("break_strain", true);
  const Quantity* weft_strain = m.directional("break_strain", false);
  if (warp_strain && weft_strain) {
    out->break_strain = warp_share * warp_strain->value + weft_share * weft_strain->value;
  }
  return true;
}

Quantity weakest_first(const std::vector<PulledPly>& plies, std::string* weakest) {
  Quantity sum;
  sum.unit = "N/m";
  if (plies.empty()) return sum;
  const auto first = std::min_element(
      plies.begin(), plies.end(),
      [](const PulledPly& a, const PulledPly& b) { return a.break_strain < b.break_strain; });
  *weakest = first->material->id;
  for (const PulledPly& ply : plies) {
    // Without a single known break strain nobody is known to part before the others.
    const double share = std::isinf(ply.break_strain)
                             ? (std::isinf(first->break_strain) ? 1.0 : 0.0)
                             : std::min(1.0, first->break_strain / ply.break_strain);
    sum.value += share * ply.strength.value;
    sum.low += share * ply.strength.low;
    sum.high += share * ply.strength.high;
    sum.grade =
        sum.grade.empty() ? ply.strength.grade : weaker_grade(sum.grade, ply.strength.grade);
    sum.source = merged_sources(sum.source, ply.strength.source);
  }
  sum.note = "load per width at which " + *weakest + " parts first";
  return sum;
}

}  // namespace

StackStrength stack_strength(const std::vector<Ply>& plies) {
  std::vector<PulledPly> along_warp, along_weft;
  bool loose = false;
  for (std::size_t i = 0; i < plies.size(); ++i) {
    const Ply& ply = plies[i];
    if (!ply.material) throw std::invalid_argument("a ply has no material");
    // What is fused or quilted to a loose ply is loose with it.
    if (i > 0 && ply.join == Join::kLoose) loose = true;
    if (i > 0 && ply.join == Join::kSewnAtEdges) loose = false;
    PulledPly pulled;
    if (!loose && pull(ply, true, &pulled)) along_warp.push_back(pulled);
    if (!loose && pull(ply, false, &pulled)) along_weft.push_back(pulled);
  }
  StackStrength strength;
  strength.warp = weakest_first(along_warp, &strength.weakest_warp);
  strength.weft = weakest_first(along_weft, &strength.weakest_weft);
  return strength;
}

}  // namespace totebench::materials
