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
    base.bag = bag.scene.name;
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

viz::PageSection asking(const studies::Comparison& comparison, const std::string& units) {
  viz::PageSection section;
  section.title = "Guess first";
  section.paragraphs = {
      "These bags differ only in what is named below. How far will the bottom of each sag under "
      "its load? Write down your guess before you look on."};
  viz::PageTable table;
  table.head = {"bag", "what it has more or less than the first",
                "my guess, " + scenes::length_unit(units).name};
  table.words = {true, true, false};
  for (const studies::ComparedBag& bag : comparison.bags) {
    const std::string changed = studies::difference_text(bag.from_first);
    table.rows.push_back({bag.scene.name, changed.empty() ? "the first bag" : changed, "........"});
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
  table.head = {"bag", scenes::figure_of<&scenes::Findings::bottom_sag_m>().name};
  for (const studies::ComparedBag& bag : comparison.bags) {
    const bool known = bag.result.findings.converged();
    table.rows.push_back(
        {bag.scene.name, known ? scenes::length_text(bag.result.findings.bottom_sag_m, units)
                               : "no rest was found"});
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
      fmt::format("The base sheet of {} alone, {} by {}, under the same load:", base.bag,
                  scenes::length_text(base.length_m, units),
                  scenes::length_text(base.width_m, units)),
      "By the formula: 5 q L⁴ / (384 E t³/12) between two ends L apart, and Navier's series, "
      "which begins with 16 q / (π⁶ D (1/a² + 1/b²)²), for a plate a by b held along its edges. "
      "Here q is the load per area, E the stiffness of the plastic, t its thickness, and "
      "D = E t³ / (12 (1 - ν²)).",
      "Both hold for small sags: where they say far more than the computation, the sheet has left "
      "their range."};
  viz::PageTable table;
  table.head = {"the sheet is", "by the formula", "computed"};
  for (const BaseAlone::Held& held : base.held) {
    table.rows.push_back({held.how, scenes::length_text(held.formula_m, units),
                          scenes::length_text(held.computed_m, units)});
  }
  table.rows.push_back({"in the bag", "", scenes::length_text(base.in_bag_m, units)});
  section.tables = {table};
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
  viz::PageSection mind;
  mind.title = "Cautions";
  mind.paragraphs = {
      "This is a calculation for teaching. Test a bag of your own before you trust it with a load: "
      "falling loads hurt."};
  page.sections.push_back(mind);
  return page;
}

}  // namespace totebench::app
