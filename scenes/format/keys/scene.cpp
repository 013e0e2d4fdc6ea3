// The top level of a scene file.
#include "scenes/format/keys/build.hpp"

namespace totebench::scenes {
namespace keys {
namespace {

Build part(Build key) { return key.only("kind", {"tote"}); }
Build sheet_part(Build key) { return key.only("kind", {"sheet"}); }

template <class E>
Build sheet_list(const std::string& name, std::vector<E> SheetScene::*m, const KeyTable& table,
                 const std::string& doc) {
  return sheet_part(Build(name, KeyType::kList, doc).below(table).at([m](void* o) -> Slot {
    return list_slot(&(static_cast<Scene*>(o)->sheet.*m));
  }));
}

std::vector<Key> scene_key_list() {
  return {
      Build("schema_version", KeyType::kInteger, "Version of this file format.")
          .at(member(&Scene::schema_version))
          .limits("1", "1"),
      choice("kind", &Scene::kind, {"tote", "sheet"},
             {"a bag with straps", "a coupon: strip, disc, shell, with loads of its own"},
             "What is tested."),
      Build("name", KeyType::kText, "Short name, also of the folder of the results.")
          .at(member(&Scene::name)),
      Build("note", KeyType::kText, "Anything worth saying about the scene.")
          .at(member(&Scene::note))
          .optional("nothing"),
      Build("$schema", KeyType::kText, "Where an editor finds the schema; not used otherwise.")
          .at([](void*) -> Slot { return std::monostate{}; })
          .optional("nothing"),
      Build("units", KeyType::kText, "Units of the printed results: in, cm or si.")
          .at(member(&Scene::units))
          .pick({"in", "cm", "si"})
          .derived("those that most lengths and masses of the scene are written in", kOurs),
      part(object("bag", &Scene::bag, bag_keys())),
      part(object("layers", &Scene::layers, layers_keys())),
      part(object("seams", &Scene::seams, seam_keys())).defaults("{}", ""),
      part(Build("straps", KeyType::kObject, strap_keys().doc)
               .below(strap_keys())
               .at([](void* o) -> Slot {
                 auto* straps = &static_cast<Scene*>(o)->straps;
                 return ObjectSlot{[straps]() -> void* {
                                     return straps->empty() ? &straps->emplace_back()
                                                            : &straps->front();
                                   },
                                   [straps] { return !straps->empty(); }};
               })),
      part(object("base", &Scene::base, base_keys())).defaults("{}", ""),
      part(object("feet", &Scene::feet, feet_keys())).defaults("{}", ""),
      part(object("contents", &Scene::contents, contents_keys())),
      part(object("support", &Scene::support, support_keys())).defaults("{}", ""),
      sheet_part(object("sheet", &Scene::sheet, sheet_keys())),
      sheet_list("supports", &SheetScene::supports, sheet_support_keys(), "What holds the sheet."),
      sheet_list("loads", &SheetScene::loads, sheet_load_keys(), "What pulls on it.")
          .optional("a support is moved instead"),
      sheet_list("probes", &SheetScene::probes, probe_keys(), "Points that are reported.")
          .optional("none"),
      object("mesh", &Scene::mesh, mesh_keys()).defaults("{}", ""),
      object("solve", &Scene::solve, solve_keys()).defaults("{}", ""),
      part(object("rating", &Scene::rating, rating_keys())).defaults("{}", ""),
      part(object("use", &Scene::use, use_keys())).defaults("{}", ""),
      Build("materials", KeyType::kNamed, material_keys().doc)
          .below(material_keys())
          .optional("none")
          .at([](void* o) -> Slot {
            auto* scene = static_cast<Scene*>(o);
            return NamedSlot{&scene->own_materials, &scene->own_material_like,
                             &scene->own_material_file};
          }),
      Build("expect", KeyType::kExpect,
            "What the result should be: a name and its lowest and highest value, as in "
            "\"bottom_sag\": [\"5 mm\", \"20 mm\"]. For a probe write its name and an axis, as in "
            "\"tip.z\".")
          .at(member(&Scene::expect))
          .optional("nothing is expected"),
      part(list("variants", &Scene::variants, variant_keys(),
                "The same bag with something changed, for totebench compare."))
          .optional("none"),
      part(object("choose", &Scene::choose, choose_keys())).optional("nothing to choose"),
      part(object("sweep", &Scene::sweep, sweep_keys())).optional("nothing to sweep over")};
}

}  // namespace

const KeyTable& variant_keys() {
  static const KeyTable table = {
      "variant",
      "The scene with some of its keys changed.",
      {Build("name", KeyType::kText, "Short name, heading of its column.")
           .at(member(&Variant::name)),
       Build("note", KeyType::kText, "Anything worth saying about this variant.")
           .at(member(&Variant::note))
           .optional("nothing"),
       Build("change", KeyType::kPatch,
             "What is different, written as in the scene itself (a JSON merge patch): given keys "
             "replace those of the scene, lists as a whole; null takes a key out. An object in "
             "place of a list changes the entries it numbers, from 1.")
           .at(member(&Variant::change))}};
  return table;
}

}  // namespace keys

const KeyTable& scene_keys() {
  static const KeyTable table = {"scene", "A scene file.", keys::scene_key_list()};
  return table;
}

}  // namespace totebench::scenes
