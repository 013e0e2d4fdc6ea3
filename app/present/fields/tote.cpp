// findings.json of a tote, and the table of its strap seams.
#include <fmt/format.h>

#include <cmath>
#include <numbers>

#include "app/present/fields/findings.hpp"
#include "app/present/hang_report.hpp"
#include "app/present/text_table.hpp"
#include "totebench/scenes/unit_text.hpp"
#include "totebench/studies/likely_range.hpp"

namespace totebench::app {
namespace {

constexpr const char* kNoRest = "when there is no equilibrium";

const Fields<ToteFindings>& tote_balance_fields() {
  using T = ToteFindings;
  static const auto fields =
      Fields<T>("tote_balance", "Weight in against reaction out.")
          .value(
              "weight_N", [](const T& t) { return t.found().weight_N; }, "Bag and contents.")
          .value(
              "bag_mass_kg", [](const T& t) { return t.found().bag_mass_kg; }, "The empty bag.")
          .value(
              "support_reaction_N", [](const T& t) { return t.found().loaded.reaction_N; },
              "Total force of the supports.")
          .value(
              "relative_error",
              [](const T& t) -> std::optional<double> {
                const double weight_N = t.found().weight_N;
                if (!t.at_rest() || !(weight_N > 0)) return std::nullopt;
                return (t.found().loaded.reaction_N - Eigen::Vector3d(0, 0, weight_N)).norm() /
                       weight_N;
              },
              "Size of the difference over the load.")
          .or_null(kNoRest);
  return fields;
}

const Fields<studies::HangResult>& mesh_change_fields() {
  using R = studies::HangResult;
  static const auto fields = [] {
    auto made =
        Fields<R>("mesh_change", "How far the headlines move from a mesh of longer edges.")
            .value(
                "triangles_before", [](const R& r) { return studies::mesh_before(r)->triangles; },
                "Triangles of the mesh compared with.");
    for (const scenes::Figure& figure : scenes::kFigures) {
      if (!figure.headline()) continue;
      const std::string doc = std::string("Change of: ") + figure.name + ".";
      const auto change = [&figure](const R& r) { return studies::mesh_change(r, figure); };
      if (figure.likely_from == scenes::LikelyFrom::kMaterials) {
        made.value(
            figure.key, [change](const R& r) { return change(r).value(); }, doc);
      } else {
        made.value(figure.key, change,
                   doc + " Absent where the coarser mesh is not refined there.");
      }
    }
    return made;
  }();
  return fields;
}

const Fields<studies::Driver>& range_driver_fields() {
  using D = studies::Driver;
  static const auto fields =
      Fields<D>("driver", "A number of the material library that a likely range comes from.")
          .value("input", &D::input, "Which one.")
          .value("share", &D::share, "Of the sum of squares, 0 to 1.");
  return fields;
}

struct KnownRange {
  studies::Range range;
  std::vector<studies::Driver> from;
};

const Fields<KnownRange>& range_fields(bool with_drivers) {
  const auto made = [](const std::string& name) {
    return Fields<KnownRange>(name, "In the unit of the key.")
        .value(
            "low", [](const KnownRange& r) { return r.range.low; }, "Low end.")
        .value(
            "high", [](const KnownRange& r) { return r.range.high; }, "High end.");
  };
  static const auto plain = made("range");
  static const auto driven =
      made("range_of_data")
          .list("from", &KnownRange::from, range_driver_fields(), "What it comes from.");
  return with_drivers ? driven : plain;
}

std::optional<KnownRange> known_range(const studies::HangResult& result,
                                      const scenes::Figure& figure) {
  const std::optional<studies::Range> range = studies::likely_range(result, figure);
  if (!range) return std::nullopt;
  KnownRange known{*range, {}};
  if (figure.likely_from == scenes::LikelyFrom::kMaterials) {
    known.from = studies::drivers(*result.data_scatter, figure);
  }
  return known;
}

const Fields<studies::HangResult>& likely_range_fields() {
  using R = studies::HangResult;
  static const auto fields = [] {
    Fields<R> made("likely_range", "By headline.");
    for (const scenes::Figure& figure : scenes::kFigures) {
      if (!figure.headline() || figure.likely_from == scenes::LikelyFrom::kNotKnown) continue;
      const bool by_data = figure.likely_from == scenes::LikelyFrom::kMaterials;
      made.object(
          figure.key, [&figure](const R& r) { return known_range(r, figure); },
          range_fields(by_data),
          by_data
              ? "Where nine in ten such bags have it by the scatter of the material data, with "
                "what the mesh changes on top."
              : "With stitches half and twice as stiff as estimated, with what the mesh changes "
                "on top.");
    }
    return made;
  }();
  return fields;
}

const Fields<studies::Circumstance>& circumstance_fields() {
  using C = studies::Circumstance;
  static const auto fields = [] {
    Fields<C> made("circumstance", "What is changed, and what that does on the coarse mesh.");
    made.value("what", &C::what, "What is changed, alone.");
    for (const scenes::Figure& figure : scenes::kFigures) {
      if (!figure.headline()) continue;
      made.value(
              figure.key,
              [&figure](const C& c) -> std::optional<double> {
                if (!c.moved) return std::nullopt;
                return (*c.moved)[scenes::place_of(figure)];
              },
              std::string("By how much that moves it: ") + figure.name + ".")
          .or_null("where no such bag came to rest");
    }
    return made;
  }();
  return fields;
}

const Fields<scenes::ThingFinding>& thing_fields() {
  using T = scenes::ThingFinding;
  constexpr double kDegrees = 180 / std::numbers::pi;
  static const auto fields =
      Fields<T>("thing", "A thing in the bag as it came to rest.")
          .value("what", &T::what, "What it is.")
          .shown("in the bag")
          .value(
              "at_m", &T::at_m,
              "Its middle: along the bag's width and depth from its middle, and above its lowest "
              "point.")
          .value(
              "leans_deg", [](const T& t) { return kDegrees * t.leans_rad; },
              "Off the way it was put in. A turn about the vertical is no lean.")
          .shown("leans",
                 [](const T& t) { return fmt::format("{:.0f} deg", kDegrees * t.leans_rad); })
          .value("moved_m", &T::moved_m, "Sideways, from where it was put in.")
          .shown_with_unit("moved sideways");
  return fields;
}

const Fields<scenes::StrapSeamFinding>& strap_seam_fields() {
  using S = scenes::StrapSeamFinding;
  static const auto fields =
      Fields<S>("strap_seam", "A strap's end on its panel.")
          .value("name", &S::name, "Which strap end.")
          .shown("strap seam")
          .value("force_N", &S::force_N, "Total force of the strap on the panel.")
          .shown("pull", [](const S& s) { return s.force_N.norm(); })
          .value("peak_N_per_m", &S::peak_N_per_m, "Largest stitch force over the stitch length.")
          .value("mean_N_per_m", &S::mean_N_per_m, "Total force over the length of stitching.")
          .value("peak_stitch_N", &S::peak_stitch_N, "Largest force on one stitch.")
          .shown_with_unit("peak stitch")
          .value("mean_stitch_N", &S::mean_stitch_N, "Mean size of the force on a stitch.")
          .shown_with_unit("mean stitch")
          .value("peak_stitch", &S::peak_stitch, "Number of that stitch in stitches.vtp, from 0.")
          .value("shear_along_N_per_m", &S::shear_along_N_per_m,
                 "Part of the mean line force along the strap.")
          .shown("along")
          .value("shear_across_N_per_m", &S::shear_across_N_per_m, "Across it, in the panel.")
          .shown("across")
          .value("peel_N_per_m", &S::peel_N_per_m,
                 "Out of the panel; positive lifts the strap off.")
          .shown("peel")
          .value("panel_force_N_per_m", &S::panel_force_N_per_m,
                 "Hardest pull in the panel beside it, whichever way it runs.");
  return fields;
}

const Fields<scenes::Findings::OtherShape>& other_shape_fields() {
  using O = scenes::Findings::OtherShape;
  const auto tried = [](const O& o) { return o.starts_tried > 0; };
  const char* when_tried = "where starts were tried";
  const char* when_found = "where one was found";
  static const auto fields =
      Fields<O>("other_shape",
                "Search for a second stable shape from shaken starts, on the coarse mesh.")
          .value("starts_tried", &O::starts_tried, "0 when nobody looked.")
          .value("found", &O::found, "Another stable shape exists.")
          .value("sag_low_m", &O::sag_low_m, "Least bottom sag over all starts.")
          .only_if(tried, when_tried)
          .value("sag_high_m", &O::sag_high_m, "Largest bottom sag.")
          .only_if(tried, when_tried)
          .value("bottom_sag_m", &O::bottom_sag_m, "Its bottom sag.")
          .only_if(&O::found, when_found)
          .value("strap_drop_m", &O::strap_drop_m, "Its strap drop, loaded.")
          .only_if(&O::found, when_found)
          .value("energy_J", &O::energy_J, "Its energy.")
          .only_if(&O::found, when_found)
          .value("energy_of_first_J", &O::energy_of_first_J,
                 "Energy of the reported shape on the same mesh.")
          .only_if(&O::found, when_found);
  return fields;
}

Solve tote_solve(const ToteFindings& t) {
  const scenes::Findings& found = t.found();
  const studies::HangResult& r = t.result;
  return {found.loaded, r.effort,
          t.at_rest() ? found.empty.stable && found.loaded.stable : found.loaded.stable,
          r.stopped_early || r.ranges_stopped || found.interrupted()};
}

std::vector<Expected> tote_expectations(const ToteFindings& t) {
  std::vector<Expected> list;
  for (const scenes::Expectation& expectation : t.scene.expect) {
    double value = std::nan("");
    for (const scenes::Figure& figure : scenes::kFigures) {
      if (t.at_rest() && figure.expect_key != nullptr && figure.key == expectation.key) {
        value = figure.value(t.found());
      }
    }
    list.push_back({expectation, value});
  }
  return list;
}

void add_figures(Fields<ToteFindings>& fields, bool headlines) {
  for (const scenes::Figure& figure : scenes::kFigures) {
    if (!figure.is_told(scenes::kToldInFile) || figure.headline() != headlines) continue;
    fields
        .value(
            figure.key,
            [&figure](const ToteFindings& t) {
              return t.at_rest() ? std::optional(figure.value(t.found())) : std::nullopt;
            },
            capital(figure.meaning) + ".")
        .or_null(kNoRest);
  }
}

bool has_ranges(const ToteFindings& t) {
  if (!t.at_rest()) return false;
  for (const scenes::Figure& figure : scenes::kFigures) {
    if (figure.headline() && studies::likely_range(t.result, figure)) return true;
  }
  return false;
}

template <class List>
auto at_rest_only(List scenes::Findings::*list) {
  return [list](const ToteFindings& t) { return t.at_rest() ? t.found().*list : List(); };
}

Fields<ToteFindings> made_tote_fields() {
  using T = ToteFindings;
  auto fields = result_fields<T>("tote", "A tote, hung empty and loaded.", "tote",
                                 [](const T& x) { return x.scene.name; });
  fields
      .choice(
          "status", {"converged", "not_converged"},
          [](const T& t) { return t.at_rest() ? "converged" : "not_converged"; },
          "converged: everything below is at equilibrium. not_converged: the numbers that would "
          "need it are null, and the files hold the last good state.")
      .object(
          "mesh",
          [](const T& t) {
            return Mesh{t.found().triangles, t.found().vertices,
                        t.found().loaded.degrees_of_freedom};
          },
          mesh_fields(), "The mesh the numbers belong to.")
      .object("solve", tote_solve, solve_fields(), "How it was solved.")
      .object(
          "balance", [](const T& t) -> const T& { return t; }, tote_balance_fields(),
          "Weight in against reaction out.")
      .value(
          "hung_for_s", [](const T& t) { return t.found().hung_for_s; },
          "How long the bag has hung loaded when it is as the numbers say: what creeps is as stiff "
          "as after so long under load. 0 where nothing of it has creep data.")
      .value(
          "peak_stitch_band_N",
          [](const T& t) -> std::optional<std::array<double, 2>> {
            const auto& band = t.result.stitch_band;
            if (!band) return std::nullopt;
            return std::array<double, 2>{band->low_N, band->high_N};
          },
          "Least and largest force on the hardest pulled stitch with stitches half and twice as "
          "stiff as estimated. Absent where that was not computed.")
      .object(
          "mesh_change",
          [](const T& t) {
            return t.at_rest() && studies::mesh_before(t.result) != nullptr ? &t.result : nullptr;
          },
          mesh_change_fields(), "How far the headlines move from a mesh of longer edges.")
      .or_null("when there is no equilibrium or no such mesh")
      .object(
          "likely_range", [](const T& t) { return has_ranges(t) ? &t.result : nullptr; },
          likely_range_fields(), "By headline. Absent where that was not computed.")
      .list(
          "circumstances",
          [](const T& t) {
            return t.result.circumstances.value_or(std::vector<studies::Circumstance>{});
          },
          circumstance_fields(),
          "What moves the headlines beside the materials, most easily chosen first. Empty where "
          "that was not computed.");
  add_figures(fields, true);
  fields
      .value(
          "peak_panel_where",
          [](const T& t) {
            return t.at_rest() ? std::optional(t.found().peak_panel_where) : std::nullopt;
          },
          "Panel and region of that peak.")
      .or_null(kNoRest);
  add_figures(fields, false);
  fields
      .list("strap_seams", at_rest_only(&scenes::Findings::strap_seams), strap_seam_fields(),
            "One entry a strap end. Empty when there is no equilibrium.")
      .list("things", at_rest_only(&scenes::Findings::things), thing_fields(),
            "What lies in the bag, in the order in which it was put in; for items only.")
      .list("utilisation", at_rest_only(&scenes::Findings::utilisation), utilisation_fields(),
            "The part nearest to its strength first. Empty when there is no equilibrium.")
      .value(
          "surface_crossings", [](const T& t) { return t.found().surface_crossings; },
          "Pairs of triangles that pass through each other in the loaded state: with any, the "
          "state "
          "is no answer (not_converged).")
      .value(
          "surface_crossings_where", [](const T& t) { return t.found().surface_crossings_where; },
          "Which parts cross.")
      .value(
          "unseen_wrinkles", [](const T& t) { return t.found().unseen_wrinkles; },
          "Share of the area that is pressed together harder than any wrinkle that the mesh can "
          "show would bear.")
      .object(
          "other_shape", [](const T& t) { return t.found().other_shape; }, other_shape_fields(),
          "Search for a second stable shape.")
      .list(
          "jumps", [](const T& t) { return t.result.jumps; }, jump_fields(),
          "Where the bag snapped into another shape while the load rose. Empty where it did not, "
          "or where a wall popped and neither sag nor strap drop changed.")
      .list("expectations", tote_expectations, expected_fields(),
            "What the scene expects of its own result.")
      .value(
          "cautions", [](const T& t) { return t.found().cautions; }, "What limits these numbers.");
  return fields;
}

}  // namespace

TextTable seam_rows(const scenes::Findings& found, const std::string& units) {
  return shown_table(strap_seam_fields(), found.strap_seams, units);
}

TextTable thing_rows(const scenes::Findings& found, const std::string& units) {
  return shown_table(thing_fields(), found.things, units);
}

const Fields<ToteFindings>& tote_fields() {
  static const Fields<ToteFindings> fields = made_tote_fields();
  return fields;
}

}  // namespace totebench::app
