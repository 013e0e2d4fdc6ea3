// Pattern pieces of one's own: what is read of a drawing, how pieces are sewn, and the bags that
// come of them, held against closed forms and against the shapes that need no drawing.
#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <numbers>

#include "scenes/builder/mesh/pattern_mesh.hpp"
#include "scenes/patterns/assembly.hpp"
#include "scenes/patterns/pattern.hpp"
#include "scenes/pieces/svg_outlines.hpp"
#include "scenes/pieces/svg_path.hpp"
#include "shipped_library.hpp"
#include "tests/support/source_folder.hpp"
#include "totebench/scenes/build.hpp"
#include "totebench/scenes/cutlist.hpp"
#include "totebench/scenes/drawn_pieces.hpp"
#include "totebench/scenes/reader.hpp"
#include "totebench/scenes/sewing.hpp"
#include "totebench/studies/first_look.hpp"

namespace totebench {
namespace {

using Eigen::Vector2d;
using Eigen::Vector3d;
using std::numbers::pi;

double area(const std::vector<Vector2d>& p) {
  double twice = 0;
  for (std::size_t i = 0; i < p.size(); ++i) {
    const Vector2d &a = p[i], &b = p[(i + 1) % p.size()];
    twice += a.x() * b.y() - a.y() * b.x();
  }
  return std::abs(twice) / 2;
}

double length(const std::vector<Vector2d>& p) {
  double sum = 0;
  for (std::size_t i = 1; i < p.size(); ++i) sum += (p[i] - p[i - 1]).norm();
  return sum;
}

// ---- the path language ----------------------------------------------------------------------

TEST(SvgPath, FollowsEveryCommandToTheEndsThatTheStandardSays) {
  const auto paths = scenes::path_points("M10-5l5,5H.5V1e1zm1 1L2.5.5 3,3");
  ASSERT_EQ(paths.size(), 2u);
  EXPECT_TRUE(paths[0].closed);
  EXPECT_FALSE(paths[1].closed);
  const std::vector<Vector2d> first = {{10, -5}, {15, 0}, {.5, 0}, {.5, 10}};
  EXPECT_EQ(paths[0].points, first);
  const std::vector<Vector2d> second = {{11, -4}, {2.5, .5}, {3, 3}};  // from where Z went back to
  EXPECT_EQ(paths[1].points, second);
}

// Areas and lengths in closed form; chords are off by 2e-5 of a curve's length at most, and an area
// by that times the length: a few 1e-5 in all.
TEST(SvgPath, CurvesHaveTheirAreaAndLength) {
  const auto circle = scenes::path_points("M-3 0A3 3 0 0 1 3 0 3 3 0 1 1-3 0z");
  EXPECT_NEAR(area(circle[0].points), 9 * pi, 9 * pi * 1e-4);
  const auto ellipse = scenes::path_points("M0 0a5 2 0 1 0 10 0a5 2 0 1 0-10 0");
  EXPECT_NEAR(area(ellipse[0].points), 10 * pi, 10 * pi * 1e-4);
  // Under the parabola y = x (2 - x): 4/3; its length sqrt(5) + asinh(2)/2, as one Q and as a T.
  const auto parabola = scenes::path_points("M0 0Q1 2 2 0");
  EXPECT_NEAR(area(parabola[0].points), 4.0 / 3, 1e-4);
  EXPECT_NEAR(length(parabola[0].points), std::sqrt(5.0) + std::asinh(2.0) / 2, 1e-4);
  const auto waves = scenes::path_points("M0 0q1 2 2 0t2 0");
  EXPECT_NEAR(length(waves[0].points), 2 * (std::sqrt(5.0) + std::asinh(2.0) / 2), 2e-4);
  EXPECT_NEAR(waves[0].points.back().x(), 4, 1e-12);
  // An S mirrors the control point before it: a curve and its image turned by half a turn.
  const auto s = scenes::path_points("M0 0C0 1 2 1 2 0S4-1 4 0");
  EXPECT_NEAR(length(s[0].points), 2 * length(scenes::path_points("M0 0C0 1 2 1 2 0")[0].points),
              1e-6);
}

TEST(SvgPath, RefusesWhatIsNoPathAndSaysWhere) {
  for (const char* d : {"L1 1", "M", "M1", "M1 1 X", "M0 0A1 1 0 2 0 1 1", "M1 1 L", "M1e999 0",
                        "M0 0 L1,,", "M0 0 Lnan 1"}) {
    EXPECT_THROW((void)scenes::path_points(d), std::invalid_argument) << d;
  }
}

TEST(SvgTransform, AppliesTheRightmostFirst) {
  const Vector2d p =
      scenes::svg_transform("translate(10 20) rotate(90) scale(2,3)") * Vector2d(1, 1);
  EXPECT_NEAR(p.x(), 7, 1e-12);
  EXPECT_NEAR(p.y(), 22, 1e-12);
  const Vector2d q = scenes::svg_transform("rotate(180,1,1),matrix(1 0 0 1 2 0)") * Vector2d(0, 0);
  EXPECT_NEAR(q.x(), 0, 1e-12);
  EXPECT_NEAR(q.y(), 2, 1e-12);
  for (const char* text : {"spin(3)", "rotate(1,2)", "scale", "matrix(1 2 3)"}) {
    EXPECT_THROW((void)scenes::svg_transform(text), std::invalid_argument) << text;
  }
}

TEST(SvgDrawing, TellsSizeAndShapesAndPassesOverTheRest) {
  const auto drawing = scenes::read_svg(R"x(<?xml version="1.0"?>
    <svg xmlns="http://www.w3.org/2000/svg" width="20cm" height="10cm" viewBox="0 0 400 200">
      <defs><path id="no" d="M0 0h1v1z"/></defs>
      <g transform="translate(5,0)"><rect id="r" x="1" y="2" width="4" height="6"/>
      <circle id="c" cx="0" cy="0" r="2"/><text id="t">x</text></g>
      <polygon id="p" points="0,0 2,0 2,2"/></svg>)x");
  EXPECT_NEAR(drawing.unit_m.value(), 0.0005, 1e-15);
  ASSERT_EQ(drawing.shapes.size(), 3u);
  EXPECT_EQ(drawing.shapes[0].id, "r");
  EXPECT_NEAR(area(drawing.shapes[0].points), 24, 1e-12);
  EXPECT_NEAR(area(drawing.shapes[1].points), 4 * pi, 4 * pi * 1e-4);
  EXPECT_FALSE(scenes::read_svg("<svg width='90px' viewBox='0 0 1 1'/>").unit_m.has_value());
  for (const char* text : {"", "<svg>", "<html/>", "<svg><path id='x' d='M0'/></svg>",
                           "<svg><g transform='spin(1)'/></svg>"}) {
    EXPECT_THROW((void)scenes::read_svg(text), std::invalid_argument) << text;
  }
}

// ---- sewing ---------------------------------------------------------------------------------

// A box of 30 x 20 x 10 cm of five pieces, in millimetres.
constexpr double kWide = 0.30, kHigh = 0.20, kDeep = 0.10;

std::string rectangle(const std::string& id, double x, double y, double w, double h) {
  std::string text = "<rect id='" + id + "' x='" + std::to_string(x) + "' y='" + std::to_string(y) +
                     "' width='" + std::to_string(w) + "' height='" + std::to_string(h) + "'/>";
  const char* names[4] = {"tl", "tr", "br", "bl"};
  const double dx[4] = {0, w, w, 0}, dy[4] = {0, 0, h, h};
  for (int k = 0; k < 4; ++k) {
    text += "<circle id='" + id + "." + names[k] + "' cx='" + std::to_string(x + dx[k]) + "' cy='" +
            std::to_string(y + dy[k]) + "' r='1'/>";
  }
  return text;
}

std::string box_drawing() {
  return "<svg width='2000mm' viewBox='0 0 2000 900'>" + rectangle("front", 10, 10, 300, 200) +
         rectangle("back", 400, 10, 300, 200) + rectangle("left", 800, 10, 100, 200) +
         rectangle("right", 1000, 10, 100, 200) + rectangle("bottom", 10, 300, 300, 100) + "</svg>";
}

const char* const kBoxEdges = R"([
  { "edge": "front tr br", "to": "right tl bl" }, { "edge": "right tr br", "to": "back tl bl" },
  { "edge": "back tr br", "to": "left tl bl" }, { "edge": "left tr br", "to": "front tl bl" },
  { "edge": "front bl br", "to": "bottom tl tr" }, { "edge": "right bl br", "to": "bottom tr br" },
  { "edge": "back bl br", "to": "bottom br bl" }, { "edge": "left bl br", "to": "bottom bl tl" },
  { "edge": "front tl tr", "as": "opening" }, { "edge": "right tl tr", "as": "opening" },
  { "edge": "back tl tr", "as": "opening" }, { "edge": "left tl tr", "as": "opening" }])";
