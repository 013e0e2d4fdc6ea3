// Keys of a swatch file: what was measured on one cloth.
#include "totebench/scenes/swatch.hpp"

#include "scenes/format/keys/build.hpp"

namespace totebench::scenes {
namespace keys {
namespace {

constexpr const char* kAstm = "ASTM D1388, from memory";

template <class T>
Build readings(const std::string& name, std::vector<double> T::*m, Dimension d,
               const std::string& doc) {
  return Build(name, KeyType::kReadings, doc).unit(d).at(member(m));
}

const KeyTable& mass_keys() {
  static const KeyTable table = {
      "mass test",
      "A square that was weighed.",
      {length("side", &MassTest::side_m, "Side of the square.")
           .usual("5 cm", "1 m")
           .limits("1 cm", "5 m"),
       Build("pieces", KeyType::kInteger, "Squares weighed together.")
           .at(member(&MassTest::pieces))
           .defaults("1", kOurs)
           .limits("1", "1000"),
       readings("mass", &MassTest::mass_kg, Dimension::kMass, "Reading of the scale.")
           .limits("0.01 g", "9 kg")
           .when_too_low("weigh a larger square, or several together (\"pieces\")")}};
  return table;
}

const KeyTable& thickness_keys() {
  static const KeyTable table = {
      "thickness test",
      "A pile of plies, smoothed by hand, that was measured.",
      {Build("plies", KeyType::kInteger, "Plies in the pile.")
           .at(member(&ThicknessTest::plies))
           .limits("1", "1000"),
       readings("height", &ThicknessTest::height_m, Dimension::kLength, "Height of the pile.")
           .limits("0.01 mm", "1 m")
           .when_too_low("measure a pile of more plies"),
       Build("error", KeyType::kQuantity, "Reading error of a caliper.")
           .unit(Dimension::kLength)
           .at(member(&ThicknessTest::error_m))
           .optional("that of the ruler")
           .limits("0.001 mm", "1 cm")}};
  return table;
}

Build direction_key() {
  return choice("direction", &StripTest::along, {"warp", "weft", "either"},
                {"the strip's length runs along the warp (parallel to the selvedge)",
                 "along the weft (across the cloth)", "the sheet is alike both ways"},
                "Which way the strip was cut.");
}

Build face_key() {
  return choice("face", &StripTest::face, {"right", "wrong", "not said"},
                {"right side of the cloth up (outside, for a loop)", "wrong side up", ""},
                "Which side was up. Test both: most cloth curls a little.")
      .defaults("not said", kOurs);
}

Build width_key() {
  return length("width", &StripTest::width_m, "Width of the strip.")
      .defaults("25 mm", kAstm)
      .usual("1 cm", "20 cm")
      .limits("2 mm", "1 m");
}

Build strip_key() {
  return length("strip", &StripTest::strip_length_m, "Length of the whole strip.")
      .defaults("200 mm", kAstm)
      .limits("2 cm", "3 m");
}

Build span(const std::string& name, const std::string& doc) {
  return length(name, &StripTest::span_m, doc).usual("4 cm", "1 m").limits("1 cm", "3 m");
}

Build reading(const std::string& name, const std::string& doc, const std::string& too_low) {
  return readings(name, &StripTest::reading_m, Dimension::kLength, doc)
      .limits("0.1 mm", "3 m")
      .when_too_low(too_low);
}

Build weight_key(const std::string& doc) {
  return quantity("weight", &StripTest::weight_kg, Dimension::kMass, doc);
}

constexpr const char* kDownwards = "give how far down it hangs, as a length above zero";

const KeyTable& overhang_keys() {
  static const KeyTable table = {
      "overhang test",
      "A strip pushed over an edge until its tip touches a slope.",
      {direction_key(), face_key(), width_key(), strip_key(),
       quantity("angle", &StripTest::angle_rad, Dimension::kAngle, "Slope below the horizontal.")
           .defaults("41.5 deg", kAstm)
           .limits("5 deg", "75 deg"),
       reading("overhang", "Length beyond the edge when the tip touches the slope.",
               "give the length of the strip beyond the edge")
           .usual("15 mm", "40 cm")}};
  return table;
}

const KeyTable& droop_keys() {
  static const KeyTable table = {
      "droop test",
      "A strip held on a table with a given length over the edge.",
      {direction_key(), face_key(), width_key(), strip_key(),
       span("overhang", "Length beyond the edge."),
       reading("drop", "How far the tip hangs below the table top.", kDownwards)}};
  return table;
}

const KeyTable& loop_keys() {
  static const KeyTable table = {
      "loop test",
      "A strip whose two ends are gripped together, pointing up, so that it hangs as a heart.",
      {direction_key(), face_key(), width_key(),
       span("length", "Length of the strip between the grips."),
       reading("height", "From the grip down to the lowest point of the loop.", kDownwards)}};
  return table;
}

const KeyTable& stretch_keys() {
  static const KeyTable table = {
      "stretch test",
      "A strip hung with a weight.",
      {direction_key(), width_key().defaults("5 cm", kOurs),
       span("gauge", "Distance of two pencil marks before the weight is hung on."),
       weight_key("Mass of what is hung on.").limits("1 g", "500 kg"),
       reading("extension", "How much further apart the marks are with the weight.",
               "give how much longer the gauge length became, above zero; when nothing can be seen "
               "hang on more, or mark a longer gauge length")}};
  return table;
}

const KeyTable& gap_keys() {
  static const KeyTable table = {
      "gap test",
      "A strip or sheet laid over a gap, with or without a weight across its middle.",
      {direction_key(), face_key(), width_key().usual("1 cm", "50 cm"),
       span("gap", "Distance of the two edges it rests on."),
       weight_key("Mass of what lies across the middle.")
           .defaults("0 kg", kOurs)
           .limits("0 kg", "100 kg"),
       reading("sag", "How far the middle hangs below the two edges.", kDownwards)}};
  return table;
}

Build tests(const std::string& name, std::vector<StripTest> Swatch::*m, StripTestKind kind,
            const KeyTable& table) {
  return Build(name, KeyType::kList, table.doc)
      .below(table)
      .optional("not tested")
      .at([m, kind](void* o) -> Slot {
        auto* list = &(static_cast<Swatch*>(o)->*m);
        ListSlot slot = list_slot(list);
        slot.append = [list, kind]() -> void* {
          list->emplace_back().kind = kind;
          return &list->back();
        };
        return slot;
      });
}

std::vector<Key> swatch_key_list() {
  return {
      Build("schema_version", KeyType::kInteger, "Version of this file format.")
          .at(member(&Swatch::schema_version))
          .limits("1", "1"),
      Build("kind", KeyType::kChoice, "Says that this is no scene.")
          .pick({"swatch"}, {"measurements on one cloth"})
          .at([](void* o) -> Slot {
            int* kind = &static_cast<Swatch*>(o)->kind;
            return ChoiceSlot{[kind](int i) { *kind = i; }, [kind] { return *kind; }};
          }),
      Build("name", KeyType::kText, "Name of the cloth, also of the material made from it.")
          .at(member(&Swatch::name)),
      Build("note", KeyType::kText, "Anything worth saying: where it is from, washed or not.")
          .at(member(&Swatch::note))
          .optional("nothing"),
      Build("units", KeyType::kText, "Units of the printed results: in, cm or si.")
          .at(member(&Swatch::units))
          .pick({"in", "cm", "si"})
          .defaults("cm", kOurs),
      Build("like", KeyType::kMaterial,
            "Library material nearest to it; gives what was not measured.")
          .at(member(&Swatch::like)),
      length("ruler", &Swatch::ruler_error_m, "Reading error of the ruler.")
          .defaults("1 mm", kOurs)
          .limits("0.01 mm", "1 cm"),
      quantity("scale", &Swatch::scale_error_kg, Dimension::kMass, "Reading error of the scale.")
          .defaults("1 g", kOurs)
          .limits("0.0001 g", "1 kg"),
      list("mass", &Swatch::mass, mass_keys(), mass_keys().doc).optional("that of like"),
      list("thickness", &Swatch::thickness, thickness_keys(), thickness_keys().doc)
          .optional("that of like"),
      tests("overhang", &Swatch::overhang, StripTestKind::kOverhang, overhang_keys()),
      tests("droop", &Swatch::droop, StripTestKind::kDroop, droop_keys()),
      tests("loop", &Swatch::loop, StripTestKind::kLoop, loop_keys()),
      tests("stretch", &Swatch::stretch, StripTestKind::kStretch, stretch_keys()),
      tests("gap", &Swatch::gap, StripTestKind::kGap, gap_keys())};
}

}  // namespace
}  // namespace keys

const KeyTable& swatch_keys() {
  static const KeyTable table = {"swatch", "A swatch file.", keys::swatch_key_list()};
  return table;
}

}  // namespace totebench::scenes
