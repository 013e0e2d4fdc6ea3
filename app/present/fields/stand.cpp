// stand.json, and the table of how a bag stands.
#include <fmt/format.h>

#include <numbers>

#include "app/present/fields/findings.hpp"
#include "app/present/fields/schemas.hpp"
#include "app/present/hang_report.hpp"
#include "app/present/stand_report.hpp"
#include "totebench/scenes/unit_text.hpp"

namespace totebench::app {
namespace {

constexpr double kDegreesARadian = 180 / std::numbers::pi;

struct Told {
  const scenes::Scene& scene;
  const studies::Standing& result;
};

// The bag as its pattern has it has no Stood.
struct ToldState {
  std::string name;
  const scenes::StandingShape& shape;
  const studies::Stood* stood = nullptr;
  [[nodiscard]] bool known() const { return stood == nullptr || stood->at_rest(); }
  [[nodiscard]] bool up() const { return stood == nullptr || stood->up; }
  [[nodiscard]] double lean_deg(int one, int other) const {
    return kDegreesARadian * 0.5 * (shape.lean_rad[one] + shape.lean_rad[other]);
  }
};

std::string degrees_text(double degrees) {
  return fmt::format("{:.0f} deg", std::abs(degrees) < 0.5 ? 0 : degrees);
}

const Fields<ToldState>& state_fields() {
  using S = ToldState;
  using Shape = scenes::StandingShape;
  const auto shape = [](double Shape::*member) {
    return [member](const S& s) { return s.shape.*member; };
  };
  const auto lean = [](int one, int other) {
    return [one, other](const S& s) { return s.lean_deg(one, other); };
  };
  const auto lean_cell = [](int one, int other) {
    return [one, other](const S& s) { return degrees_text(s.lean_deg(one, other)); };
  };
  using enum scenes::Wall;
  const char* when = "where it came to rest";
  static const auto fields =
      Fields<S>("state", "The bag on the table.")
          .value("name", &S::name, "Empty or loaded.")
          .shown("")
          .choice(
              "status", {"converged", "not_converged"},
              [](const S& s) { return std::string(s.known() ? "converged" : "not_converged"); },
              "Whether it came to a stable rest; read this first.")
          .value("stands", &S::up,
                 "No part of the rim is lower than three quarters of the pattern's height.")
          .shown("stands",
                 [](const S& s) {
                   if (s.stood == nullptr) return "";
                   return !s.known() ? "no rest found" : s.up() ? "yes" : "no";
                 })
          .value("rim_low_m", shape(&Shape::rim_low_m), "Lowest point of the opening's edge.")
          .only_if(&S::known, when)
          .shown("rim, lowest")
          .shown_if(&S::known)
          .value("rim_mean_m", shape(&Shape::rim_m), "Its mean height.")
          .only_if(&S::known, when)
          .shown("mean")
          .shown_if(&S::known)
          .value("mouth_m", shape(&Shape::mouth_m),
                 "From front to back in the middle of the opening.")
          .only_if(&S::known, when)
          .shown("mouth, middle")
          .shown_if(&S::up)
          .value("front_and_back_lean_deg", lean(kWallFront, kWallBack),
                 "Of the middle of these walls off the vertical, outwards; their mean.")
          .only_if(&S::known, when)
          .shown("front, back lean", lean_cell(kWallFront, kWallBack))
          .shown_if(&S::up)
          .value("ends_lean_deg", lean(kWallLeft, kWallRight), "Likewise of left and right.")
          .only_if(&S::known, when)
          .shown("ends lean", lean_cell(kWallLeft, kWallRight))
          .shown_if(&S::up)
          .value("footprint_width_m", shape(&Shape::footprint_width_m),
                 "Of what touches the table, or of the feet.")
          .only_if(&S::known, when)
          .value("footprint_depth_m", shape(&Shape::footprint_depth_m), "Likewise.")
          .only_if(&S::known, when)
          .shown("footprint",
                 [](const S& s, const std::string& units) {
                   return scenes::length_text(s.shape.footprint_width_m, units) + " x " +
                          scenes::length_text(s.shape.footprint_depth_m, units);
                 })
          .shown_if(&S::up)
          .value(
              "tips_at_deg",
              [](const S& s) -> std::optional<double> {
                if (!s.known() || !s.shape.tips_at_rad) return std::nullopt;
                return kDegreesARadian * *s.shape.tips_at_rad;
              },
              "Tilt of the table at which its weight stands beyond its footprint, were it rigid. "
              "Absent for loose contents.")
          .shown("tips at",
                 [](const S& s) {
                   return degrees_text(kDegreesARadian * s.shape.tips_at_rad.value_or(0));
                 })
          .shown_if([](const S& s) { return s.stood != nullptr && s.up() && s.shape.tips_at_rad; });
  return fields;
}

ToldState empty_state(const Told& t) { return {"empty", t.result.empty.shape, &t.result.empty}; }
ToldState loaded_state(const Told& t) {
  return {"loaded", t.result.loaded.shape, &t.result.loaded};
}

Fields<Told> made_stand_fields() {
  using T = Told;
  auto fields = result_fields<T>("stand", "How a bag stands on a table.", "stand",
                                 [](const T& t) { return t.scene.name; });
  fields
      .value(
          "pattern_height_m", [](const T& t) { return t.scene.bag.height_m; },
          "Of the finished bag, from base to opening.")
      .value(
          "contents_kg", [](const T& t) { return t.scene.contents.mass_kg; }, "Of the loaded bag.")
      .object("empty", empty_state, state_fields(), "Under its own weight.")
      .object("loaded", loaded_state, state_fields(),
              "With the contents; a bag that does not stand empty is held open meanwhile.")
      .value(
          "stood_under_own_weights", [](const T& t) { return t.result.stood_under; },
          "Most of its own weight under which it was found standing empty, coarse mesh.")
      .value(
          "down_under_own_weights", [](const T& t) { return t.result.down_under; },
          "Least of it under which it was not. Absent where it stood under all that was tried.")
      .value(
          "columns_height_m", [](const T& t) { return t.result.columns_m; },
          "Height to which its weakest wall would stand as a free strip.")
      .object(
          "mesh",
          [](const T& t) {
            const solver::ShellMesh& mesh = t.result.tote.model.mesh;
            return Mesh{mesh.n_triangles(), mesh.n_nodes(),
                        t.result.empty.report.degrees_of_freedom};
          },
          mesh_fields(), "Of both states.")
      .value(
          "interrupted", [](const T& t) { return t.result.interrupted; }, "Stopped on request.")
      .value(
          "seconds", [](const T& t) { return t.result.effort.seconds; },
          "Wall-clock time of the whole study.")
      .value(
          "cautions", [](const T& t) { return stand_cautions(t.result); },
          "What limits these numbers.");
  return fields;
}

const Fields<Told>& stand_fields() {
  static const Fields<Told> fields = made_stand_fields();
  return fields;
}

}  // namespace

std::string stand_json(const scenes::Scene& scene, const studies::Standing& result) {
  return file_of(stand_fields(), Told{scene, result});
}

TextTable stand_table(const scenes::Scene& scene, const studies::Standing& result,
                      const std::string& units) {
  const Told told{scene, result};
  scenes::StandingShape pattern;
  pattern.rim_low_m = pattern.rim_m = scene.bag.height_m;
  pattern.mouth_m = pattern.footprint_depth_m = scene.bag.depth_m;
  pattern.footprint_width_m = scene.bag.width_m;
  ToldState loaded = loaded_state(told);
  loaded.name = load_text(scene, units);
  return shown_table(state_fields(),
                     std::vector<ToldState>{{"pattern", pattern}, empty_state(told), loaded},
                     units);
}

std::string stand_schema() {
  return schema_of("What `totebench stand` found (stand.json)", stand_fields());
}

}  // namespace totebench::app
