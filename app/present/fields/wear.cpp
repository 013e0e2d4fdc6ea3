// wear.json, and the tables of what wears through and of how the bag hangs by then.
#include <fmt/format.h>

#include "app/present/fields/findings.hpp"
#include "app/present/fields/schemas.hpp"
#include "app/present/wear_report.hpp"
#include "totebench/scenes/unit_text.hpp"

namespace totebench::app {
namespace {

struct Worn {
  const scenes::Scene& scene;
  const studies::WearResult& result;
};

const Fields<studies::WearMode>& wear_mode_fields() {
  using M = studies::WearMode;
  const auto percent = [](double M::*share) {
    return [share](const M& m) { return fmt::format("{:.0f} %", 100 * (m.*share)); };
  };
  static const auto fields =
      Fields<M>("wear_mode", "One way to wear through.")
          .value("mode", &M::mode, "Short name of the mode.")
          .value("what", &M::what, "The same in words, with the place.")
          .shown("wears through")
          .value("share_still", &M::share_still,
                 "Share of the typical strength that hanging still takes.")
          .shown("hanging", percent(&M::share_still))
          .value("share_walking", &M::share_walking, "At the peak of a step.")
          .shown("walking", percent(&M::share_walking))
          .value("share_lifted", &M::share_lifted, "At the peak of being picked up.")
          .shown("picked up", percent(&M::share_lifted))
          .value("uses", &M::uses, "Uses until it wears through, by typical data.")
          .shown("uses", [](const M& m) { return uses_text(m.uses); })
          .value("uses_low", &M::uses_low, "With all data at the weak end.")
          .shown("band", [](const M& m) { return uses_band_text(m); })
          .value("uses_high", &M::uses_high, "With all data at the strong end.")
          .value("grade", &M::grade, "Of the weaker of strength and slope.")
          .shown("data");
  return fields;
}

const Fields<scenes::Findings>& fresh_fields() {
  using F = scenes::Findings;
  static const auto fields = Fields<F>("new", "The new bag, loaded.")
                                 .value("bottom_sag_m", &F::bottom_sag_m, "Bottom sag.")
                                 .value("strap_drop_m", &F::strap_drop_loaded_m, "Strap drop.");
  return fields;
}

const Fields<studies::AgedShape>& aged_fields() {
  using A = studies::AgedShape;
  static const auto fields =
      Fields<A>("aged", "The bag after some time of this use, loaded.")
          .value("after", &A::after, "In words.")
          .shown("after")
          .value("days", &A::days, "In days.")
          .value("loaded_s", &A::loaded_s, "In all, hanging loaded.")
          .shown("hung loaded for",
                 [](const A& a) {
                   const double hours = a.loaded_s / 3600;
                   return hours < 1 ? scenes::time_text(a.loaded_s)
                                    : scenes::rough_text(hours) + " h";
                 })
          .shown_if([](const A& a) { return a.days > 0; })
          .value("bottom_sag_m", &A::bottom_sag_m, "From where the new bag hung empty.")
          .shown_with_unit("bottom sag")
          .value("strap_drop_m", &A::strap_drop_m, "Strap drop.")
          .shown_with_unit("strap drop");
  return fields;
}

struct Limp {
  double bending_share, bottom_sag_m;
};

const Fields<Limp>& limp_fields() {
  static const auto fields =
      Fields<Limp>("limp_stabilizer", "The new bag with stabilizers softened by flexing.")
          .value("bending_share", &Limp::bending_share, "What is left of their bending rigidity.")
          .value("bottom_sag_m", &Limp::bottom_sag_m, "Bottom sag.");
  return fields;
}

struct CarryTest {
  int uses;
  studies::Verdict verdict;
};

const Fields<CarryTest>& carry_test_fields() {
  static const auto fields =
      Fields<CarryTest>("carry_test", "The carry test that the scene asks for.")
          .value("uses", &CarryTest::uses, "Uses to endure.")
          .choice(
              "result", {"pass", "fail", "not decided"},
              [](const CarryTest& t) {
                switch (t.verdict) {
                  case studies::Verdict::kEndures:
                    return "pass";
                  case studies::Verdict::kFails:
                    return "fail";
                  default:
                    return "not decided";
                }
              },
              "By these data.");
  return fields;
}

Fields<Worn> made_wear_fields() {
  using W = Worn;
  const auto result = [](auto member) { return [member](const W& w) { return w.result.*member; }; };
  using R = studies::WearResult;
  auto fields = result_fields<W>("wear", "What a year of carrying does to a bag.", "wear",
                                 [](const W& x) { return x.scene.name; });
  fields.value("steps_a_use", result(&R::steps_a_use), "Steps of each use.")
      .value("walking_factor", result(&R::walking_factor),
             "Peak force on the hand over the weight, walking.")
      .value("walking_stitch_factor", result(&R::walking_stitch_factor),
             "Peak force on a stitch over that hanging still, walking.")
      .value("lifted_factor", result(&R::lifted_factor),
             "Peak force on the hand over the weight, picked up.")
      .value("lifted_stitch_factor", result(&R::lifted_stitch_factor),
             "Peak force on a stitch over that hanging still, picked up.")
      .constant("most_uses", studies::kMostUses, "Beyond it the data say nothing.")
      .list("modes", result(&R::modes), wear_mode_fields(), "First to go first.")
      .object(
          "new", [](const W& w) -> const scenes::Findings& { return w.result.fresh.findings; },
          fresh_fields(), "How the new bag hangs.")
      .list("aged", result(&R::shapes), aged_fields(), "How it hangs by then.")
      .object(
          "limp_stabilizer",
          [](const W& w) -> std::optional<Limp> {
            if (!w.result.softened_sag_m) return std::nullopt;
            return Limp{studies::kSoftenedShare, *w.result.softened_sag_m};
          },
          limp_fields(), "Where the bag has a stabilizer: if flexing softened it.")
      .object(
          "carry_test",
          [](const W& w) -> std::optional<CarryTest> {
            if (!w.result.carry_test) return std::nullopt;
            return CarryTest{w.scene.use.uses, *w.result.carry_test};
          },
          carry_test_fields(), "Where the scene asks for a carry test: what comes of it.")
      .value(
          "cautions", [](const W& w) { return wear_cautions(w.result); },
          "What limits these numbers.");
  return fields;
}

const Fields<Worn>& wear_fields() {
  static const Fields<Worn> fields = made_wear_fields();
  return fields;
}

}  // namespace

std::string wear_json(const scenes::Scene& scene, const studies::WearResult& result) {
  return file_of(wear_fields(), Worn{scene, result});
}

TextTable wear_table(const studies::WearResult& result, const std::string& units) {
  return shown_table(wear_mode_fields(), result.modes, units);
}

TextTable aged_table(const studies::WearResult& result, const std::string& units) {
  const scenes::Findings& found = result.fresh.findings;
  const studies::AgedShape fresh{"new", 0, 0, true, found.bottom_sag_m, found.strap_drop_loaded_m};
  TextTable table = shown_table(aged_fields(), result.shapes, units);
  table.insert(table.begin() + 1, shown_row(aged_fields(), fresh, units));
  return table;
}

std::string wear_schema() {
  return schema_of("What `totebench wear` found (wear.json)", wear_fields());
}

}  // namespace totebench::app
