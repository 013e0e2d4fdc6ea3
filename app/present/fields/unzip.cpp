// unzip.json, and the table of some of the breaks.
#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "app/present/fields/findings.hpp"
#include "app/present/fields/schemas.hpp"
#include "app/present/unzip_report.hpp"
#include "totebench/scenes/unit_text.hpp"

namespace totebench::app {
namespace {

constexpr std::size_t kFirstRows = 3;
constexpr std::size_t kRowsBetween = 8;

struct Unzipped {
  const scenes::Scene& scene;
  const studies::Unzipping& result;
  [[nodiscard]] double load_kg(const studies::Break& b) const {
    return b.load_factor * scene.contents.mass_kg;
  }
  struct Nearest {
    const studies::NearestFastening& of;
    double set_mass_kg;
  };
  [[nodiscard]] std::optional<Nearest> nearest(const studies::NearestFastening& of) const {
    if (of.site.empty()) return std::nullopt;
    return Nearest{of, scene.contents.mass_kg};
  }
};

const Fields<Unzipped::Nearest>& nearest_fields() {
  using N = Unzipped::Nearest;
  static const auto fields =
      Fields<N>("nearest_fastening", "A fastening that still holds.")
          .value(
              "strap_end", [](const N& n) { return n.of.site; }, "Of which strap end.")
          .value(
              "load_kg", [](const N& n) { return n.of.load_factor * n.set_mass_kg; },
              "Mass of the contents.")
          .value(
              "share", [](const N& n) { return n.of.share; }, "Of its strength used; 1 = it goes.")
          .value(
              "load_in_proportion_kg",
              [](const N& n) { return n.of.load_in_proportion() * n.set_mass_kg; },
              "Mass at which it would go if its pull kept in proportion.");
  return fields;
}

struct OneBreak {
  const Unzipped& of;
  const studies::Break& broke;
  [[nodiscard]] std::size_t number() const {
    return static_cast<std::size_t>(&broke - of.result.breaks.data()) + 1;
  }
  [[nodiscard]] std::size_t number_at_its_end() const {
    const auto its_end = [&](const studies::Break& b) { return b.site == broke.site; };
    return static_cast<std::size_t>(std::count_if(of.result.breaks.data(), &broke + 1, its_end));
  }
};

std::vector<OneBreak> told_breaks(const Unzipped& u) {
  std::vector<OneBreak> list;
  for (const studies::Break& b : u.result.breaks) list.push_back({u, b});
  return list;
}

const Fields<OneBreak>& break_fields() {
  using B = OneBreak;
  const auto broke = [](auto member) { return [member](const B& b) { return b.broke.*member; }; };
  static const auto fields =
      Fields<B>("break", "A fastening that went.")
          .shown("break", &B::number)
          .value("strap_end", broke(&studies::Break::site), "Of which strap end.")
          .shown("strap end")
          .value("number_at_its_end", &B::number_at_its_end,
                 "Its number among the breaks of that end, from 1, as in the drawing of it.")
          .shown("of its end")
          .value(
              "below_first_row_m", [](const B& b) { return b.broke.place_m.x(); },
              "Its place along the strap.")
          .shown("below first row")
          .value(
              "beside_centre_m", [](const B& b) { return b.broke.place_m.y(); },
              "Its place across the strap.")
          .shown("beside centre")
          .choice(
              "by", {"cloth", "fastening"},
              [](const B& b) { return b.broke.by_cloth ? "cloth" : "fastening"; },
              "cloth: torn out of it; fastening: its thread or rivet parted.")
          .shown("how", [](const B& b) { return how_it_went(b.of.scene, b.broke); })
          .value(
              "load_kg", [](const B& b) { return b.of.load_kg(b.broke); },
              "Mass of the contents at which it goes with all before it gone.")
          .shown("load")
          .value("pull_N", broke(&studies::Break::force_N), "What it carried.")
          .shown("pull")
          .value("sunk_before_m", broke(&studies::Break::sink_before_m),
                 "How far the contents have sunk from where they hang at the set load.")
          .value("sunk_after_m", broke(&studies::Break::sink_after_m), "The same without it.")
          .shown("contents sunk")
          .value("stored_in_it_J", broke(&studies::Break::own_J), "Stored in the fastening.")
          .value(
              "set_free_J",
              [](const B& b) {
                return b.of.result.energy_known ? std::optional(b.broke.set_free_J) : std::nullopt;
              },
              "Set free by the break in all. Absent where it is not known.")
          .shown("set free", [](const B& b, const std::string& units) {
            return scenes::energy_text(b.broke.set_free_J, units);
          });
  return fields;
}

std::vector<std::size_t> rows_shown(const studies::Unzipping& result) {
  const std::size_t n = result.breaks.size();
  std::set<std::size_t> rows;
  for (std::size_t i = 0; i < std::min(kFirstRows, n); ++i) rows.insert(i);
  for (std::size_t k = 1; k <= kRowsBetween && n > 0; ++k) rows.insert(k * (n - 1) / kRowsBetween);
  if (n > 0) rows.insert(result.last_held());
  return {rows.begin(), rows.end()};
}

const Fields<studies::Unzipping>& energy_fields() {
  using R = studies::Unzipping;
  static const auto fields =
      Fields<R>("energy", "From the first break to the last.")
          .value("work_J", &R::work_J,
                 "Of the contents' weight, from loads and displacements alone.")
          .value("stored_J", &R::stored_J, "Rise of what bag and load have stored.")
          .value("set_free_J", &R::set_free_J, "By all breaks.")
          .value("jumped_J", &R::jumped_J, "Set free by jumps of the shape between breaks.")
          .value("imbalance_J", &R::imbalance_J, "Work less all the others.");
  return fields;
}

Fields<Unzipped> made_unzip_fields() {
  using U = Unzipped;
  auto fields = result_fields<U>("unzip", "How a strap's end comes off.", "unzip",
                                 [](const U& x) { return x.scene.name; });
  fields
      .value(
          "set_mass_kg", [](const U& u) { return u.scene.contents.mass_kg; },
          "Mass of the contents in the scene.")
      .value(
          "end_off", [](const U& u) { return u.result.end_off; },
          "The strap end that came off; empty = none.")
      .value(
          "fastenings_of_end", [](const U& u) { return u.result.fastenings_of_end; },
          "Stitches or rivets it had.")
      .value(
          "why_ended", [](const U& u) { return u.result.why_ended; },
          "Why it ended where no end came off.")
      .value(
          "interrupted", [](const U& u) { return u.result.interrupted; }, "Stopped on request.")
      .object(
          "nearest_at_set_mass", [](const U& u) { return u.nearest(u.result.nearest_at_set); },
          nearest_fields(),
          "The fastening nearest to its strength hanging still. Absent where no strength is known.")
      .object(
          "nearest_at_largest_mass", [](const U& u) { return u.nearest(u.result.nearest); },
          nearest_fields(), "The same at the largest mass looked at before the first break.")
      .list("breaks", told_breaks, break_fields(), "In their order.")
      .value(
          "most_held_kg",
          [](const U& u) -> std::optional<double> {
            if (u.result.breaks.empty()) return std::nullopt;
            return u.load_kg(u.result.breaks[u.result.last_held()]);
          },
          "Largest mass held on the way. Absent without a break.")
      .object(
          "energy", [](const U& u) { return u.result.energy_known ? &u.result : nullptr; },
          energy_fields(), "Absent where it is not known: contents that press like a heap.")
      .value(
          "cautions", [](const U& u) { return unzip_cautions(u.result); },
          "What limits these numbers.");
  return fields;
}

const Fields<Unzipped>& unzip_fields() {
  static const Fields<Unzipped> fields = made_unzip_fields();
  return fields;
}

}  // namespace

std::string unzip_json(const scenes::Scene& scene, const studies::Unzipping& result) {
  return file_of(unzip_fields(), Unzipped{scene, result});
}

TextTable unzip_table(const scenes::Scene& scene, const studies::Unzipping& result,
                      const std::string& units) {
  const Unzipped unzipped{scene, result};
  std::vector<OneBreak> shown;
  for (const std::size_t i : rows_shown(result)) shown.push_back({unzipped, result.breaks[i]});
  TextTable table = shown_table(break_fields(), shown, units);
  if (!result.energy_known) {
    for (auto& row : table) row.pop_back();  // what is set free
  }
  return table;
}

std::string unzip_schema() {
  return schema_of("What `totebench unzip` found (unzip.json)", unzip_fields());
}

}  // namespace totebench::app