const char* const kBoxPieces =
    R"([{"name":"front"},{"name":"back"},{"name":"right"},{"name":"left"},
        {"name":"bottom","layers":"base","warp_angle":"-90 deg"}])";

class Pieces : public testing::Test {
 protected:
  std::filesystem::path folder =
      std::filesystem::temp_directory_path() /
      ("pieces_" + std::string(testing::UnitTest::GetInstance()->current_test_info()->name()));
  void SetUp() override { std::filesystem::create_directories(folder); }
  void TearDown() override { std::filesystem::remove_all(folder); }

  scenes::ReadResult read(const std::string& drawing, const std::string& pieces,
                          const std::string& edges, const std::string& bag = "",
                          const std::string& rest = "") {
    std::ofstream(folder / "bag.svg") << drawing;
    std::ofstream(folder / "scene.json")
        << R"({ "schema_version": 1, "kind": "tote", "name": "b", "bag": { "shape": "pieces",
             "file": "bag.svg", "pieces": )"
        << pieces << ", \"edges\": " << edges << R"(, "hem": "2 cm")" << bag << R"(},
             "layers": { "upper": [ { "material": "cotton_duck_12oz" },
               { "material": "stabilizer_nonwoven_1p7mm", "join": "sewn at edges" } ] },
             "straps": { "style": "two handles", "material": "web_nylon_44", "width": "4 cm",
               "length": "50 cm", "spacing": "12 cm", "overlap": "6 cm" },
             "contents": { "kind": "even", "mass": "2 kg" }, "support": { "kind": "hand" })"
        << rest << "}";
    return scenes::read_scene(folder / "scene.json", library());
  }
  scenes::ReadResult read_box(std::string edges, const std::string& from = "",
                              const std::string& to = "") {
    if (!from.empty()) edges.replace(edges.find(from), from.size(), to);
    return read(box_drawing(), kBoxPieces, edges);
  }
  static std::string errors(const scenes::ReadResult& read) {
    return scenes::to_text(read.diagnostics);
  }
  // Some error says so, and nothing was read.
  static void expect_error(const scenes::ReadResult& read, const std::string& words) {
    EXPECT_FALSE(read.scene.has_value());
    EXPECT_NE(errors(read).find(words), std::string::npos) << words << "\n" << errors(read);
  }
};

