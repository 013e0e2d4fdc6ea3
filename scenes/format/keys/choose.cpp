// Keys of the choice: what `totebench choose` chooses between, what for, within which limits.
#include "scenes/format/keys/build.hpp"

namespace totebench::scenes::keys {
namespace {

const KeyTable& alternative_keys() {
  static const KeyTable table = {
      "alternative",
      "One way to make a part of the bag.",
      {Build("name", KeyType::kText, "Short name of it, as in \"1 mm nonwoven\".")
           .any_text()
           .at(member(&Alternative::name)),
       Build("change", KeyType::kPatch,
             "What the scene becomes with it, written as in the scene itself: given keys replace "
             "those of the scene, null takes a key out. An object in place of a list changes the "
             "entries it numbers, from 1: { \"layers\": { \"upper\": { \"3\": null } } } leaves "
             "out the third layer. {} leaves the scene as it is.")
           .at(member(&Alternative::change)),
       Build("price", KeyType::kNumber, "What it costs you, in any currency.")
           .at(member(&Alternative::price))
           .optional("not known")
           .limits("0", "1000000")
           .when_too_low("a price is 0 or more")}};
  return table;
}

const KeyTable& option_keys() {
  static const KeyTable table = {
      "option",
      "A choice that can be made whatever is chosen elsewhere.",
      {Build("name", KeyType::kText, "What is chosen, as in \"stabilizer\".")
           .any_text()
           .at(member(&Option::name)),
       list("alternatives", &Option::alternatives, alternative_keys(),
            "What it may be. The first is what the search begins with, and is taken where two "
            "builds are equally light or cheap.")}};
  return table;
}

const KeyTable& limit_keys() {
  static const KeyTable table = {
      "limits",
      "What the build must keep to; at least one.",
      {length("bottom_sag", &ChooseLimits::bottom_sag_m, "The most the bottom may sag.")
           .optional("no limit")
           .usual("1 mm", "100 mm")
           .limits("0.01 mm", "1 m"),
       length("overall_lengthening", &ChooseLimits::overall_lengthening_m,
              "The most the lowest point may hang lower, loaded against empty.")
           .optional("no limit")
           .usual("1 mm", "150 mm")
           .limits("0.01 mm", "2 m"),
       length("strap_drop", &ChooseLimits::strap_drop_m,
              "The largest strap drop of the loaded bag.")
           .optional("no limit")
           .usual("2 in", "20 in")
           .limits("1 mm", "3 m"),
       quantity("carries", &ChooseLimits::carries_kg, Dimension::kMass,
                "A mass the bag must carry with its margin: with rating.design_factor times as "
                "much nothing fails that drops the load, with twice as much nothing that leaves "
                "lasting damage. It is asked of the typical bag, without the scatter of a rating.")
           .optional("no limit")
           .usual("0.5 kg", "30 kg")
           .limits("1 g", "500 kg"),
       quantity("mass", &ChooseLimits::mass_kg, Dimension::kMass, "The heaviest the bag may be.")
           .optional("no limit")
           .usual("50 g", "3 kg")
           .limits("1 g", "100 kg"),
       length("standing_height", &ChooseLimits::standing_height_m,
              "How tall a bag of this make must be able to stand by itself, empty on a table "
              "(`totebench stand`).")
           .optional("no limit")
           .usual("4 in", "20 in")
           .limits("1 mm", "3 m"),
       Build("price", KeyType::kNumber, "The most that what is chosen may cost together.")
           .at(member(&ChooseLimits::price))
           .optional("no limit")
           .limits("0.000001", "1000000000")}};
  return table;
}

}  // namespace

const KeyTable& choose_keys() {
  static const KeyTable table = {
      "choose",
      "The lightest or cheapest build within limits, for totebench choose.",
      {choice("aim", &ChooseSpec::aim, {"lightest", "cheapest"},
              {"the least mass of the empty bag", "the least sum of the prices of what is chosen"},
              "What to look for.")
           .defaults("lightest", kOurs),
       list("options", &ChooseSpec::options, option_keys(),
            "What there is to choose. Each option has an alternative taken from it; no two may "
            "change the same key."),
       object("limits", &ChooseSpec::limits, limit_keys())}};
  return table;
}

}  // namespace totebench::scenes::keys
