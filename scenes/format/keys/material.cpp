// Keys of a material that a scene brings along, and of the mesh and the solution.
#include "scenes/format/keys/build.hpp"

namespace totebench::scenes::keys {
namespace {

Build property(const std::string& name, Dimension dimension, const std::string& doc) {
  return Build(name, KeyType::kProperty, doc)
      .unit(dimension)
      .optional("not known")
      .at([](void* o) -> Slot { return PropertySlot{static_cast<materials::Material*>(o)}; });
}

void add_directions(std::vector<Key>& keys, const Build& base) {
  keys.push_back(base);
  for (const char* direction : {"warp", "weft"}) {
    Build key = base;
    key.name += std::string("_") + direction;
    key.doc += std::string(" Along the ") + direction + ".";
    keys.push_back(key);
  }
}

std::vector<Key> material_key_list() {
  std::vector<Key> keys;
  keys.push_back(Build("like", KeyType::kMaterial, "Library material to start from.")
                     .at([](void*) -> Slot { return std::monostate{}; })
                     .optional("every property is given here"));
  keys.push_back(Build("file", KeyType::kText,
                       "Material file to start from, as totebench swatch writes it, relative to "
                       "the scene. Its entry of this name is taken, or its only one.")
                     .at([](void*) -> Slot { return std::monostate{}; })
                     .optional("like is given, or every property"));
  keys.push_back(Build("name", KeyType::kText, "Name for people.")
                     .at(member(&materials::Material::name))
                     .optional("the entry's id"));
  keys.push_back(
      Build("category", KeyType::kText, "fabric, interfacing, stabilizer, base or strap.")
          .at(member(&materials::Material::category))
          .pick({"fabric", "interfacing", "stabilizer", "base", "strap"})
          .optional("that of \"like\", else fabric"));
  keys.push_back(Build("note", KeyType::kText, "Where the numbers come from.")
                     .at(member(&materials::Material::note))
                     .optional("nothing"));
  keys.push_back(property("areal_mass", Dimension::kArealMass, "Mass per area.")
                     .usual("10 g/m2", "3000 g/m2")
                     .limits("1 g/m2", "50 kg/m2"));
  keys.push_back(property("density", Dimension::kDensity, "Density of a solid sheet.")
                     .usual("100 kg/m3", "3000 kg/m3")
                     .limits("5 kg/m3", "25000 kg/m3"));
  keys.push_back(property("thickness", Dimension::kLength, "Thickness.")
                     .usual("0.05 mm", "12 mm")
                     .limits("0.005 mm", "50 mm"));
  add_directions(keys, property("tensile_stiffness_initial", Dimension::kForcePerLength,
                                "Initial slope of line force over strain.")
                           .usual("100 N/m", "1e6 N/m")
                           .limits("1 N/m", "1e9 N/m"));
  add_directions(keys, property("tensile_stiffness_postcrimp", Dimension::kForcePerLength,
                                "Slope once the crimp is pulled out.")
                           .usual("1000 N/m", "1e6 N/m")
                           .limits("1 N/m", "1e9 N/m"));
  add_directions(
      keys, property("crimp_strain", Dimension::kNone, "Strain at which the crimp is pulled out.")
                .usual("0", "0.3")
                .limits("0", "1"));
  keys.push_back(
      property("shear_stiffness", Dimension::kForcePerLength, "Shear line force over shear angle.")
          .usual("5 N/m", "1e6 N/m")
          .limits("0.1 N/m", "1e9 N/m"));
  keys.push_back(property("poisson_ratio", Dimension::kNone, "Poisson's ratio.")
                     .usual("0", "0.5")
                     .limits("-0.99", "0.99"));
  add_directions(
      keys, property("bending_rigidity", Dimension::kBendingRigidity, "Bending rigidity per width.")
                .usual("0.5 uN m", "5 N m")
                .limits("0.001 uN m", "1e6 N m"));
  add_directions(keys, property("strip_strength", Dimension::kForcePerLength,
                                "Breaking force per width of a strip.")
                           .usual("500 N/m", "2e5 N/m")
                           .limits("1 N/m", "1e8 N/m"));
  add_directions(keys, property("break_strain", Dimension::kNone, "Strain at break.")
                           .usual("0.01", "1")
                           .limits("0.0001", "10"));
  keys.push_back(property("youngs_modulus", Dimension::kPressure, "Young's modulus of a solid.")
                     .usual("1 MPa", "20 GPa")
                     .limits("1 kPa", "500 GPa"));
  keys.push_back(property("youngs_modulus_md", Dimension::kPressure,
                          "Young's modulus along the direction of making.")
                     .usual("1 MPa", "20 GPa")
                     .limits("1 kPa", "500 GPa"));
  keys.push_back(property("youngs_modulus_cd", Dimension::kPressure,
                          "Young's modulus across the direction of making.")
                     .usual("1 MPa", "20 GPa")
                     .limits("1 kPa", "500 GPa"));
  keys.push_back(
      property("shear_modulus", Dimension::kPressure, "Shear modulus of a solid, in its plane.")
          .usual("0.3 MPa", "10 GPa")
          .limits("100 Pa", "200 GPa"));
  keys.push_back(property("yield_stress", Dimension::kPressure, "Stress at which a sheet yields.")
                     .usual("0.5 MPa", "200 MPa")
                     .limits("1 kPa", "5 GPa"));
  keys.push_back(
      property("flexural_strength", Dimension::kPressure, "Bending stress at which a board breaks.")
          .usual("0.5 MPa", "200 MPa")
          .limits("1 kPa", "5 GPa"));
  keys.push_back(property("fused_bending_ratio", Dimension::kNone,
                          "Rigidity of cloth fused with it over that of the two loose.")
                     .usual("1", "10")
                     .limits("0.5", "1000"));
  keys.push_back(
      property("peel_strength", Dimension::kForcePerLength, "Force per width that peels the bond.")
          .usual("10 N/m", "5000 N/m")
          .limits("0.1 N/m", "1e6 N/m"));
  keys.push_back(property("width", Dimension::kLength, "Width a webbing's numbers hold for.")
                     .usual("10 mm", "80 mm")
                     .limits("1 mm", "300 mm"));
  keys.push_back(property("axial_stiffness_EA", Dimension::kForce,
                          "Axial stiffness of a webbing at that width.")
                     .usual("500 N", "1e6 N")
                     .limits("1 N", "1e9 N"));
  keys.push_back(
      property("breaking_strength", Dimension::kForce, "Breaking force of a webbing at that width.")
          .usual("100 N", "50 kN")
          .limits("1 N", "1e6 N"));
  return keys;
}

}  // namespace

const KeyTable& material_keys() {
  static const KeyTable table = {"materials",
                                 "A material of the scene's own, under a name of your choice.",
                                 material_key_list()};
  return table;
}

const KeyTable& mesh_keys() {
  static const KeyTable table = {
      "mesh",
      "How fine the computation is.",
      {length("size", &MeshSpec::size_m, "Edge length of the final triangles.")
           .derived("about 1500 triangles over the whole bag, 600 over a sheet", kOurs)
           .limits("1e-6 m", "1e5 m")}};
  return table;
}

const KeyTable& solve_keys() {
  static const KeyTable table = {
      "solve",
      "How the equilibrium is looked for.",
      {Build("load_steps", KeyType::kInteger, "Steps from empty to fully loaded.")
           .at(member(&SolveSpec::load_steps))
           .defaults("4", kOurs)
           .usual("1", "50")
           .limits("1", "1000"),
       Build("seed", KeyType::kInteger, "Seed of the small starting imperfection.")
           .at(member(&SolveSpec::seed))
           .defaults("1", kOurs)
           .limits("0", "4294967295"),
       Build("shapes", KeyType::kInteger,
             "Starts tried when looking for a second stable shape; 0 = do not look.")
           .at(member(&SolveSpec::shapes))
           .defaults("2", kOurs)
           .usual("0", "20")
           .limits("0", "200"),
       Build(
           "contact", KeyType::kBoolean,
           "Whether walls, straps and base touch, each as thick as its layers, instead of passing "
           "through each other; without friction. Without contact a bag that does not fold is "
           "solved a little faster, and one whose surfaces meet has no answer.")
           .at(member(&SolveSpec::contact))
           .defaults("true", kOurs)}};
  return table;
}

}  // namespace totebench::scenes::keys