TEST_F(Pieces, MeasureTheBagThatComesOfThem) {
  const auto read = read_box(kBoxEdges);
  ASSERT_TRUE(read.scene) << errors(read);
  const scenes::Bag& bag = read.scene->bag;
  EXPECT_NEAR(bag.width_m, kWide, 1e-9);
  EXPECT_NEAR(bag.height_m, kHigh, 1e-9);
  EXPECT_NEAR(bag.depth_m, kDeep, 1e-9);
  EXPECT_NEAR(bag.base_width_m, kWide, 1e-9);
  const scenes::Sewing sewing = scenes::sew(bag, "cm");
  EXPECT_NEAR(sewing.opening_m, 2 * (kWide + kDeep), 1e-9);
  EXPECT_NEAR(sewing.area_m2, 2 * kHigh * (kWide + kDeep) + kWide * kDeep, 1e-9);
}

// Brought together, the pieces of a box are that box: its volume in closed form.
TEST_F(Pieces, OfABoxStandAsThatBox) {
  const auto read = read_box(kBoxEdges);
  ASSERT_TRUE(read.scene) << errors(read);
  const scenes::Pattern pattern = scenes::make_pattern(*read.scene, 0.04);
  const scenes::PatternMesh mesh = scenes::mesh_pattern(pattern, 0.04);
  double inside = 0;
  for (const auto& t : mesh.triangles) {
    const Vector3d up(0, 0, kHigh);  // the opening lies level: nothing is missing towards it
    const Vector3d a = mesh.points[t.point[0]] - up, b = mesh.points[t.point[1]] - up,
                   c = mesh.points[t.point[2]] - up;
    inside += a.dot(b.cross(c)) / 6;
  }
  EXPECT_NEAR(inside, kWide * kHigh * kDeep, 2e-3 * kWide * kHigh * kDeep);
  // Its front looks along +y, its left is at +x.
  for (const scenes::PatternFace& face : pattern.faces) {
    Vector3d middle = Vector3d::Zero();
    for (const Vector2d& uv : face.outline) {
      middle += face.place(uv) / static_cast<double>(face.outline.size());
    }
    if (face.part == "front") {
      EXPECT_NEAR(middle.y(), kDeep / 2, 1e-3);
    }
    if (face.part == "left") {
      EXPECT_NEAR(middle.x(), kWide / 2, 1e-3);
    }
    if (face.part == "bottom") {
      EXPECT_NEAR(middle.z(), 0, 1e-3);
    }
  }
}

