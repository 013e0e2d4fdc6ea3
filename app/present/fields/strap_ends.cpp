// strap_ends.json, and the table of the ways to sew a strap on.
#include <fmt/format.h>

#include "app/present/fields/findings.hpp"
#include "app/present/fields/schemas.hpp"
#include "app/present/strap_ends_report.hpp"
#include "totebench/scenes/unit_text.hpp"

namespace totebench::app {
namespace {

struct ToldEnds {
  const scenes::Scene& scene;
  const studies::StrapEnds& result;
};

struct ToldEnd {
  const studies::StrapEnd& end;
  double set_mass_kg;
  [[nodiscard]] bool known() const { return end.known(); }
  [[nodiscard]] bool stitched() const { return end.thread_m > 0; }
};

std::vector<ToldEnd> told_ends(const studies::StrapEnds& r) {
  std::vector<ToldEnd> list;
  for (const studies::StrapEnd& end : r.ends) list.push_back({end, r.set_mass_kg});
  return list;
}

std::string minutes_text(double seconds) { return fmt::format("{:.1f} min", seconds / 60); }

const Fields<ToldEnd>& strap_end_fields() {
  using T = ToldEnd;
  using E = studies::StrapEnd;
  const auto end = [](auto member) {
    return [member](const T& t) { return std::invoke(member, t.end); };
  };
  const char* when = "where it is known";
  static const auto fields =
      Fields<T>("attachment", "One way to sew the strap on.")
          .value("name", end(&E::name), "Which.")
          .shown("sewn on",
                 [](const T& t) { return t.end.name + (t.end.in_scene ? " (the scene's)" : ""); })
          .value("in_scene", end(&E::in_scene), "The scene has it so.")
          .object(
              "nearest", [](const T& t) { return t.known() ? &t.end.nearest : nullptr; },
              utilisation_fields(),
              "The part of a strap's end nearest to its strength, with the set mass.")
          .shown("of its strength used",
                 [](const T& t) { return scenes::rough_text(100 * t.end.nearest.ratio) + " %"; })
          .shown_if(&T::known)
          .object(
              "fails",
              [](const T& t) { return t.end.fails.found ? &t.end.fails.governing : nullptr; },
              utilisation_fields(),
              "The part of a strap's end that reaches its strength first. Absent where none did.")
          .shown("first to go there",
                 [](const T& t) {
                   if (!t.known()) return t.end.why_not;
                   return t.end.fails.found ? t.end.fails.governing.what : "nothing";
                 })
          .value(
              "fails_at_kg", [](const T& t) { return t.end.fails.load_factor * t.set_mass_kg; },
              "Mass of the contents at which it does; where none did, the largest held.")
          .only_if(&T::known, when)
          .shown("at about",
                 [](const T& t, const std::string& units) {
                   return (t.end.fails.found ? "" : "above ") +
                          scenes::mass_text(t.end.fails.load_factor * t.set_mass_kg, units);
                 })
          .shown_if(&T::known)
          .value("fastenings", end(&E::fastenings), "Stitches or rivets of one end.")
          .only_if(&T::known, when)
          .value("thread_m", end(&E::thread_m), "Thread of one end; 0 for rivets. An estimate.")
          .only_if(&T::known, when)
          .shown("thread an end",
                 [](const T& t, const std::string& units) {
                   if (!t.stitched()) return std::string("none");
                   constexpr double kYard_m = 0.9144;
                   return units == "in" ? scenes::rough_text(t.end.thread_m / kYard_m) + " yd"
                                        : scenes::rough_text(t.end.thread_m) + " m";
                 })
          .shown_if(&T::known)
          .value("sewing_s", end(&E::sewing_s), "Time to sew one end. An estimate.")
          .only_if(&T::known, when)
          .shown("sewing an end", [](const T& t) { return minutes_text(t.end.sewing_s); })
          .shown_if(&T::known)
          .value("why_not", end(&E::why_not), "Why it is not known.")
          .only_if([](const T& t) { return !t.known(); }, "where it is not");
  return fields;
}

Fields<ToldEnds> made_strap_ends_fields() {
  using T = ToldEnds;
  auto fields = result_fields<T>("strap_ends", "Ways to sew the strap on, side by side.",
                                 "strap_ends", [](const T& x) { return x.scene.name; });
  fields
      .value(
          "set_mass_kg", [](const T& t) { return t.result.set_mass_kg; },
          "Mass of the contents in the scene.")
      .list(
          "attachments", [](const T& t) { return told_ends(t.result); }, strap_end_fields(),
          "The strongest first.")
      .value(
          "interrupted", [](const T& t) { return t.result.interrupted; }, "Stopped on request.")
      .value(
          "seconds", [](const T& t) { return t.result.seconds; },
          "Wall-clock time of the whole study.")
      .value(
          "cautions", [](const T&) { return strap_ends_cautions(); }, "What limits these numbers.");
  return fields;
}

const Fields<ToldEnds>& strap_ends_fields() {
  static const Fields<ToldEnds> fields = made_strap_ends_fields();
  return fields;
}

}  // namespace

std::string strap_ends_json(const scenes::Scene& scene, const studies::StrapEnds& result) {
  return file_of(strap_ends_fields(), ToldEnds{scene, result});
}

TextTable strap_ends_table(const studies::StrapEnds& result, const std::string& units) {
  return shown_table(strap_end_fields(), told_ends(result), units);
}

std::string strap_ends_schema() {
  return schema_of("What `totebench strap-ends` found (strap_ends.json)", strap_ends_fields());
}

}  // namespace totebench::app
