// What went into a computation, for the report page: the layers drawn, the numbers with sources.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "totebench/scenes/unit_text.hpp"
#include "totebench/viz/report.hpp"
#include "totebench/viz/svg_chart.hpp"

namespace totebench::viz {
namespace {

const char* ply_colour(const std::string& category) {
  if (category == "fabric") return "#d9b98a";
  if (category == "interfacing") return "#8fa9b8";
  if (category == "stabilizer") return "#b7c4a1";
  if (category == "base") return "#7f93a6";
  return "#c9c2b4";
}

const char* join_text(scenes::LayerJoin join) {
  switch (join) {
    case scenes::LayerJoin::kFused:
      return "fused over its whole face";
    case scenes::LayerJoin::kStitchedGrid:
      return "quilted";
    case scenes::LayerJoin::kSewnAtEdges:
      return "sewn in at its edges";
    case scenes::LayerJoin::kLoose:
      return "loose";
  }
  return "";
}

// What sections, masses and strengths are made from (see totebench/materials/library.hpp); the
// library knows more about a material than that.
bool is_read(const std::string& property) {
  static const char* const kRead[] = {"areal_mass",
                                      "density",
                                      "thickness",
                                      "poisson_ratio",
                                      "strip_strength",
                                      "break_strain",
                                      "tensile_stiffness_initial",
                                      "shear_stiffness",
                                      "bending_rigidity",
                                      "fused_bending_ratio",
                                      "youngs_modulus",
                                      "shear_modulus",
                                      "yield_stress",
                                      "flexural_strength",
                                      "width",
                                      "axial_stiffness_EA",
                                      "breaking_strength",
                                      "strength_stress"};
  return property.find("postcrimp") == std::string::npos && property != "youngs_modulus_short" &&
         std::any_of(std::begin(kRead), std::end(kRead),
                     [&](const char* known) { return property.rfind(known, 0) == 0; });
}

// The unit a person reads a number of the library in. A rigidity has none that makers know.
scenes::ShownUnit shown_unit_of(const std::string& si_unit, const std::string& units) {
  if (si_unit == "m") return scenes::fine_length_unit(units);
  if (si_unit == "kg/m2") return scenes::areal_mass_unit(units);
  if (si_unit == "N/m") return scenes::line_force_unit(units);
  if (si_unit == "N") return scenes::force_unit(units);
  if (si_unit == "Pa") return scenes::stress_unit(units);
  if (si_unit == "N m") return {1e6, "\u00b5N m"};
  return {1, si_unit == "1" ? "" : si_unit};
}

std::string value_text(double value, const std::string& si_unit, const std::string& units) {
  const scenes::ShownUnit unit = shown_unit_of(si_unit, units);
  return scenes::number_text(value * unit.per_SI) + " " + unit.name;
}

std::string property_text(std::string name) {
  std::replace(name.begin(), name.end(), '_', ' ');
  return name;
}

void add_quantity(const std::string& what, const std::string& property,
                  const materials::Quantity& q, const std::string& units, PageTable& table,
                  std::set<std::string>& sources) {
  const auto shown = [&](double value) { return value_text(value, q.unit, units); };
  table.rows.push_back({what, property_text(property), shown(q.value),
                        q.low < q.high ? fmt::format("{} to {}", shown(q.low), shown(q.high)) : "",
                        q.grade, q.source});
  std::size_t begin = 0;
  while (begin < q.source.size()) {
    const std::size_t end = std::min(q.source.find(", ", begin), q.source.size());
    sources.insert(q.source.substr(begin, end - begin));
    begin = end + 2;
  }
}

}  // namespace

std::string layers_svg(const std::string& region, const std::vector<scenes::Layer>& layers,
                       const materials::MaterialLibrary& library, const std::string& units) {
  constexpr double kWidth = 560, kCloth = 190, kTop = 40, kLeast = 5, kTallest = 130;
  double whole = 0;
  const auto thickness = [&](const scenes::Layer& layer) {
    if (layer.thickness_m > 0) return layer.thickness_m;
    const materials::Material* material = library.find(layer.material);
    const materials::Quantity* own = material == nullptr ? nullptr : material->find("thickness");
    return own == nullptr ? 0.0 : own->value;
  };
  for (const scenes::Layer& layer : layers) whole += thickness(layer);
  const double scale = whole > 0 ? std::min(60e3, kTallest / whole) : 0;  // px per metre
  std::string bands;
  double y = kTop, label_y = kTop - 4;
  for (std::size_t i = 0; i < layers.size(); ++i) {
    const scenes::Layer& layer = layers[i];
    const materials::Material* material = library.find(layer.material);
    const double height = std::max(kLeast, thickness(layer) * scale);
    const scenes::LayerJoin join = i == 0 ? scenes::LayerJoin::kFused : layer.join;
    const double gap =
        i == 0                                                                          ? 0
        : join == scenes::LayerJoin::kFused || join == scenes::LayerJoin::kStitchedGrid ? 2
        : join == scenes::LayerJoin::kSewnAtEdges                                       ? 6
                                                                                        : 12;
    y += gap;
    bands += fmt::format(
        "<rect x=\"10\" y=\"{:.1f}\" width=\"{:g}\" height=\"{:.1f}\" fill=\"{}\" "
        "stroke=\"#222225\" stroke-width=\"0.8\"/>\n",
        y, kCloth, height, ply_colour(material == nullptr ? "" : material->category));
    if (i > 0 && join == scenes::LayerJoin::kFused) {  // a line of glue dots
      bands += fmt::format(
          "<line x1=\"12\" y1=\"{0:.1f}\" x2=\"{1:g}\" y2=\"{0:.1f}\" stroke=\"#9c3d1e\" "
          "stroke-width=\"2\" stroke-dasharray=\"2 4\"/>\n",
          y - 1, kCloth + 8);
    }
    const auto stitch = [&](double x) {
      bands += fmt::format(
          "<line x1=\"{0:.1f}\" y1=\"{1:.1f}\" x2=\"{0:.1f}\" y2=\"{2:.1f}\" stroke=\"#9c3d1e\" "
          "stroke-width=\"1.8\"/>\n",
          x, y - gap - 4, y + height);
    };
    if (i > 0 && join == scenes::LayerJoin::kStitchedGrid) {
      for (int k = 0; k < 6; ++k) stitch(26 + k * (kCloth - 32) / 5);
    } else if (i > 0 && join == scenes::LayerJoin::kSewnAtEdges) {
      stitch(16);
      stitch(kCloth + 4);
    }
    const double middle = y + 0.5 * height;
    label_y = std::max(label_y + 38, middle - 2);
    bands += fmt::format(
        "<polyline points=\"{:g},{:.1f} {:g},{:.1f} {:g},{:.1f}\" fill=\"none\" "
        "stroke=\"#77736a\"/>\n",
        kCloth + 10, middle, kCloth + 26, label_y - 4, kCloth + 34, label_y - 4);
    const std::string name = material == nullptr ? layer.material : material->name;
    bands += fmt::format(
        "<text x=\"{:g}\" y=\"{:.1f}\" font-size=\"13\" fill=\"#222225\">{}</text>\n", kCloth + 40,
        label_y, escaped(name.size() > 46 ? name.substr(0, 43) + "..." : name));
    std::string second = thickness(layer) > 0 ? value_text(thickness(layer), "m", units) + " thick"
                                              : std::string("thickness not known");
    if (i > 0) second += std::string(", ") + join_text(join);
    bands +=
        fmt::format("<text x=\"{:g}\" y=\"{:.1f}\" font-size=\"12\" fill=\"#4c4c52\">{}</text>\n",
                    kCloth + 40, label_y + 16, escaped(second));
    y += height;
  }
  const double height = std::max(y, label_y + 20) + 16;
  const std::string title =
      region + ": layers from the outside in, " + value_text(whole, "m", units);
  return fmt::format(
             "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {0:g} {1:.0f}\" "
             "width=\"{0:g}\" height=\"{1:.0f}\" role=\"img\" font-family=\"'DejaVu Sans', "
             "Verdana, sans-serif\">\n<title>{2}</title>\n<text x=\"10\" y=\"18\" "
             "font-size=\"15\" font-weight=\"600\" fill=\"#222225\">{2}</text>\n",
             kWidth, height, escaped(title)) +
         bands + "</svg>\n";
}

std::vector<PageTable> input_tables(const std::vector<const scenes::Scene*>& scenes,
                                    const materials::MaterialLibrary& library,
                                    const std::string& units) {
  std::vector<std::string> materials, threads, stitches;
  const auto note = [](std::vector<std::string>& list, const std::string& id) {
    if (!id.empty() && std::find(list.begin(), list.end(), id) == list.end()) list.push_back(id);
  };
  for (const scenes::Scene* scene : scenes) {
    for (const auto& [region, layers] : scene->layers) {
      for (const scenes::Layer& layer : layers) note(materials, layer.material);
    }
    for (const scenes::Layer& layer : scene->sheet.layers) note(materials, layer.material);
    for (const scenes::Strap& strap : scene->straps) {
      note(materials, strap.material);
      note(threads, strap.attachment.thread);
      note(stitches, strap.attachment.stitch_type);
    }
    if (scene->kind == scenes::SceneKind::kTote) {
      if (scene->base.kind != scenes::BaseKind::kNone) note(materials, scene->base.material);
      note(threads, scene->seams.thread);
      note(stitches, scene->seams.stitch_type);
    }
  }
  PageTable table{"Each number is the library's usual value unless the scene gives its own.",
                  {"material", "property", "used", "usual range", "grade", "source"},
                  {},
                  {true, true, false, false, true, true}};
  std::set<std::string> used;
  for (const std::string& id : materials) {
    const materials::Material* material = library.find(id);
    if (material == nullptr) continue;
    std::string what = material->name;
    for (const auto& [property, quantity] : material->properties) {
      if (!is_read(property)) continue;
      add_quantity(what, property, quantity, units, table, used);
      what.clear();  // the name stands once
    }
  }
  for (const std::string& id : threads) {
    const materials::Thread* thread = library.find_thread(id);
    if (thread == nullptr) continue;
    add_quantity(thread->name, "breaking strength", thread->breaking_strength, units, table, used);
    add_quantity("", "loop ratio", thread->loop_ratio, units, table, used);
  }
  for (const std::string& id : stitches) {
    const materials::StitchType* stitch = library.find_stitch(id);
    if (stitch == nullptr) continue;
    add_quantity("stitch " + id + ", " + stitch->name, "strength factor", stitch->factor, units,
                 table, used);
  }
  if (table.rows.empty()) return {};
  PageTable sources{"Sources", {"id", "what it is"}, {}, {true, true}};
  for (const std::string& id : used) {
    const auto it = library.sources().find(id);
    if (it == library.sources().end()) continue;
    const materials::Source& source = it->second;
    sources.rows.push_back(
        {id, source.address.empty() ? source.cite : source.cite + " " + source.address});
  }
  std::vector<PageTable> out = {table};
  if (!sources.rows.empty()) out.push_back(sources);
  return out;
}

}  // namespace totebench::viz