// The same bag as the shape "gusset" of these sizes: cloth, straps and loads weigh the same, and
// what is cut is the same.
TEST_F(Pieces, OfABoxWeighAndAreCutAsTheGussetBag) {
  const auto read = read_box(kBoxEdges);
  ASSERT_TRUE(read.scene) << errors(read);
  scenes::Scene gusset = *read.scene;
  gusset.bag.shape = scenes::BagShape::kGusset;
  const auto own = scenes::library_of(*read.scene, library());
  for (const int level : {0, 1}) {
    const scenes::Tote a = scenes::build_tote(*read.scene, own, level);
    const scenes::Tote b = scenes::build_tote(gusset, own, level);
    EXPECT_NEAR(a.bag_mass_kg, b.bag_mass_kg, 2e-3 * b.bag_mass_kg);
    EXPECT_NEAR(a.model.payload_force_N.sum(), b.model.payload_force_N.sum(), 1e-9);
    EXPECT_EQ(a.attachments.size(), b.attachments.size());
    EXPECT_TRUE(a.model.contact.active());
  }
  double drawn = 0, known = 0;
  for (const auto& piece : scenes::cut_pieces(*read.scene, own)) {
    if (piece.material == "cotton_duck_12oz")
      drawn += piece.count * scenes::outline_area_m2(piece.cut_m);
  }
  for (const auto& piece : scenes::cut_pieces(gusset, own)) {
    if (piece.material == "cotton_duck_12oz")
      known += piece.count * scenes::outline_area_m2(piece.cut_m);
  }
  EXPECT_NEAR(drawn, known, 1e-9);
}

// And it hangs as the gusset bag does, on the coarse mesh, which is the same but for round-off of
// the way in which it was put together.
TEST_F(Pieces, OfABoxHangAsTheGussetBag) {
  const auto read = read_box(kBoxEdges);
  ASSERT_TRUE(read.scene) << errors(read);
  scenes::Scene pieces = *read.scene;
  pieces.solve.shapes = 0;
  pieces.mesh.size_m = 0.03;
  scenes::Scene gusset = pieces;
  gusset.bag.shape = scenes::BagShape::kGusset;
  const auto own = scenes::library_of(pieces, library());
  const auto a = studies::first_look(pieces, own, {}).findings;
  const auto b = studies::first_look(gusset, own, {}).findings;
  ASSERT_TRUE(a.converged() && b.converged());
  EXPECT_NEAR(a.bottom_sag_m, b.bottom_sag_m, 0.01 * b.bottom_sag_m);
  EXPECT_NEAR(a.strap_drop_loaded_m, b.strap_drop_loaded_m, 0.01 * b.strap_drop_loaded_m);
  EXPECT_NEAR(a.overall_lengthening_m, b.overall_lengthening_m, 0.01 * b.overall_lengthening_m);
  EXPECT_NEAR(scenes::peak_stitch_N(a), scenes::peak_stitch_N(b), 0.01 * scenes::peak_stitch_N(b));
}

