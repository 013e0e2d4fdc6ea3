#include "app/present/swatch_report.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "app/present/report_page.hpp"
#include "app/present/text_table.hpp"
#include "totebench/materials/library_writer.hpp"
#include "totebench/scenes/unit_text.hpp"

namespace totebench::app {
namespace {

bool ends_in(const std::string& text, const std::string& end) {
  return text.size() > end.size() && text.compare(text.size() - end.size(), end.size(), end) == 0;
}

std::string in_words(double ratio) {
  if (std::abs(ratio - 1) < 0.1) return "about as stiff";
  return fmt::format("{} times as stiff",
                     ratio < 10 ? fmt::format("{:.1f}", ratio) : scenes::number_text(ratio));
}

// How it compares with the material it is said to be like, in bending, else in stretching.
std::string comparison(const scenes::SwatchFit& fit, const materials::Material& like) {
  std::string text;
  for (const std::string base :
       {"bending_rigidity", "youngs_modulus", "tensile_stiffness_initial"}) {
    const std::string done = base == "tensile_stiffness_initial" ? "stretched" : "bent";
    static const std::pair<std::string, std::string> kEnds[] = {{"_warp", " along the warp"},
                                                                {"_weft", " along the weft"},
                                                                {"_md", " along the warp"},
                                                                {"_cd", " along the weft"},
                                                                {"", ""}};
    for (const auto& [end, along] : kEnds) {
      if (std::count(fit.measured.begin(), fit.measured.end(), base + end) == 0) continue;
      const bool warp = end != "_weft" && end != "_cd";
      const materials::Quantity* theirs = like.find(base + end);
      if (theirs == nullptr) theirs = like.directional(base, warp);
      if (theirs == nullptr) continue;
      const std::string ratio = in_words(fit.material.get(base + end).value / theirs->value);
      text += text.empty() ? fmt::format("{}{} it is {} as the library's {}", done,
                                         along.empty() ? "," : along, ratio, like.name)
                           : fmt::format(",{} {}", along, ratio);
    }
    if (!text.empty()) return text;
  }
  return text;
}

std::string sentence(const scenes::Swatch& swatch, const scenes::SwatchFit& fit,
                     const materials::MaterialLibrary& library, const std::string& units) {
  std::string text = swatch.name;
  const bool weighed = std::count(fit.measured.begin(), fit.measured.end(), "areal_mass") > 0;
  if (weighed) {
    const double mass = fit.material.get("areal_mass").value;
    const scenes::ShownUnit unit = scenes::areal_mass_unit(units);
    text += fmt::format(" weighs {} {}", scenes::number_text(mass * unit.per_SI), unit.name);
  }
  const std::string compared = comparison(fit, *library.find(swatch.like));
  if (!compared.empty()) text += (weighed ? "; " : ": ") + compared;
  if (!weighed && compared.empty()) text += " was measured";
  return text + ".";
}

std::string formulas_text(const scenes::SwatchFit& fit) {
  static const std::pair<scenes::StripTestKind, const char*> kWords[] = {
      {scenes::StripTestKind::kOverhang,
       "overhang: Peirce 1930; for a strip held at the edge it gives 5.8 % too much at 41.5 deg"},
      {scenes::StripTestKind::kDroop,
       "droop: beam; right for a small droop only, else far too much"},
      {scenes::StripTestKind::kLoop, "loop: Peirce 1930; up to 12 % too much for a long loop"},
      {scenes::StripTestKind::kStretch, "stretch: pull over strain; right for a small strain"},
      {scenes::StripTestKind::kGap, "gap: beam on two supports; right for a narrow strip"}};
  std::string text = "\nThe formulas (from memory) and how far to believe them:\n";
  for (const auto& [kind, words] : kWords) {
    const scenes::StripTestKind wanted = kind;
    const bool used = std::any_of(fit.strips.begin(), fit.strips.end(),
                                  [&](const scenes::StripFit& s) { return s.kind == wanted; });
    if (used) text += fmt::format("  {}\n", words);
  }
  return text +
         "The material has the solver's values: with them a strip in totebench hangs as yours did. "
         "Bending\ncomes out lower partly because a strip this wide cannot curl across freely, as "
         "the "
         "formulas assume.\n";
}

constexpr const char* kByFormula = "Each test by the formula of the books and on the solver:";

std::string band_text(const scenes::Swatch& swatch, const std::string& units) {
  return fmt::format(
      "low and high: the lowest and the highest reading, with the ruler off by {:.2g} {} and the "
      "scale by {:.2g} g.",
      swatch.ruler_error_m * scenes::fine_length_unit(units).per_SI,
      scenes::fine_length_unit(units).name, 1e3 * swatch.scale_error_kg);
}

// Both directions under one name, unless one of them was measured.
std::string taken_text(const scenes::Swatch& swatch, const scenes::SwatchFit& fit) {
  std::vector<std::string> names;
  for (const auto& [name, q] : fit.material.properties) {
    if (q.source == scenes::kOwnSource) continue;
    std::string shown = property_name(name);
    const std::string base = shown.substr(0, shown.find(','));
    const bool half_measured =
        std::any_of(fit.measured.begin(), fit.measured.end(), [&](const std::string& measured) {
          return property_name(measured).substr(0, base.size()) == base;
        });
    if (!half_measured) shown = base;
    if (std::count(names.begin(), names.end(), shown) == 0) names.push_back(shown);
  }
  if (names.empty()) return "";
  std::string text = fmt::format("\nNot measured, taken from {} and marked so:\n", swatch.like);
  std::string line = " ";
  for (const std::string& name : names) {
    if (line.size() + name.size() > 90) {
      text += line + "\n";
      line = " ";
    }
    line += " " + name + (&name == &names.back() ? "." : ",");
  }
  return text + line + "\n";
}

}  // namespace

std::string property_name(std::string name) {
  static const std::pair<const char*, const char*> kEnds[] = {
      {"_warp", ", warp"}, {"_weft", ", weft"}, {"_md", ", warp"}, {"_cd", ", weft"}};
  std::string direction;
  for (const auto& [end, words] : kEnds) {
    if (!ends_in(name, end)) continue;
    name.resize(name.size() - std::string(end).size());
    direction = words;
  }
  if (name == "areal_mass") return "mass per area";
  if (name == "youngs_modulus") return "Young's modulus" + direction;
  if (name == "tensile_stiffness_initial") return "stretch stiffness" + direction;
  std::replace(name.begin(), name.end(), '_', ' ');
  return name + direction;
}

std::vector<std::string> swatch_cautions(const scenes::SwatchFit& fit) {
  std::vector<std::string> cautions = fit.remarks;
  cautions.emplace_back(
      "No test here says what the cloth or its seams carry: strengths are those of the library.");
  cautions.emplace_back(
      "Cloth changes with washing, ironing and damp; test it in the state you sew it in.");
  return cautions;
}

std::string use_in_scene(const scenes::SwatchFit& fit, const std::string& file) {
  const std::string& id = fit.material.id;
  const std::string use =
      fit.material.category == "base"
          ? fmt::format("\"base\": {{ \"kind\": \"stitched in\", \"material\": \"{}\" }}", id)
          : fmt::format("\"layers\": {{ \"upper\": [ {{ \"material\": \"{}\" }} ] }}", id);
  return fmt::format("  \"materials\": {{ \"{}\": {{ \"file\": \"{}\" }} }},\n  {}\n", id, file,
                     use);
}

std::string swatch_report(const scenes::Swatch& swatch, const scenes::SwatchFit& fit,
                          const materials::MaterialLibrary& library, const std::string& units,
                          const std::string& file) {
  std::string text =
      sentence(swatch, fit, library, units) + "\n\n" + table_text(properties_table(fit, units));
  text += "\n" + band_text(swatch, units) + "\n";
  if (!fit.strips.empty()) {
    text += fmt::format("\n{}\n\n", kByFormula) + table_text(tests_table(fit, units));
    text += formulas_text(fit);
  }
  text += taken_text(swatch, fit);
  text += fmt::format("\nTo use it, put {} beside your scene and write there:\n\n{}", file,
                      use_in_scene(fit, file));
  return text + cautions_text(swatch_cautions(fit));
}

viz::Page swatch_page(const scenes::Swatch& swatch, const scenes::SwatchFit& fit,
                      const materials::MaterialLibrary& library, const std::string& units,
                      const std::string& file) {
  viz::Page page;
  page.title = swatch.name;
  page.sentence = sentence(swatch, fit, library, units);
  page.under = swatch.note;
  page.cautions = swatch_cautions(fit);
  page.data_id = "swatch";
  page.data_json = swatch_json(swatch, fit);
  viz::PageSection measured;
  measured.title = "What was measured";
  measured.tables = {page_table(properties_table(fit, units))};
  measured.tables.back().words = {true, false, false, false, true, true};
  measured.paragraphs = {band_text(swatch, units)};
  page.sections.push_back(measured);
  if (!fit.strips.empty()) {
    viz::PageSection tests;
    tests.title = "Test by test";
    tests.paragraphs = {kByFormula};
    tests.tables = {page_table(tests_table(fit, units))};
    tests.folded_title = "The formulas, and how far to believe them";
    tests.folded = formulas_text(fit);
    page.sections.push_back(tests);
  }
  viz::PageSection use;
  use.title = "To use it";
  use.paragraphs = {fmt::format("Put {} beside your scene and write there:", file)};
  use.folded_title = "In the scene";
  use.folded = use_in_scene(fit, file) + taken_text(swatch, fit);
  page.sections.push_back(use);
  return page;
}

std::string swatch_material_file(const scenes::Swatch& swatch, const scenes::SwatchFit& fit) {
  const std::string about = fmt::format(
      "{}: measured with ruler and scale, fitted by totebench swatch. What was not measured is "
      "that "
      "of {} and says so.",
      swatch.name, swatch.like);
  return materials::library_file_json(about, {fit.material},
                                      {{scenes::kOwnSource,
                                        "own swatch: measured on the cloth itself with a ruler and "
                                        "a kitchen scale",
                                        "", "own measurement"}});
}

}  // namespace totebench::app
