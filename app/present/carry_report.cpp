#include "app/present/carry_report.hpp"

#include <fmt/format.h>

#include "app/present/hang_report.hpp"
#include "app/present/report_page.hpp"
#include "totebench/scenes/unit_text.hpp"
#include "totebench/scenes/utilisation.hpp"
#include "totebench/viz/svg_chart.hpp"

namespace totebench::app {
namespace {

constexpr double kClearBounce = 0.1;  // share of the mass that a bounce worth the name moves

// Force over time of the events whose names begin so, in times the weight.
viz::LineChart force_chart(const studies::CarryResult& result, const std::string& title,
                           const std::vector<std::string>& begins,
                           double studies::CarrySample::*force) {
  viz::LineChart chart{title, "seconds", "times the weight", {}};
  for (const studies::CarryEventResult& event : result.events) {
    for (const std::string& begin : begins) {
      if (event.name.rfind(begin, 0) != 0) continue;
      viz::Line line{event.name.substr(0, event.name.find(',')), {}, {}};
      for (const studies::CarrySample& sample : event.samples) {
        line.x.push_back(sample.time_s);
        line.y.push_back(sample.*force / result.still.findings.weight_N);
      }
      chart.lines.push_back(std::move(line));
    }
  }
  return chart;
}

}  // namespace

std::string carry_sentence(const scenes::Scene& scene, const studies::CarryResult& result,
                           const std::string& units) {
  const std::string name = scene.name.empty() ? "The tote" : scene.name;
  const studies::CarryEventResult* hardest = nullptr;
  for (const studies::CarryEventResult& event : result.events) {
    if (event.complete && (!hardest || event.dynamic_factor > hardest->dynamic_factor)) {
      hardest = &event;
    }
  }
  std::string text = fmt::format("{} {} ", name, load_text(scene, units));
  text += result.bounce_mass_share < kClearBounce
              ? "has no one bounce: its mass goes up and down in many ways"
              : fmt::format("bounces {} times a second on its straps",
                            scenes::rough_text(result.bounce_Hz));
  if (hardest != nullptr) {
    text += fmt::format(
        "; of what was tried, {} asks most: {} times the weight on the hand, {} "
        "times the still pull on the hardest pulled stitch",
        hardest->name, scenes::number_text(hardest->dynamic_factor),
        scenes::number_text(hardest->stitch_factor));
  }
  return text + ".";
}

std::string carry_basis(const studies::CarryResult& result, const studies::CarryOptions& options) {
  return fmt::format(
      "On the hand, on the floor: peak force in times the weight. Left to itself it sways {} "
      "times a second at the slowest; the bounce moves {:.0f} % of the mass and dies away with "
      "{:g} "
      "of critical damping (estimate). Computed on a mesh of {} triangles in steps of {:.1f} ms.",
      scenes::rough_text(result.sway_Hz), 100 * result.bounce_mass_share, options.damping_ratio,
      result.still.findings.triangles, 1e3 * result.time_step_s);
}

std::vector<std::string> carry_cautions(const studies::CarryResult& result,
                                        const std::string& units) {
  std::vector<std::string> cautions = {
      "The arm is taken as stiff and the contents as moving with the cloth they rest on; a soft "
      "arm eases, shifting contents and a slack strap pulled tight add.",
      fmt::format(
          "Set down, ground and contents together are taken to give {} under the weight "
          "(estimate); on hard ground with hard contents the blow on the base is harder. Feet are "
          "not in it, nor are knocks, and how slack straps whip is followed but roughly.",
          scenes::length_text(studies::kFloorGive_m, units)),
      "The mesh is the coarse one: read the factors rather than the forces."};
  const auto& general = result.still.findings.cautions;
  cautions.insert(cautions.end(), general.begin(), general.end());
  std::erase(cautions, scenes::kSteadyLoad);
  return cautions;
}

std::string carry_report(const scenes::Scene& scene, const studies::CarryResult& result,
                         const studies::CarryOptions& options, const std::string& units,
                         const std::string& files) {
  return carry_sentence(scene, result, units) + "\n\n" + table_text(carry_table(result, units)) +
         "\n" + carry_basis(result, options) + "\n\n" + files +
         cautions_text(carry_cautions(result, units));
}

std::string not_carried_text(const scenes::Scene& scene) {
  return fmt::format(
      "{}: the bag came to no stable rest under its load, so it was not carried. `totebench hang` "
      "says more.",
      scene.name);
}

std::string carry_csv(const studies::CarryResult& result) {
  std::string text = "event";
  for (const CarryColumn& column : kCarryColumns) text += fmt::format(",{}", column.name);
  text += '\n';
  for (const studies::CarryEventResult& event : result.events) {
    for (const studies::CarrySample& sample : event.samples) {
      text += fmt::format("\"{}\"", event.name);
      for (const CarryColumn& column : kCarryColumns) {
        text += fmt::format(",{:.6g}", sample.*column.value);
      }
      text += '\n';
    }
  }
  return text;
}

viz::Page carry_page(const scenes::Scene& scene, const studies::CarryResult& result,
                     const studies::CarryOptions& options,
                     const materials::MaterialLibrary& library, const std::string& units,
                     const std::string& json) {
  viz::Page page = bag_page(scene, result.still, units, carry_sentence(scene, result, units));
  page.cautions = carry_cautions(result, units);
  page.data_id = "carry";
  page.data_json = json;
  viz::PageSection section;
  section.title = "Carried";
  section.first = true;
  section.tables = {page_table(carry_table(result, units))};
  section.tables.back().words = {true, false, false, false, false, false, true};
  section.paragraphs = {carry_basis(result, options)};
  section.side_by_side = true;
  const auto hand = &studies::CarrySample::support_force_N;
  for (const viz::LineChart& chart :
       {force_chart(result, "On the hand, picked up", {"picked up", "snatched"}, hand),
        force_chart(result, "On the hand, on foot", {"walking", "down stairs"}, hand),
        force_chart(result, "On the hand, set down", {"set down", "put down"}, hand),
        force_chart(result, "On the floor, set down", {"set down", "put down"},
                    &studies::CarrySample::floor_force_N)}) {
    section.figures.push_back({viz::line_chart_svg(chart), ""});
  }
  page.sections.push_back(section);
  add_background(page, scene, library, units);
  return page;
}

}  // namespace totebench::app