// A cylinder's disc and wall: 2 pi r of wall go round the disc, whatever their chords.
TEST_F(Pieces, OfABucketHaveTheCylindersAreaAndSeams) {
  const double r = 0.1, h = 0.25, half = pi * r;
  const std::string wide = std::to_string(1e3 * half);
  const auto read = this->read(
      "<svg width='2000mm' viewBox='0 0 2000 900'>" +
          rectangle("front", 10, 10, 1e3 * half, 1e3 * h) +
          rectangle("back", 500, 10, 1e3 * half, 1e3 * h) +
          "<circle id='bottom' cx='200' cy='500' r='100'/><circle id='bottom.l' cx='100' cy='500' "
          "r='1'/><circle id='bottom.r' cx='300' cy='500' r='1'/></svg>",
      R"([{"name":"front"},{"name":"back"},{"name":"bottom","layers":"base"}])",
      R"([{ "edge": "front tr br", "to": "back tl bl" }, { "edge": "front tl bl", "to": "back tr br" },
          { "edge": "front bl br", "to": "bottom l r" }, { "edge": "back bl br", "to": "bottom r l" },
          { "edge": "front tl tr", "as": "opening" }, { "edge": "back tl tr", "as": "opening" }])");
  ASSERT_TRUE(read.scene) << errors(read);
  const scenes::Sewing sewing = scenes::sew(read.scene->bag, "cm");
  EXPECT_NEAR(sewing.area_m2, pi * r * r + 2 * pi * r * h, 1e-5);
  EXPECT_NEAR(sewing.opening_m, 2 * pi * r, 1e-6);
  // Meshed: chords that turn by 10 degrees leave out 1 - sin(a)/a = 0.5 % of the disc.
  const auto own = scenes::library_of(*read.scene, library());
  const scenes::Tote tote = scenes::build_tote(*read.scene, own, 1);
  double disc = 0, walls = 0;
  for (int i = 0; i < tote.model.mesh.n_triangles(); ++i) {
    const int region = tote.model.mesh.triangles[i].region;
    if (region == scenes::kRegionBase) disc += solver::rest_area(tote.model.mesh, i);
    if (region == scenes::kRegionUpper || region == scenes::kRegionHem) {
      walls += solver::rest_area(tote.model.mesh, i);
    }
  }
  const double chord = 10 * pi / 180;
  EXPECT_NEAR(disc, pi * r * r * std::sin(chord) / chord, 1e-3 * pi * r * r);
  EXPECT_NEAR(walls, 2 * pi * r * h, 1e-6);
}

// The back is 4 cm wider at its bottom edge than the front, and a pleat takes that in: 2 cm of
// cloth lie on 2 cm, and the seam goes on from the third mark.
std::string pleated_drawing(double fold_mm = 130, double front_mm = 150) {
  const auto mark = [](const std::string& id, double x, double y) {
    return "<circle id='" + id + "' cx='" + std::to_string(x) + "' cy='" + std::to_string(y) +
           "' r='1'/>";
  };
  return "<svg width='2000mm' viewBox='0 0 2000 900'>" + rectangle("front", 0, 0, 300, 200) +
         mark("front.p", front_mm, 200) + "<path id='back' d='M400 0h300l40 200h-340z'/>" +
         mark("back.tl", 400, 0) + mark("back.tr", 700, 0) + mark("back.br", 740, 200) +
         mark("back.bl", 400, 200) + mark("back.c", 590, 200) + mark("back.a", 550, 200) +
         mark("back.b", 440 + fold_mm, 200) + "</svg>";
}
const char* const kPleatedPieces = R"([{"name":"front"},{"name":"back"}])";
const char* const kPleatedEdges = R"([
  { "edge": "front tr br", "to": "back tl bl" }, { "edge": "front tl bl", "to": "back tr br" },
  { "edge": "front bl p", "to": "back br c" }, { "edge": "front p br", "to": "back a bl" },
  { "edge": "back c b a", "as": "pleat" },
  { "edge": "front tl tr", "as": "opening" }, { "edge": "back tl tr", "as": "opening" }])";

