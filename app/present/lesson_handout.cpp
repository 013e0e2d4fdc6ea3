#include "app/present/lesson_handout.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "totebench/scenes/unit_text.hpp"

namespace totebench::app {
namespace {

constexpr double kGravity_m_per_s2 = 9.80665;
constexpr double kTrianglesAlong = 24;  // triangles along the longer side

scenes::SheetSupport edge(const std::string& where, bool x, bool y) {
  scenes::SheetSupport support;
  support.where = where;
  support.fix[0] = x;
  support.fix[1] = y;
  return support;
}

// Sag of the sheet's lowest point, nothing when it comes to no rest.
std::optional<double> sag_of(const scenes::Scene& scene, const materials::MaterialLibrary& library,
                             const studies::OnHangProgress& on_progress) {
  const studies::SheetHangResult result = studies::hang_sheet(scene, library, on_progress);
  if (result.report.status != solver::SolveStatus::kConverged) return std::nullopt;
  return -(result.steps.back().state.x - result.sheet.model.mesh.position).row(2).minCoeff();
}

scenes::Scene sheet_scene(const scenes::Scene& bag, double length_m, double width_m) {
  scenes::Scene scene;
  scene.kind = scenes::SceneKind::kSheet;
  scene.sheet.geometry.shape = scenes::SheetShape::kRectangle;
  scene.sheet.geometry.length_m = length_m;
  scene.sheet.geometry.width_m = width_m;
  scenes::Layer layer;
  layer.material = bag.base.material;
  layer.thickness_m = bag.base.thickness_m;
  scene.sheet.layers = {layer};
  scenes::SheetLoad gravity;
  scenes::SheetLoad contents;
  contents.kind = scenes::SheetLoad::Kind::kAreaForce;
  contents.vector.z() = -bag.contents.mass_kg * kGravity_m_per_s2 / (length_m * width_m);
  scene.sheet.loads = {gravity, contents};
  scene.mesh.size_m = std::max(length_m, width_m) / kTrianglesAlong;
  return scene;
}

}  // namespace

double navier_deflection(double pressure_Pa, double a_m, double b_m, double rigidity_N_m) {
  constexpr int kTerms = 201;  // the series falls as the fifth power: six digits and more
  double sum = 0;
  for (int m = 1; m < kTerms; m += 2) {
    for (int n = 1; n < kTerms; n += 2) {
      const double k = std::pow(m / a_m, 2) + std::pow(n / b_m, 2);
      sum += ((m + n) / 2 % 2 == 1 ? 1.0 : -1.0) / (m * n * k * k);
    }
  }
  return 16 * pressure_Pa / (std::pow(M_PI, 6) * rigidity_N_m) * sum;
}

std::optional<BaseAlone> base_alone(const studies::Comparison& comparison,
                                    const materials::MaterialLibrary& library,
                                    const studies::OnHangProgress& on_progress) {
  for (const studies::ComparedBag& bag : comparison.bags) {
    if (bag.scene.base.kind == scenes::BaseKind::kNone || !bag.result.findings.converged()) {
      continue;
    }
    BaseAlone base;
    base.length_m = bag.scene.bag.width_m - 2 * bag.scene.base.clearance_m;
    base.width_m = bag.scene.bag.depth_m - 2 * bag.scene.base.clearance_m;
    base.in_bag_m = bag.result.findings.bottom_sag_m;
    const double L = base.length_m;
    scenes::Scene scene = sheet_scene(bag.scene, L, base.width_m);
    scene.sheet.supports = {edge("x0", true, true), edge("x1", false, true)};
    const solver::Section section = scenes::build_sheet(scene, library).model.sections.front();
    base.rigidity_N_m = section.D(0, 0);
    // The formulas are those of a material alike in all directions.
    if (std::abs(section.D(1, 1) / section.D(0, 0) - 1) > 1e-6) continue;
    base.pressure_Pa = bag.scene.contents.mass_kg * kGravity_m_per_s2 / (L * base.width_m) +
                       section.areal_mass_kg_per_m2 * kGravity_m_per_s2;
    const double q = base.pressure_Pa;
    const auto ends = sag_of(scene, library, on_progress);
    // A strip with free long edges bends like a beam: D (1 - nu^2) in place of D.
    const double nu = section.D(0, 1) / section.D(0, 0);
    const double strip = base.rigidity_N_m * (1 - nu * nu);
    scene.sheet.supports = {edge("x0", true, true), edge("x1", false, true),
                            edge("y0", false, false), edge("y1", false, false)};
    const auto all = sag_of(scene, library, on_progress);
    if (!ends || !all) return std::nullopt;
    base.held = {{"held up at its two short ends", 5 * q * std::pow(L, 4) / (384 * strip), *ends},
                 {"held up along all four edges",
                  navier_deflection(q, L, base.width_m, base.rigidity_N_m), *all}};
    return base;
  }
  return std::nullopt;
}

namespace {

// What students call a bag: files have other names.
std::string letter_of(std::size_t i) {
  return std::string("Bag\u00a0") + static_cast<char>('A' + i);
}

// The empty bag from the front with a strip below its bottom to draw a guess on: as wide as the
// bag, downwards enlarged.
std::string guess_svg(const scenes::Bag& bag, const std::string& units) {
  constexpr double kWide = 420, kLeft = 116, kTop = 26, kEnlarged = 6;
  constexpr int kLines = 5;
  const bool inch = units == "in";
  const double line_m = inch ? 0.25 * 0.0254 : 0.005;
  const double scale = 0.5 * kWide / std::max(bag.width_m, 1e-6);  // px per metre
  const double wide = bag.width_m * scale, tall = bag.height_m * scale;
  const double middle = kLeft + 0.5 * kWide, strip = kTop + tall + 44;
  const double step = kEnlarged * line_m * scale;
  const double height = strip + step * kLines + 36;
  const auto line = [](double x0, double y0, double x1, double y1, const char* ink, double width,
                       const char* more = "") {
    return fmt::format(
        "<line x1=\"{:.1f}\" y1=\"{:.1f}\" x2=\"{:.1f}\" y2=\"{:.1f}\" stroke=\"{}\" "
        "stroke-width=\"{:g}\"{}/>\n",
        x0, y0, x1, y1, ink, width, more);
  };
  const auto text = [](double x, double y, const std::string& words, const char* anchor) {
    return fmt::format(
        "<text x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"{}\" font-size=\"13\" "
        "fill=\"#4c4c52\">{}</text>\n",
        x, y, anchor, words);
  };
  std::string out = fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {0:g} {1:.0f}\" width=\"{0:g}\" "
      "height=\"{1:.0f}\" role=\"img\" font-family=\"'DejaVu Sans', Verdana, sans-serif\">\n"
      "<title>The empty bag, with lines to draw a guess on</title>\n",
      kLeft + kWide + 30, height);
  out += fmt::format(
      "<rect x=\"{:.1f}\" y=\"{:g}\" width=\"{:.1f}\" height=\"{:.1f}\" fill=\"#faf7f0\" "
      "stroke=\"#222225\" stroke-width=\"1.5\"/>\n",
      middle - wide / 2, kTop, wide, tall);
  for (const double side : {-1.0, 1.0}) {  // two handles, shortened
    const double x = middle + side * wide / 6;
    out += line(x, kTop + 14, x, kTop - 16, "#222225", 3);
  }
  out += text(middle, kTop + tall / 2, "the bag, empty, from the front", "middle");
  for (const double side : {-1.0, 1.0}) {  // its bottom edge, drawn wide
    out += line(middle + side * wide / 2, kTop + tall, middle + side * kWide / 2, strip, "#77736a",
                0.8, " stroke-dasharray=\"3 4\"");
  }
  for (int i = 0; i <= kLines; ++i) {
    const double y = strip + i * step;
    out += line(kLeft, y, kLeft + kWide, y, i == 0 ? "#222225" : "#cfc9bd", i == 0 ? 2 : 1);
    out += text(kLeft - 8, y + 4, i == 0 ? "bottom, empty" : scenes::length_text(i * line_m, units),
                "end");
  }
  out += text(middle, strip + step * kLines + 28,
              fmt::format("the bottom edge, downwards {:g} times enlarged: draw where it will hang",
                          kEnlarged / 2),
              "middle");
  return out + "</svg>\n";
}

viz::PageSection asking(const studies::Comparison& comparison, const std::string& units) {
  viz::PageSection section;
  section.title = "Guess first";
  section.paragraphs = {
      "These bags differ only in what is named below. How far will the bottom of each sag under "
      "its load? Draw a line for each bag below, write its letter to it, and put the number into "
      "the table, before you turn the page."};
  section.figures = {{guess_svg(comparison.bags.front().scene.bag, units), ""}};
  viz::PageTable table;
  table.head = {"", "what it has more or less than the first",
                "my guess, " + scenes::length_unit(units).name};
  table.words = {true, true, false};
  for (std::size_t i = 0; i < comparison.bags.size(); ++i) {
    const std::string changed = studies::difference_text(comparison.bags[i].from_first);
    table.rows.push_back({letter_of(i), changed.empty() ? "the first bag" : changed, "........"});
  }
  section.tables = {table};
  return section;
}

viz::PageSection showing(const studies::Comparison& comparison, const std::string& units,
                         const std::string& picture_png) {
  viz::PageSection section;
  section.title = "Look";
  section.new_page = true;  // or the answers would lie beside the guesses
  section.picture_png = picture_png;
  section.picture_text = "The bags loaded, side by side at one scale, and cut along their width";
  viz::PageTable table;
  table.head = {"", scenes::figure_of<&scenes::Findings::bottom_sag_m>().name, "my guess"};
  std::string others;
  for (std::size_t i = 0; i < comparison.bags.size(); ++i) {
    const scenes::Findings& found = comparison.bags[i].result.findings;
    table.rows.push_back(
        {letter_of(i),
         found.converged() ? scenes::length_text(found.bottom_sag_m, units) : "no rest was found",
         "........"});
    if (!found.converged() || !found.other_shape.found) continue;
    others += fmt::format("{}{}, with a sag of {}", others.empty() ? "" : "; ", letter_of(i),
                          scenes::length_text(found.other_shape.bottom_sag_m, units));
  }
  if (!others.empty()) {
    section.paragraphs = {
        "Soft walls can buckle one way or another, so a bag can rest in more than "
        "one shape. A second one was found of " +
        others + "."};
  }
  section.tables = {table};
  return section;
}

const char* const kClothAndSheet =
    "Cloth carries by pulling: to hold a load it has to hang in a bow, and the bow is the sag. A "
    "stiff sheet carries by bending as well, and its stiffness grows with the cube of its "
    "thickness: twice as thick bends an eighth as far.";

// Where there is no base sheet to compute alone.
viz::PageSection explaining(const studies::Comparison& comparison) {
  viz::PageSection section;
  section.title = "Why";
  const bool sheet = std::any_of(comparison.bags.begin(), comparison.bags.end(),
                                 [](const studies::ComparedBag& bag) {
                                   return bag.scene.base.kind != scenes::BaseKind::kNone;
                                 });
  section.paragraphs = {
      kClothAndSheet,
      sheet
          ? "The formulas that belong here are left out: they hold for a sheet that bends alike in "
            "all directions, in a bag that was found at rest, and no base sheet of these bags "
            "could be computed alone."
          : "The formulas that belong here are those of a base sheet alone, and none of these bags "
            "has one. Compare with a bag whose \"base\" is stitched in to see them."};
  return section;
}

viz::PageSection explaining(const BaseAlone& base, const std::string& units) {
  viz::PageSection section;
  section.title = "Why";
  section.paragraphs = {
      kClothAndSheet,
      "In words: a sheet held up at two ends sags in proportion to its load, and with the fourth "
      "power of the way between the ends (twice as long sags sixteen times as far); the stiffer "
      "its "
      "plastic and the thicker it is, the less. Held along all four edges it sags less still.",
      fmt::format(
          "The base sheet alone, {} by {}, under the same load (beside it, in the bag, cloth "
          "and walls help or hinder):",
          scenes::length_text(base.length_m, units), scenes::length_text(base.width_m, units))};
  const char* const symbols =
      "In symbols: 5 q L⁴ / (384 E t³/12) between two ends L apart, and Navier's series, which "
      "begins with 16 q / (π⁶ D (1/a² + 1/b²)²), for a plate a by b held along its edges; q is the "
      "load per area, E the stiffness of the plastic, t its thickness, D = E t³ / (12 (1 - ν²)). "
      "Both hold for small sags: where they say far more than the computation, the sheet has left "
      "their range.";
  viz::PageTable table;
  table.head = {"the sheet is", "by the formula", "computed"};
  for (const BaseAlone::Held& held : base.held) {
    table.rows.push_back({held.how, scenes::length_text(held.formula_m, units),
                          scenes::length_text(held.computed_m, units)});
  }
  table.rows.push_back({"in the bag", "", scenes::length_text(base.in_bag_m, units)});
  section.tables = {table};
  section.paragraphs.emplace_back(symbols);
  return section;
}

}  // namespace

viz::Page lesson_page(const studies::Comparison& comparison, const std::optional<BaseAlone>& base,
                      const std::string& units, const std::string& picture_png) {
  viz::Page page;
  page.title = "Why does the bottom of a bag need a stiffener?";
  page.sentence = "Guess, look, and find out why.";
  page.sections = {asking(comparison, units), showing(comparison, units, picture_png)};
  page.sections.push_back(base ? explaining(*base, units) : explaining(comparison));
  viz::PageSection try_it;
  try_it.title = "Try it";
  try_it.paragraphs = {
      "Lay a ruler across a gap between two books and put a coin on it; then two rulers, one on "
      "the other; then tape the two together along their length. Which pair bends least, and why?"};
  page.sections.push_back(try_it);
  viz::PageSection cautions;
  cautions.title = "Cautions";
  cautions.paragraphs = {
      "This is a calculation for teaching. Test a bag of your own before you trust it with a load: "
      "falling loads hurt."};
  page.sections.push_back(cautions);
  return page;
}

}  // namespace totebench::app
