// Keys of a tote: the bag, its layers, seams, straps, base, feet, contents and support.
#include <fmt/format.h>

#include "scenes/format/keys/build.hpp"
#include "totebench/scenes/things.hpp"

namespace totebench::scenes::keys {

namespace {

const KeyTable& piece_keys() {
  static const KeyTable table = {
      "piece",
      "One pattern piece of your own, seen from the right side of the cloth.",
      {Build("name", KeyType::kText,
             "What the piece is called. Handles are sewn to the pieces \"front\" and \"back\", a "
             "shoulder strap to \"side left\" and \"side right\", or else astride the seams "
             "between front and back.")
           .at(member(&Piece::name))
           .any_text(),
       Build("outline", KeyType::kText, "Id of its path in the drawing.")
           .at(member(&Piece::outline))
           .any_text()
           .optional("the path that has the piece's name"),
       Build("mirrored", KeyType::kBoolean,
             "Cut from cloth turned over: the mirror image of what is drawn.")
           .at(member(&Piece::mirrored))
           .defaults("false", kOurs),
       choice("layers", &Piece::layers, {"upper", "lower", "base"},
              {"the layers of the walls", "the layers of the lower section",
               "the bottom of the bag, on which its contents rest"},
              "Which of the scene's layers it is made of.")
           .defaults("upper", kOurs),
       quantity("warp_angle", &Piece::warp_angle_rad, Dimension::kAngle,
                "Warp of the piece against the upright of the drawing.")
           .defaults("0 deg", kTrade)
           .usual("-90 deg", "90 deg")
           .limits("-180 deg", "180 deg")}};
  return table;
}

const KeyTable& edge_keys() {
  static const KeyTable table = {
      "edge",
      "What becomes of an edge: \"front a b\" is the edge of the piece front from the mark a to "
      "the mark b, naming every mark on the way.",
      {Build("edge", KeyType::kText, "A piece and the marks along its edge, in order.")
           .at(member(&PieceEdge::edge))
           .any_text(),
       choice("as", &PieceEdge::use, {"seam", "fold", "pleat", "opening"},
              {"sewn to another edge", "a fold of one cloth, drawn as two pieces",
               "folded at the second of three marks, the first laid on the third",
               "part of the opening, hemmed or bound"},
              "How it is used.")
           .defaults("seam", kOurs),
       Build("to", KeyType::kText, "The edge it is joined to, mark on mark in the same order.")
           .at(member(&PieceEdge::to))
           .any_text()
           .only("as", {"seam", "fold"}),
       Build("gathered", KeyType::kBoolean,
             "The longer of the two is gathered evenly to the shorter.")
           .at(member(&PieceEdge::gathered))
           .only("as", {"seam"})
           .defaults("false", kOurs)}};
  return table;
}

}  // namespace

const KeyTable& bag_keys() {
  static const std::vector<std::string> sized = {"boxed", "gusset", "rounded", "sack"};
  static const KeyTable table = {
      "bag",
      "The body of the bag, finished sizes.",
      {choice("shape", &Bag::shape, {"boxed", "gusset", "rounded", "sack", "pieces"},
              {"two panels with boxed corners", "separate base with front, back and sides",
               "two wide faces with rounded lower corners, flat when empty", "flat two-panel sack",
               "pattern pieces of your own, from a drawing"},
              "How the body is cut."),
       length("width", &Bag::width_m, "Finished width of the front.")
           .only("shape", sized)
           .usual("6 in", "26 in")
           .limits("1 in", "60 in"),
       length("height", &Bag::height_m,
              "Finished height from the opening to the base, or to the bottom seam where there is "
              "no base.")
           .only("shape", sized)
           .usual("5 in", "24 in")
           .limits("1 in", "60 in"),
       length("depth", &Bag::depth_m, "Finished depth of the base, front to back.")
           .only("shape", {"boxed", "gusset"})
           .usual("1 1/2 in", "12 in")
           .limits("1/4 in", "40 in"),
       length("corner_radius", &Bag::corner_radius_m, "Radius of the two lower corners.")
           .only("shape", {"rounded"})
           .usual("1 in", "10 in")
           .limits("1 mm", "40 in"),
       length("upper_height", &Bag::upper_height_m,
              "Height of the upper section, from the opening down to the crosswise seam that joins "
              "it to the lower section.")
           .only("shape", sized)
           .optional("no crosswise seam")
           .usual("1 in", "15 in")
           .limits("5 mm", "60 in"),
       Build("lengthwise_seams", KeyType::kInteger,
             "Number of lengthwise seams on each face, evenly spaced.")
           .at(member(&Bag::lengthwise_seams))
           .only("shape", sized)
           .defaults("0", kOurs)
           .usual("0", "6")
           .limits("0", "12"),
       quantity("warp_angle", &Bag::warp_angle_rad, Dimension::kAngle,
                "Warp of the walls against the vertical; 45 deg is cut on the bias.")
           .only("shape", sized)
           .defaults("0 deg", kTrade)
           .usual("-90 deg", "90 deg")
           .limits("-180 deg", "180 deg"),
       quantity("base_warp_angle", &Bag::base_warp_angle_rad, Dimension::kAngle,
                "Warp of the base against the bag's width.")
           .only("shape", sized)
           .defaults("0 deg", kTrade)
           .usual("-90 deg", "90 deg")
           .limits("-180 deg", "180 deg"),
       length("seam_allowance", &Bag::seam_allowance_m,
              "Cloth beyond the seam line; its plies stiffen a band along every seam.")
           .defaults("1/2 in", kTrade)
           .usual("1/4 in", "1 in")
           .limits("0 mm", "3 in"),
       length("hem", &Bag::hem_m,
              "Depth of the turned hem at the opening; 0 mm for a raw or bound edge.")
           .defaults("1 in", kTrade)
           .usual("0 mm", "3 in")
           .limits("0 mm", "10 in"),
       Build("file", KeyType::kText,
             "Drawing of the pieces, .svg: a closed path each, on the sewing line without "
             "allowances, and a small circle at every mark.")
           .at(member(&Bag::file))
           .any_text()
           .only("shape", {"pieces"}),
       length("ruler", &Bag::ruler_m,
              "Length of the path with the id \"ruler\", for drawings that say no size.")
           .only("shape", {"pieces"})
           .optional("the drawing's own size, in mm, cm or in")
           .limits("1 mm", "10 m"),
       list("pieces", &Bag::pieces, piece_keys(), "The pattern pieces.").only("shape", {"pieces"}),
       list("edges", &Bag::edges, edge_keys(),
            "What becomes of every edge of every piece, in the order of sewing.")
           .only("shape", {"pieces"})}};
  return table;
}

const KeyTable& layer_keys() {
  static const KeyTable table = {
      "layer",
      "One layer of a stack, the outermost first.",
      {Build("material", KeyType::kMaterial,
             "Id from the material library, or of an entry under \"materials\".")
           .at(member(&Layer::material)),
       choice("join", &Layer::join, {"fused", "quilted", "sewn at edges", "loose"},
              {"bonded over its whole face", "stitched on a grid", "caught in the seams only",
               "not attached: its mass counts, its stiffness does not"},
              "How the layer is joined to the one listed before it. Every layer but the first "
              "must say.")
           .optional("the first layer has nothing before it"),
       length("quilting_pitch", &Layer::grid_pitch_m, "Distance between quilting lines.")
           .only("join", {"quilted"})
           .usual("1/2 in", "6 in")
           .limits("2 mm", "20 in"),
       length("thickness", &Layer::thickness_m, "Thickness, where it differs from the library's.")
           .optional("the material's own")
           .usual("0.05 mm", "12 mm")
           .limits("0.005 mm", "50 mm"),
       quantity("warp_angle", &Layer::warp_angle_rad, Dimension::kAngle,
                "Warp of this layer against the warp of the panel.")
           .defaults("0 deg", kTrade)
           .usual("-90 deg", "90 deg")
           .limits("-180 deg", "180 deg")}};
  return table;
}

const KeyTable& layers_keys() {
  using Map = std::map<std::string, std::vector<Layer>>;
  const auto region = [](const std::string& name, const std::string& doc) {
    return Build(name, KeyType::kList, doc).below(layer_keys()).at([name](void* o) -> Slot {
      return list_slot(&(*static_cast<Map*>(o))[name]);
    });
  };
  static const KeyTable table = {
      "layers",
      "What each region is made of, outermost layer first.",
      {region("upper", "Walls above the crosswise seam; the whole wall when there is none."),
       region("lower", "Walls below the crosswise seam.").derived("the same as upper", kOurs),
       region("base", "Bottom of the bag.").derived("the same as lower", kOurs),
       region("hem", "Extra plies in the hem band at the opening, besides the turned-in cloth.")
           .optional("none")}};
  return table;
}

const KeyTable& seam_keys() {
  static const KeyTable table = {
      "seams",
      "How the panels are sewn together.",
      {Build("thread", KeyType::kThread, "Thread of the seams.")
           .at(member(&SeamSpec::thread))
           .defaults("spun_polyester_tex40", kTrade),
       Build("stitch_type", KeyType::kStitch,
             "Stitch type by its ISO 4915 number; 301 is the lockstitch.")
           .at(member(&SeamSpec::stitch_type))
           .defaults("301", kTrade),
       length("stitch_length", &SeamSpec::stitch_length_m, "Length of one stitch.")
           .defaults("2.5 mm", kTrade)
           .usual("1.5 mm", "5 mm")
           .limits("0.5 mm", "12 mm"),
       Build("hinge_stiffness", KeyType::kQuantity,
             "Moment per length per radian that a seam resists folding with.")
           .unit(Dimension::kMomentPerLength)
           .at(member(&SeamSpec::hinge_stiffness_N))
           .optional("from the plies of the seam allowances")
           .limits("0 N", "1000 N")}};
  return table;
}

namespace {

const KeyTable& attachment_keys() {
  static const KeyTable table = {
      "attachment",
      "How each strap end is stitched to the panel.",
      {choice("pattern", &Attachment::pattern,
              {"box", "box with cross", "rows", "bartacks", "rivets", "in the hem", "to the base"},
              {"a rectangle", "a rectangle with both diagonals", "parallel lines across the strap",
               "dense zigzag bars across the strap", "rivets on the strap's centre line",
               "the strap's end between panel and turned hem, one row along each edge of the hem",
               "along both edges of the strap down to the base seam, and a box with cross at the "
               "top"},
              "Pattern of the fastening.")
           .defaults("box with cross", kTrade),
       Build("rows", KeyType::kInteger,
             "Lines of stitching across the strap, bartacks, or rivets below each other.")
           .at(member(&Attachment::rows))
           .only("pattern", {"rows", "bartacks", "rivets"})
           .defaults("3", kTrade)
           .limits("1", "12"),
       length("length", &Attachment::length_m,
              "Height of the stitched box, or from the first row to the last.")
           .derived("the strap's width, at least 1 in; in the hem down to its inner edge", kTrade)
           .usual("1/2 in", "4 in")
           .limits("0 mm", "20 in"),
       length("top_offset", &Attachment::top_offset_m,
              "From the opening of the bag down to the first row.")
           .defaults("1/4 in", kTrade)
           .usual("0 mm", "4 in")
           .limits("0 mm", "30 in"),
       length("stitch_length", &Attachment::stitch_length_m, "Length of one stitch.")
           .defaults("3 mm", kTrade)
           .usual("1.5 mm", "6 mm")
           .limits("0.5 mm", "12 mm"),
       Build("stitch_type", KeyType::kStitch, "Stitch type by its ISO 4915 number.")
           .at(member(&Attachment::stitch_type))
           .defaults("301", kTrade),
       Build("thread", KeyType::kThread, "Thread of the strap ends.")
           .at(member(&Attachment::thread))
           .defaults("spun_polyester_tex60", kTrade),
       Build("tack_stitches", KeyType::kInteger, "Stitches of one bartack.")
           .at(member(&Attachment::tack_stitches))
           .only("pattern", {"bartacks"})
           .defaults("28", kTrade)
           .limits("4", "200"),
       length("tack_width", &Attachment::tack_width_m, "Height of a bartack's zigzag.")
           .only("pattern", {"bartacks"})
           .defaults("2 mm", kTrade)
           .usual("1 mm", "4 mm")
           .limits("0.2 mm", "20 mm"),
       length("rivet_cap", &Attachment::rivet_cap_m, "Diameter of a rivet's cap.")
           .only("pattern", {"rivets"})
           .defaults("9 mm", kTrade)
           .usual("6 mm", "15 mm")
           .limits("2 mm", "60 mm"),
       Build("patch", KeyType::kBoolean,
             "A backing patch of the panel's own cloth behind the stitching.")
           .at(member(&Attachment::patch))
           .defaults("false", kOurs)}};
  return table;
}

}  // namespace

const KeyTable& strap_keys() {
  static const KeyTable table = {
      "straps",
      "The straps; both handles are alike.",
      {choice("style", &Strap::style, {"two handles", "one shoulder strap"},
              {"one on the front, one on the back", "from side to side"},
              "How the bag is carried."),
       Build("material", KeyType::kMaterial, "Webbing, leather, or a cloth to be folded.")
           .at(member(&Strap::material)),
       length("width", &Strap::width_m, "Finished width of the strap.")
           .usual("1/2 in", "3 in")
           .limits("3 mm", "10 in"),
       length("length", &Strap::length_m,
              "Visible length of one strap, between the two points where it meets the opening.")
           .usual("12 in", "50 in")
           .limits("2 in", "120 in"),
       Build("plies", KeyType::kInteger, "Plies across a strap folded from cloth.")
           .at(member(&Strap::plies))
           .defaults("1", kOurs)
           .limits("1", "8"),
       length("thickness", &Strap::thickness_m, "Thickness of the finished strap.")
           .optional("the material's own, times the plies")
           .usual("0.5 mm", "8 mm")
           .limits("0.1 mm", "30 mm"),
       length("spacing", &Strap::spacing_m, "Between the two ends of a handle, centre to centre.")
           .only("style", {"two handles"})
           .derived("a third of the bag's width plus the strap's width", kTrade)
           .usual("2 in", "14 in")
           .limits("5 mm", "60 in"),
       length("overlap", &Strap::overlap_m, "Length of strap lying on the panel at each end.")
           .derived(
               "so far that the stitching ends 1/4 in above the strap's end; the hem's depth, or "
               "down to the base, for those patterns",
               kTrade)
           .usual("1 in", "8 in")
           .limits("3 mm", "40 in"),
       object("attachment", &Strap::attachment, attachment_keys()).defaults("{}", "")}};
  return table;
}

const KeyTable& base_keys() {
  static const KeyTable table = {
      "base",
      "A stiff sheet in the bottom of the bag.",
      {choice("kind", &BaseSheet::kind, {"none", "stitched in", "in a pocket"},
              {"no sheet", "sewn to the bottom all round", "lying loose in a removable pocket"},
              "Whether there is a sheet and how it is held.")
           .defaults("none", kOurs),
       Build("material", KeyType::kMaterial, "What the sheet is made of.")
           .at(member(&BaseSheet::material))
           .only("kind", {"stitched in", "in a pocket"}),
       length("thickness", &BaseSheet::thickness_m, "Thickness of the sheet.")
           .only("kind", {"stitched in", "in a pocket"})
           .optional("the material's own")
           .usual("0.4 mm", "5 mm")
           .limits("0.05 mm", "25 mm"),
       length(
           "clearance", &BaseSheet::clearance_m,
           "How much smaller than the finished base the sheet is, on each side; in a pocket it is "
           "taken to have 1 mm at least.")
           .only("kind", {"stitched in", "in a pocket"})
           .defaults("1/8 in", kTrade)
           .usual("0 mm", "1 in")
           .limits("0 mm", "10 in")
           .when_too_low("a negative clearance would make the sheet larger than the base"),
       length("corner_radius", &BaseSheet::corner_radius_m, "Radius of the sheet's corners.")
           .only("kind", {"stitched in", "in a pocket"})
           .defaults("1/2 in", kTrade)
           .usual("0 mm", "8 in")
           .limits("0 mm", "20 in")}};
  return table;
}

const KeyTable& feet_keys() {
  static const KeyTable table = {
      "feet",
      "Feet under the base, on reinforced spots.",
      {Build("count", KeyType::kInteger, "Number of feet: 0, 4 (corners) or 5 (and the middle).")
           .at(member(&Feet::count))
           .defaults("0", kOurs)
           .limits("0", "5"),
       length("inset", &Feet::inset_m, "From each edge of the base to the middle of a foot.")
           .defaults("1 in", kTrade)
           .usual("1/2 in", "4 in")
           .limits("1 mm", "20 in"),
       length("patch", &Feet::patch_m, "Side of the square reinforcement under each foot.")
           .defaults("1 1/2 in", kTrade)
           .usual("1/2 in", "4 in")
           .limits("0 mm", "10 in"),
       quantity("mass_each", &Feet::mass_each_kg, Dimension::kMass, "Mass of one foot.")
           .defaults("4 g", kMemory)
           .usual("1 g", "30 g")
           .limits("0 g", "500 g"),
       length("height", &Feet::height_m, "How far a foot stands out below the base.")
           .defaults("3/16 in", kTrade)
           .usual("1/8 in", "1/2 in")
           .limits("0 mm", "2 in")}};
  return table;
}

namespace {

// "hardback book, 234 x 28 x 156 mm, 0.72 kg (400 pages ...)"
std::vector<std::string> thing_names() {
  std::vector<std::string> names;
  for (const Thing& thing : ordinary_things()) names.push_back(thing.name);
  return names;
}

std::vector<std::string> thing_docs() {
  std::vector<std::string> docs;
  for (const Thing& thing : ordinary_things()) {
    if (docs.empty()) {
      docs.emplace_back("of the shape, sizes and mass given beside it");
      continue;
    }
    const Item& item = thing.item;
    const std::string size = item.shape == ItemShape::kBox
                                 ? fmt::format("{:.0f} x {:.0f} x {:.0f} mm", 1e3 * item.length_m,
                                               1e3 * item.width_m, 1e3 * item.height_m)
                             : item.shape == ItemShape::kCylinder
                                 ? fmt::format("{:.0f} mm across, {:.0f} mm high",
                                               1e3 * item.diameter_m, 1e3 * item.height_m)
                                 : fmt::format("{:.0f} mm across", 1e3 * item.diameter_m);
    docs.push_back(fmt::format("{}, {:g} kg ({})", size, item.mass_kg, thing.source));
  }
  return docs;
}

const KeyTable& item_keys() {
  constexpr const char* kOfWhat = "that of what it is";
  static const KeyTable table = {
      "item",
      "Things of one kind in the bag. They are rigid: cloth folds around them.",
      {Build("what", KeyType::kChoice, "An ordinary thing, or own shape.")
           .pick(thing_names(), thing_docs())
           .at([](void* o) -> Slot { return choice_slot(&static_cast<Item*>(o)->what); })
           .defaults("own shape", kOurs),
       choice("shape", &Item::shape, {"box", "cylinder", "ball"},
              {"with length, width and height", "upright, with diameter and height",
               "with a diameter"},
              "Its shape, where it is no ordinary thing.")
           .only("what", {"own shape"})
           .defaults("box", kOurs),
       length("length", &Item::length_m, "Along the bag's width.")
           .optional(kOfWhat)
           .usual("1 cm", "40 cm")
           .limits("2 mm", "60 in"),
       length("width", &Item::width_m, "Along the bag's depth.")
           .optional(kOfWhat)
           .usual("1 cm", "30 cm")
           .limits("2 mm", "60 in"),
       length("height", &Item::height_m, "Upwards.")
           .optional(kOfWhat)
           .usual("1 cm", "40 cm")
           .limits("2 mm", "60 in"),
       length("diameter", &Item::diameter_m, "Of a cylinder or ball.")
           .optional(kOfWhat)
           .usual("1 cm", "30 cm")
           .limits("2 mm", "60 in"),
       quantity("mass", &Item::mass_kg, Dimension::kMass, "Mass of one of them.")
           .optional(kOfWhat)
           .usual("20 g", "5 kg")
           .limits("1 g", "50 kg"),
       Build("friction", KeyType::kNumber,
             "Coefficient of friction against the bag; of two things the lower counts.")
           .at(member(&Item::friction))
           .optional("that of what it is; 0.4, card on cotton, for an own shape (estimate)")
           .usual("0.1", "1")
           .limits("0.01", "2"),
       Build("count", KeyType::kInteger, "How many of them.")
           .at(member(&Item::count))
           .defaults("1", kOurs)
           .limits("1", "40"),
       choice("way", &Item::way, {"as listed", "laid flat", "on end"},
              {"height upwards", "its shortest side upwards", "its longest side upwards"},
              "How it is put in.")
           .defaults("as listed", kOurs)}};
  return table;
}

}  // namespace

const KeyTable& contents_keys() {
  static const KeyTable table = {
      "contents",
      "What is carried.",
      {choice("kind", &Contents::kind, {"even", "loose", "items"},
              {"dead load spread evenly over the base: a flat, stiff load",
               "fills the bag to a level and presses on base and walls",
               "rigid things that lie on the base, lean on the walls and on each other"},
              "How the load acts."),
       choice("place", &Contents::place, {"all over", "middle", "one end"},
              {"the whole base", "the middle half of its length and of its depth",
               "the half beside one end"},
              "Which part of the base an even load or the first layer of items lies on.")
           .only("kind", {"even", "items"})
           .defaults("all over", kOurs),
       list("items", &Contents::items, item_keys(),
            "What is put into the bag, in this order: in rows along the base, then on top.")
           .only("kind", {"items"}),
       quantity("mass", &Contents::mass_kg, Dimension::kMass, "Mass of all that is carried.")
           .only("kind", {"even", "loose"})
           .usual("100 g", "25 kg")
           .limits("1 g", "100 kg")
           .when_too_low("a load of nothing shows nothing; the empty bag is hung in every run"),
       quantity("carried_for", &Contents::carried_for_s, Dimension::kTime,
                "How long the bag hangs loaded before it is looked at. Base sheets with creep data "
                "in the library (plastics, hardboard) are as stiff then as they are after so long "
                "under load; cloth, stabilizers and straps are those of a short test.")
           .defaults("30 min",
                     "shortest time under load for which a modulus of polyethylene was read")
           .usual("1 min", "24 h")
           .limits("1 s", "100000 h"),
       quantity("bulk_density", &Contents::bulk_density_kg_per_m3, Dimension::kDensity,
                "Mass of the contents over the room they fill, gaps included.")
           .only("kind", {"loose"})
           .usual("50 kg/m3", "2000 kg/m3")
           .limits("2 kg/m3", "20000 kg/m3"),
       quantity("friction_angle", &Contents::friction_angle_rad, Dimension::kAngle,
                "Angle of internal friction; 0 deg is a liquid.")
           .only("kind", {"loose"})
           .defaults("30 deg", kMemory)
           .usual("0 deg", "50 deg")
           .limits("0 deg", "80 deg")}};
  return table;
}

const KeyTable& support_keys() {
  static const KeyTable table = {
      "support",
      "What holds the bag up.",
      {choice("kind", &Support::kind, {"hook", "hand"},
              {"a peg of some diameter", "a hand of some width"}, "What the straps hang on.")
           .defaults("hand", kOurs),
       length("diameter", &Support::diameter_m, "Diameter of the peg.")
           .only("kind", {"hook"})
           .defaults("25 mm", kOurs)
           .usual("6 mm", "80 mm")
           .limits("1 mm", "300 mm"),
       length("grip_width", &Support::grip_width_m, "Width of the grip along the strap.")
           .only("kind", {"hand"})
           .defaults("90 mm", kMemory)
           .usual("50 mm", "130 mm")
           .limits("5 mm", "400 mm")}};
  return table;
}

}  // namespace totebench::scenes::keys