TEST_F(Pieces, PleatsTakeInWhatTheyFold) {
  // 110 of the front on 150 of the back beyond the pleat: not without easing.
  expect_error(this->read(pleated_drawing(130, 110), kPleatedPieces, kPleatedEdges),
               "11 cm long from bl to p");
  const auto good = this->read(pleated_drawing(), kPleatedPieces, kPleatedEdges);
  ASSERT_TRUE(good.scene) << errors(good);
  const scenes::Bag& bag = good.scene->bag;
  const scenes::Sewing sewing = scenes::sew(bag, "cm");
  ASSERT_TRUE(sewing.faults.empty());
  const int back = scenes::piece_called(bag, "back");
  const auto corner = [&](const std::string& mark) {
    const auto& marks = bag.pieces[static_cast<std::size_t>(back)].marks;
    for (std::size_t m = 0; m < marks.size(); ++m) {
      if (marks[m].name == mark) return sewing.corner[static_cast<std::size_t>(back)][m];
    }
    return -1;
  };
  EXPECT_EQ(corner("a"), corner("c"));
  EXPECT_NE(corner("a"), corner("b"));
  EXPECT_NEAR(sewing.area_m2, 0.2 * (0.3 + 0.5 * (0.3 + 0.34)), 1e-9);
  // Meshed with all its cloth.
  const auto own = scenes::library_of(*good.scene, library());
  const scenes::Tote tote = scenes::build_tote(*good.scene, own, 0);
  double cloth = 0;
  for (int t = 0; t < tote.model.mesh.n_triangles(); ++t) {
    if (scenes::is_panel(tote.model.mesh.triangles[t].region)) {
      cloth += solver::rest_area(tote.model.mesh, t);
    }
  }
  EXPECT_NEAR(cloth, sewing.area_m2, 1e-9);
}

TEST_F(Pieces, PleatsThatDoNotCloseAreRefused) {
  const std::string edges = kPleatedEdges;
  expect_error(read(pleated_drawing(115), kPleatedPieces, edges),
               "the pleat \"back c b a\" is 3.5 cm to its fold and 5 mm beyond it");
  std::string four = edges;
  four.replace(four.find("back c b a"), 10, "back c b a bl");
  expect_error(read(pleated_drawing(), kPleatedPieces, four), "a pleat has three");
}

// Marks along edges are notches of what is cut: at the bottom one allowance long, straight out.
TEST_F(Pieces, MarksAlongEdgesAreNotches) {
  const auto read = this->read(pleated_drawing(), kPleatedPieces, kPleatedEdges,
                               R"(, "seam_allowance": "12 mm")");
  ASSERT_TRUE(read.scene) << errors(read);
  int n_backs = 0;
  for (const scenes::CutPiece& piece :
       scenes::cut_pieces(*read.scene, scenes::library_of(*read.scene, library()))) {
    if (piece.name != "back, outer") continue;
    ++n_backs;
    std::string marks;
    for (const scenes::Notch& notch : piece.notches) {
      marks += notch.mark;
      ASSERT_EQ(notch.line_m.size(), 2u);
      const Vector2d inwards = notch.line_m[1] - notch.line_m[0];
      EXPECT_NEAR(inwards.x(), 0, 1e-9);
      EXPECT_NEAR(inwards.y(), 0.012, 1e-9);
    }
    EXPECT_EQ(marks, "abc");  // none at the corners
  }
  EXPECT_EQ(n_backs, 1);
}

