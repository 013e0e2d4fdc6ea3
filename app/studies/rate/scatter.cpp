#include <fmt/format.h>

#include <algorithm>
#include <atomic>
#include <cmath>
#include <mutex>
#include <set>

#include "totebench/scenes/design.hpp"
#include "totebench/studies/rate_scatter.hpp"
#include "totebench/studies/side_by_side.hpp"

namespace totebench::studies {
namespace {

// Properties the sections and strengths read (see totebench/materials/library.hpp).
bool is_read(std::string_view property) {
  static const std::vector<std::string> stems = {
      "areal_mass",      "density",           "thickness",           "tensile_stiffness_initial",
      "shear_stiffness", "bending_rigidity",  "fused_bending_ratio", "poisson_ratio",
      "youngs_modulus",  "shear_modulus",     "strip_strength",      "peel_strength",
      "yield_stress",    "flexural_strength", "axial_stiffness_EA",  "breaking_strength",
      "strength_stress", "break_strain",      "flexural_modulus"};
  return std::any_of(stems.begin(), stems.end(), [&](const std::string& stem) {
    if (property.substr(0, stem.size()) != stem) return false;
    const std::string_view rest = property.substr(stem.size());
    return rest.empty() || rest == "_warp" || rest == "_weft" || rest == "_md" || rest == "_cd";
  });
}

struct Used {
  std::set<std::string, std::less<>> materials, threads, stitches;
};

Used used_by(const scenes::Scene& scene) {
  Used used;
  for (const auto& [region, layers] : scene.layers) {
    for (const scenes::Layer& layer : layers) used.materials.insert(layer.material);
  }
  for (const scenes::Strap& strap : scene.straps) {
    used.materials.insert(strap.material);
    used.threads.insert(strap.attachment.thread);
    used.stitches.insert(strap.attachment.stitch_type);
  }
  if (scene.base.kind != scenes::BaseKind::kNone) used.materials.insert(scene.base.material);
  used.threads.insert(scene.seams.thread);
  used.stitches.insert(scene.seams.stitch_type);
  return used;
}

bool rule_matters(std::string_view id) {
  static const std::set<std::string, std::less<>> rules = {
      "needle_damage",           "stitch_peel_share",       "webbing_joint_efficiency",
      "slippage_6mm_line_force", "pull_through_share",      "rivet_shear",
      "rivet_pull_apart",        "folded_strap_efficiency", "grid_slip_length"};
  return rules.count(id) != 0;
}

// Beginning of an id, and what a person who sews calls it; the longer of two stands first.
using Words = std::pair<std::string_view, std::string_view>;

constexpr Words kPropertyWords[] = {
    {"areal_mass", "weight"},
    {"axial_stiffness_EA", "stretch stiffness"},
    {"bending_rigidity", "bending stiffness"},
    {"break_strain", "stretch at break"},
    {"breaking_strength", "breaking strength"},
    {"density", "weight"},
    {"elongation", "stretch at break"},
    {"flexural_modulus", "stiffness"},
    {"flexural_strength", "bending strength"},
    {"fused_bending_ratio", "stiffening by fusing"},
    {"peel_strength", "strength of the fused bond"},
    {"poisson_ratio", "narrowing when stretched"},
    {"shear_modulus", "stiffness against skewing"},
    {"shear_stiffness", "stiffness against skewing"},
    {"strength_stress", "strength"},
    {"strip_strength", "strength"},
    {"tensile_stiffness", "stretch stiffness"},
    {"thickness", "thickness"},
    {"yield_stress", "stress that bends for good"},
    {"youngs_modulus", "stiffness"},
};

constexpr Words kRuleWords[] = {
    {"folded_strap_efficiency", "how evenly a folded strap's plies share the pull"},
    {"grid_slip_length", "slip of quilted layers between the rows"},
    {"needle_damage", "what the needle takes from the cloth's strength"},
    {"pull_through_share", "pull that draws a cap through the cloth"},
    {"rivet_pull_apart", "pull that parts a rivet"},
    {"rivet_shear", "sideways pull that parts a rivet"},
    {"slippage_6mm_line_force", "pull that opens a body seam"},
    {"stitch_peel_share", "strength of a stitch against peeling"},
    {"webbing_joint_efficiency", "strength of a strap at its stitching"},
};

// "stretch stiffness along the warp"; an id without words is told as it is.
template <std::size_t kSize>
std::string words_for(const Words (&known)[kSize], std::string_view id) {
  for (const auto& [begin, words] : known) {
    if (!id.starts_with(begin)) continue;
    const bool along = id.ends_with("_warp") || id.ends_with("_md");
    const bool across = id.ends_with("_weft") || id.ends_with("_cd");
    return std::string(words) + (along ? " along the warp" : across ? " along the weft" : "");
  }
  std::string plain(id);
  std::replace(plain.begin(), plain.end(), '_', ' ');
  return plain;
}

}  // namespace

std::string ScatterInput::label() const {
  if (kind == "rule") return words_for(kRuleWords, id);
  if (kind == "stitch") return "strength of a stitch of type " + id + " over its thread's";
  return words_for(kPropertyWords, property) + " of " + (of.empty() ? id : of);
}

std::string part_words(const scenes::Scene& scene, const materials::MaterialLibrary& library,
                       std::string_view kind, const std::string& id) {
  const auto at_straps = [&](auto&& of_strap) {
    return std::any_of(scene.straps.begin(), scene.straps.end(),
                       [&](const scenes::Strap& strap) { return of_strap(strap) == id; });
  };
  if (kind == "thread") {
    const bool strap = at_straps([](const scenes::Strap& s) { return s.attachment.thread; });
    const bool seams = scene.seams.thread == id;
    return strap && seams ? "the thread" : strap ? "the thread at the straps" : "the seams' thread";
  }
  const std::string name = library.name_of(id);
  const bool in_walls = std::any_of(scene.layers.begin(), scene.layers.end(), [&](const auto& of) {
    return std::any_of(of.second.begin(), of.second.end(),
                       [&](const scenes::Layer& layer) { return layer.material == id; });
  });
  if (in_walls) return name;
  if (scene.base.kind != scenes::BaseKind::kNone && scene.base.material == id) {
    return "the base sheet";
  }
  return at_straps([](const scenes::Strap& s) { return s.material; }) ? "the straps" : name;
}

double ScatterInput::variance() const {
  return (low * low + value * value + high * high - low * value - low * high - value * high) / 18;
}

std::vector<ScatterInput> scatter_inputs(const scenes::Scene& scene,
                                         const materials::MaterialLibrary& library) {
  const Used used = used_by(scene);
  std::vector<ScatterInput> inputs;
  materials::MaterialLibrary copy = library;
  copy.for_each_quantity([&](std::string_view kind, std::string_view id, std::string_view property,
                             materials::Quantity& q) {
    if (!(q.low < q.high)) return;
    const bool wanted = kind == "material" ? used.materials.count(id) != 0 && is_read(property)
                        : kind == "thread" ? used.threads.count(id) != 0 && property != "loop_ratio"
                        : kind == "stitch" ? used.stitches.count(id) != 0
                                           : rule_matters(id);
    if (!wanted) return;
    inputs.push_back(
        {std::string(kind), std::string(id), std::string(property), q.low, q.value, q.high, q.grade,
         kind == "material" || kind == "thread" ? part_words(scene, library, kind, std::string(id))
                                                : ""});
  });
  return inputs;
}

materials::MaterialLibrary with_values(const materials::MaterialLibrary& library,
                                       const std::vector<ScatterInput>& inputs,
                                       const std::vector<double>& values) {
  materials::MaterialLibrary copy = library;
  copy.for_each_quantity([&](std::string_view kind, std::string_view id, std::string_view property,
                             materials::Quantity& q) {
    for (std::size_t i = 0; i < inputs.size(); ++i) {
      const ScatterInput& in = inputs[i];
      if (in.kind != kind || in.id != id || in.property != property) continue;
      q.value = q.low = q.high = values[i];
      return;
    }
  });
  return copy;
}

double triangle_quantile(const ScatterInput& in, double chance) {
  const double width = in.high - in.low;
  if (!(width > 0)) return in.value;
  const double turn = (in.value - in.low) / width;
  if (chance < turn) return in.low + std::sqrt(chance * width * (in.value - in.low));
  return in.high - std::sqrt((1 - chance) * width * (in.high - in.value));
}

std::vector<std::vector<double>> draw_bags(const std::vector<ScatterInput>& inputs, int n,
                                           unsigned seed) {
  std::vector<std::vector<double>> bags =
      scenes::latin_hypercube(inputs.size(), static_cast<std::size_t>(std::max(0, n)), seed);
  for (std::vector<double>& bag : bags) {
    for (std::size_t i = 0; i < bag.size(); ++i) bag[i] = triangle_quantile(inputs[i], bag[i]);
  }
  return bags;
}

SampleBand band_of(std::vector<double> values) {
  SampleBand band;
  band.count = static_cast<int>(values.size());
  if (values.empty()) return band;
  std::sort(values.begin(), values.end());
  const auto quantile = [&](double chance) {
    const double place = chance * static_cast<double>(values.size() - 1);
    const auto below = static_cast<std::size_t>(place);
    const std::size_t above = std::min(below + 1, values.size() - 1);
    return values[below] + (place - static_cast<double>(below)) * (values[above] - values[below]);
  };
  band.low = quantile(0.05);
  band.middle = quantile(0.5);
  band.high = quantile(0.95);
  for (const double v : values) band.mean += v / static_cast<double>(values.size());
  double sum = 0;
  for (const double v : values) sum += (v - band.mean) * (v - band.mean);
  if (values.size() > 1) band.deviation = std::sqrt(sum / static_cast<double>(values.size() - 1));
  return band;
}

FirstOrder first_order(const std::vector<ScatterInput>& inputs, std::vector<double> slope) {
  FirstOrder out;
  double total = 0;
  for (std::size_t i = 0; i < inputs.size(); ++i) {
    out.share.push_back(slope[i] * slope[i] * inputs[i].variance());
    total += out.share.back();
  }
  for (double& share : out.share) share = total > 0 ? share / total : 0;
  out.deviation = std::sqrt(total);
  out.slope = std::move(slope);
  return out;
}

std::string drivers_text(std::vector<Driver> drivers) {
  constexpr std::size_t kMost = 3;
  constexpr double kLeastShare = 0.02;
  std::stable_sort(drivers.begin(), drivers.end(),
                   [](const Driver& a, const Driver& b) { return a.share > b.share; });
  std::string text;
  for (std::size_t k = 0; k < std::min(kMost, drivers.size()); ++k) {
    if (drivers[k].share < kLeastShare) break;
    text += fmt::format("{}{} ({:.0f} %)", text.empty() ? "" : ", ", drivers[k].input,
                        100 * drivers[k].share);
  }
  return text;
}

void run_side_by_side(int n, const std::function<void(int)>& job,
                      const std::function<bool()>& keep_going) {
  std::atomic<bool> go{true};
  std::mutex asking;
  std::vector<std::function<void()>> work;
  work.reserve(static_cast<std::size_t>(std::max(0, n)));
  for (int i = 0; i < n; ++i) {
    work.emplace_back([&, i] {
      if (!go) return;
      job(i);
      const std::lock_guard<std::mutex> lock(asking);
      if (!keep_going()) go = false;
    });
  }
  side_by_side(work);
}

}  // namespace totebench::studies
