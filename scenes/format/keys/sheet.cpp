// Keys of a sheet scene: a coupon with supports, loads and probes. Limits are wide, because
// published unit-free problems are given here in SI (a "length" of 100 becomes "100 m").
#include "scenes/format/keys/build.hpp"

namespace totebench::scenes::keys {
namespace {

const KeyTable& plain_keys() {
  static const KeyTable table = {
      "plain",
      "A plain isotropic section, for teaching and published problems.",
      {quantity("youngs_modulus", &PlainSection::youngs_modulus_Pa, Dimension::kPressure,
                "Young's modulus.")
           .limits("1e-3 Pa", "1e15 Pa"),
       Build("poisson_ratio", KeyType::kNumber, "Poisson's ratio.")
           .at(member(&PlainSection::poisson_ratio))
           .usual("0", "0.5")
           .limits("-0.99", "0.5"),
       length("thickness", &PlainSection::thickness_m, "Thickness.").limits("1e-7 m", "100 m"),
       quantity("areal_mass", &PlainSection::areal_mass_kg_per_m2, Dimension::kArealMass,
                "Mass per area; gravity loads need it.")
           .defaults("0 kg/m2", kOurs)
           .limits("0 kg/m2", "1e6 kg/m2"),
       choice("wrinkles", &PlainSection::wrinkles, {"as the mesh shows", "finer than the mesh"},
              {"compression is carried until the mesh buckles",
               "a film's, which the mesh cannot show: no compression is carried (tension field)"},
              "How a sheet that is pressed together in its plane gives way.")
           .defaults("as the mesh shows", kOurs)}};
  return table;
}

Build point_key(const std::string& doc) {
  return Build("point", KeyType::kVector, doc).unit(Dimension::kLength);
}

}  // namespace

const KeyTable& sheet_keys() {
  const auto size = [](const std::string& name, double SheetGeometry::*m,
                       std::vector<std::string> shapes, const std::string& doc) {
    return Build(name, KeyType::kQuantity, doc)
        .unit(Dimension::kLength)
        .only("shape", std::move(shapes))
        .limits("1e-5 m", "1e5 m")
        .at([m](void* o) -> Slot { return &(static_cast<SheetScene*>(o)->geometry.*m); });
  };
  const auto angle = [](const std::string& name, double SheetGeometry::*m,
                        std::vector<std::string> shapes, const std::string& value,
                        const std::string& doc) {
    return Build(name, KeyType::kQuantity, doc)
        .unit(Dimension::kAngle)
        .only("shape", std::move(shapes))
        .defaults(value, kOurs)
        .limits("-360 deg", "360 deg")
        .at([m](void* o) -> Slot { return &(static_cast<SheetScene*>(o)->geometry.*m); });
  };
  static const KeyTable table = {
      "sheet",
      "The coupon: its shape and what it is made of (either layers or plain).",
      {Build("shape", KeyType::kChoice, "Shape of the coupon when nothing pulls on it.")
           .pick({"strip", "rectangle", "disc", "annulus", "cylinder", "sphere", "file"},
                 {"flat, long along x", "flat", "flat and round", "flat ring or part of one",
                  "part of a tube about the x axis", "part of a ball about the z axis",
                  "a triangle mesh read from a .obj, .stl or .vtp file"})
           .at([](void* o) -> Slot {
             return choice_slot(&static_cast<SheetScene*>(o)->geometry.shape);
           }),
       size("length", &SheetGeometry::length_m, {"strip", "rectangle", "cylinder"},
            "Along x; along the axis of a cylinder."),
       size("width", &SheetGeometry::width_m, {"strip", "rectangle"}, "Along y."),
       size("radius", &SheetGeometry::radius_m, {"disc", "annulus", "cylinder", "sphere"},
            "Radius; the outer one of an annulus."),
       size("inner_radius", &SheetGeometry::inner_radius_m, {"annulus"}, "Radius of the hole."),
       angle("from_angle", &SheetGeometry::from_angle_rad, {"annulus", "cylinder", "sphere"},
             "0 deg", "Where a sector begins."),
       angle("to_angle", &SheetGeometry::to_angle_rad, {"annulus", "cylinder", "sphere"}, "360 deg",
             "Where a sector ends."),
       angle("from_latitude", &SheetGeometry::from_latitude_rad, {"sphere"}, "0 deg",
             "Lower border; 0 deg is the equator."),
       angle("to_latitude", &SheetGeometry::to_latitude_rad, {"sphere"}, "80 deg",
             "Upper border, at most 89 deg (90 deg is the pole)."),
       Build("file", KeyType::kText, "Mesh file (.obj, .stl, .vtp) in metres, beside the scene.")
           .only("shape", {"file"})
           .at([](void* o) -> Slot { return &static_cast<SheetScene*>(o)->geometry.file; }),
       list("layers", &SheetScene::layers, layer_keys(), "Layers, the outermost (+z) first.")
           .optional("plain is given instead"),
       Build("plain", KeyType::kObject, plain_keys().doc)
           .below(plain_keys())
           .optional("layers are given instead")
           .at([](void* o) -> Slot {
             auto* plain = &static_cast<SheetScene*>(o)->plain;
             return ObjectSlot{
                 [plain]() -> void* { return &(*plain ? **plain : plain->emplace()); },
                 [plain] { return plain->has_value(); }};
           }),
       quantity("start_bend", &SheetScene::start_bend_rad, Dimension::kAngle,
                "How far a flat sheet starts bent upwards along x, into an arc; at 360 deg its two "
                "ends meet. At rest it would be flat; what is held is held where it then lies, and "
                "probes are told from "
                "there.")
           .only("shape", {"strip", "rectangle"})
           .defaults("0 deg", kOurs)
           .limits("-360 deg", "360 deg"),
       quantity("warp_angle", &SheetScene::warp_angle_rad, Dimension::kAngle,
                "Warp against x (against the axis of a cylinder).")
           .defaults("0 deg", kOurs)
           .limits("-180 deg", "180 deg")}};
  return table;
}

const KeyTable& sheet_support_keys() {
  static const KeyTable table = {
      "support of a sheet",
      "Holds a border or a point.",
      {Build("where", KeyType::kText,
             "Name of a border: x0, x1, y0, y1, inner, outer, from, to, or border "
             "for all of it.")
           .at(member(&SheetSupport::where))
           .optional("a point is given instead"),
       point_key("A point of the rest shape; its nearest node is held.")
           .at(member(&SheetSupport::point_m))
           .optional("where is given instead"),
       Build("fix", KeyType::kAxes, "Directions that are held, such as \"xyz\" or \"z\".")
           .at([](void* o) -> Slot { return AxesSlot{static_cast<SheetSupport*>(o)->fix}; })
           .defaults("xyz", kOurs),
       Build(
           "move", KeyType::kVector,
           "How far it is moved at the full load along x, y and z, in held directions only; the "
           "load steps raise it as they raise loads. Where two supports hold one point, the later "
           "one moves it.")
           .unit(Dimension::kLength)
           .at(member(&SheetSupport::move_m))
           .optional("it stays where it is"),
       Build("clamp", KeyType::kBoolean, "Hold the slope across the border as well.")
           .at(member(&SheetSupport::clamp))
           .defaults("false", kOurs)}};
  return table;
}

const KeyTable& sheet_load_keys() {
  const auto vector = [](const std::string& name, Dimension d, const std::string& kind,
                         const std::string& doc) {
    return Build(name, KeyType::kVector, doc)
        .unit(d)
        .only("kind", {kind})
        .at(member(&SheetLoad::vector));
  };
  static const KeyTable table = {
      "load on a sheet",
      "One load.",
      {choice("kind", &SheetLoad::kind,
              {"gravity", "pressure", "area force", "edge force", "point force", "edge moment",
               "fill"},
              {"the sheet's own weight along -z", "follows the turning surface",
               "keeps its direction", "on a border, keeps its direction", "on one point",
               "turns a border about itself", "loose contents or a liquid resting on the sheet"},
              "What kind of load it is."),
       Build("where", KeyType::kText, "Name of the border it acts on.")
           .at(member(&SheetLoad::where))
           .only("kind", {"edge force", "edge moment"}),
       point_key("The point of the rest shape it acts on.")
           .at(member(&SheetLoad::point_m))
           .only("kind", {"point force"}),
       vector("force_per_area", Dimension::kPressure, "area force",
              "Force per rest area: x, y, z."),
       vector("force_per_length", Dimension::kForcePerLength, "edge force",
              "Force per rest length of the border: x, y, z."),
       vector("force", Dimension::kForce, "point force", "Force: x, y, z."),
       quantity("pressure", &SheetLoad::magnitude, Dimension::kPressure,
                "Pressure, positive along the normal of the sheet.")
           .only("kind", {"pressure"}),
       quantity("moment_per_length", &SheetLoad::magnitude, Dimension::kMomentPerLength,
                "Moment per rest length of the border.")
           .only("kind", {"edge moment"}),
       quantity("mass", &SheetLoad::magnitude, Dimension::kMass, "Mass of the contents.")
           .only("kind", {"fill"})
           .limits("1e-6 kg", "1e6 kg"),
       quantity("bulk_density", &SheetLoad::bulk_density_kg_per_m3, Dimension::kDensity,
                "Mass of the contents over the room they fill.")
           .only("kind", {"fill"})
           .limits("1 kg/m3", "30000 kg/m3")}};
  return table;
}

const KeyTable& probe_keys() {
  static const KeyTable table = {
      "probe",
      "A point whose position is reported.",
      {Build("name", KeyType::kText, "Name in the results.").at(member(&Probe::name)),
       point_key("Point of the rest shape; the nearest node is taken.")
           .at(member(&Probe::point_m))}};
  return table;
}

}  // namespace totebench::scenes::keys