TEST_F(Pieces, ErrorsNamePieceEdgeAndCure) {
  const std::string e = kBoxEdges;
  expect_error(read_box(e, "front tr br", "frond tr br"), "did you mean \"front\"?");
  expect_error(read_box(e, "front tr br", "front tr bx"), "no mark bx lies on the piece \"front\"");
  expect_error(read_box(e, "front tr br", "front tl br"), "between tl and br lies");
  expect_error(read_box(e, "front tr br", "front tr"), "names no edge");
  expect_error(read_box(e, "right tl bl", "right bl tl"), "with a wrong side out");
  expect_error(read_box(e, "right tl bl", "bottom tl bl"), "20 cm long from tr to br");
  expect_error(read_box(e, R"("front tl tr", "as": "opening")", R"("front tl tr")"),
               "what \"front tl tr\" is sewn to is not said");
  expect_error(read_box(e, "left tl tr", "back tl tr"), "is used twice");
  expect_error(read_box(e, R"(,
  { "edge": "back tl tr", "as": "opening" })",
                        ""),
               "from tr to tl is sewn to nothing");
  expect_error(read(box_drawing(), R"([{"name":"front"},{"name":"lid"}])", e),
               "no path with the id \"lid\"");
  expect_error(read("<svg width='2000px' viewBox='0 0 2000 900'/>", kBoxPieces, e),
               "does not say how large it is");
  expect_error(read(box_drawing(), kBoxPieces, e, R"(, "ruler": "10 cm")"),
               "no path with the id \"ruler\"");
  expect_error(
      read("<svg width='2000cm' viewBox='0 0 2000 900'>" + box_drawing().substr(44), kBoxPieces, e),
      "large as drawn");
  expect_error(read("<svg", kBoxPieces, e), "bag.svg: line 1");
}

TEST_F(Pieces, OutlinesThatCannotBeSewnAreRefused) {
  const std::string head = "<svg width='500mm' viewBox='0 0 500 500'>";
  const std::string one = R"([{"name":"front"}])", none = "[]";
  expect_error(read(head + "<path id='front' d='M0 0H300V200L100 -100z'/></svg>", one, none),
               "crosses or touches itself");
  expect_error(read(head + "<path id='front' d='M0 0H300V200'/></svg>", one, none),
               "is not closed");
  expect_error(read(head + "<path id='front' d='M0 0H300L0 60z'/></svg>", one, none),
               "has a corner of 11 degrees");
  expect_error(
      read(head + "<path id='front' d='M0 0H300V200H0z M50 50h20v20h-20z'/></svg>", one, none),
      "drawn as 2 outlines");
}

// What the four shapes are drawn as reads back to bags of the same sizes and weight.
TEST(DrawnPieces, OfEveryShapeReadBackToTheSameBag) {
  const auto folder = std::filesystem::temp_directory_path() / "drawn_pieces_test";
  std::filesystem::create_directories(folder);
  for (const char* name : {"demo", "gusset-grain", "sack", "suede"}) {
    const auto original = scenes::read_scene(
        test::source_folder() / "scenes/examples" / (std::string(name) + ".json"), library());
    ASSERT_TRUE(original.scene);
    if (original.scene->bag.upper_height_m > 0 || original.scene->bag.lengthwise_seams > 0)
      continue;
    const scenes::DrawnPieces drawn = scenes::drawn_pieces(*original.scene, "bag.svg");
    std::ofstream(folder / "bag.svg") << drawn.svg;
    std::ofstream(folder / "bag.json") << drawn.scene;
    const auto read = scenes::read_scene(folder / "bag.json", library());
    ASSERT_TRUE(read.scene) << name << scenes::to_text(read.diagnostics);
    EXPECT_NEAR(read.scene->bag.width_m, original.scene->bag.width_m, 1e-8) << name;
    EXPECT_NEAR(read.scene->bag.height_m, original.scene->bag.height_m, 1e-8) << name;
    const auto own = scenes::library_of(*read.scene, library());
    const scenes::Tote a = scenes::build_tote(*read.scene, own, 0);
    const scenes::Tote b = scenes::build_tote(*original.scene, own, 0);
    EXPECT_NEAR(a.bag_mass_kg, b.bag_mass_kg, 5e-3 * b.bag_mass_kg) << name;
    EXPECT_TRUE(a.model.contact.active()) << name;
  }
  std::filesystem::remove_all(folder);
}

}  // namespace
}  // namespace totebench
