// Pieces to cut: held against hand arithmetic and against the mesh that is solved.
//
// Check values of trade practice (common practice, no source): seam allowances of 1/4, 3/8 and
// 5/8 in; a strip 1 1/4 in wide gives a strap of 5/8 in.
#include "totebench/scenes/cutlist.hpp"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <filesystem>
#include <numbers>
#include <regex>

#include "reader_fixture.hpp"
#include "totebench/scenes/build.hpp"
#include "totebench/scenes/cloth_to_buy.hpp"
#include "totebench/viz/cutlist_drawing.hpp"

namespace totebench {
namespace {

constexpr double kInch = 0.0254;
constexpr double kTenth_mm = 1e-4;

scenes::Scene tote(scenes::BagShape shape) {
  scenes::Scene scene = *test::read(test::kTote).scene;  // 16 by 14 by 6 in
  scene.bag.shape = shape;
  scene.bag.hem_m = kInch;
  scene.bag.seam_allowance_m = 3.0 / 8 * kInch;
  if (shape == scenes::BagShape::kRounded || shape == scenes::BagShape::kSack)
    scene.bag.depth_m = 0;
  if (shape == scenes::BagShape::kRounded) scene.bag.corner_radius_m = 0.1;
  return scene;
}

std::vector<scenes::CutPiece> cut(const scenes::Scene& scene) {
  return scenes::cut_pieces(scene, test::library());
}

scenes::CutPiece piece(const std::vector<scenes::CutPiece>& pieces, const std::string& part) {
  const auto it = std::find_if(pieces.begin(), pieces.end(), [&](const scenes::CutPiece& p) {
    return p.name.find(part) != std::string::npos;
  });
  if (it == pieces.end()) throw std::runtime_error("no piece " + part);
  return *it;
}

double mesh_area_m2(const scenes::Tote& tote, const std::function<bool(int)>& of_region) {
  double area = 0;
  const solver::ShellMesh& mesh = tote.model.mesh;
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    if (!of_region(mesh.triangles[t].region)) continue;
    const solver::Matrix36d& r = mesh.rest[t];
    area += 0.5 * (r.col(1) - r.col(0)).head<3>().cross((r.col(2) - r.col(0)).head<3>()).norm();
  }
  return area;
}

bool is_body(int region) { return region <= scenes::kRegionHem; }

TEST(Cutlist, ABoxedPanelIsWhatHandArithmeticGives) {
  for (const double allowance : {0.25, 0.375, 0.625}) {
    scenes::Scene scene = tote(scenes::BagShape::kBoxed);
    scene.bag.seam_allowance_m = allowance * kInch;
    const std::vector<scenes::CutPiece> pieces = cut(scene);
    const scenes::CutPiece panel = piece(pieces, "outer");
    EXPECT_EQ(panel.count, 2);
    EXPECT_NEAR(panel.width_m(), (16 + 6 + 2 * allowance) * kInch, 1e-9);
    EXPECT_NEAR(panel.height_m(), (14 + 3 + allowance + 1) * kInch, 1e-9);
    // The notch measured on the cut edges is half the depth whatever the allowance.
    const double whole = panel.width_m() * panel.height_m();
    EXPECT_NEAR(whole - scenes::outline_area_m2(panel.cut_m), 2 * 3 * kInch * 3 * kInch, 1e-9);
  }
}

TEST(Cutlist, BoxedCornersAndStrapMarksAreSaidInWords) {
  scenes::Scene scene = tote(scenes::BagShape::kBoxed);
  scene.straps.front().spacing_m = 5 * kInch;
  const std::string note = piece(cut(scene), "outer").note;
  for (const char* words : {"a square of 3 in by 3 in is cut from each lower corner",
                            "notch the middle of the top and bottom edges",
                            "strap end 2 1/2 in from the middle of the top edge"}) {
    EXPECT_NE(note.find(words), std::string::npos) << words << " in: " << note;
  }
  EXPECT_EQ(piece(cut(tote(scenes::BagShape::kSack)), "outer").note.find("boxed"),
            std::string::npos);
}

TEST(Cutlist, OnlyCurvesNeedAPattern) {
  for (const scenes::CutPiece& one : cut(tote(scenes::BagShape::kBoxed))) {
    EXPECT_TRUE(one.by_ruler()) << one.name;
  }
  EXPECT_FALSE(piece(cut(tote(scenes::BagShape::kRounded)), "outer").by_ruler());
}

// By hand, with 6 mm between pieces: 1.0 m wide, pieces 0.5 across by 0.4 along stand one in a row
// (two would take 1.006 m), 0.49 by 0.4 two in a row; 0.3 by 0.2 goes into what is left of the
// second row.
TEST(ClothToBuy, RowsByHand) {
  using V = Eigen::Vector2d;
  EXPECT_NEAR(scenes::packed_length_m({V(0.5, 0.4), V(0.5, 0.4)}, 1.0), 0.806, 1e-12);
  EXPECT_NEAR(scenes::packed_length_m({V(0.49, 0.4), V(0.49, 0.4)}, 1.0), 0.4, 1e-12);
  EXPECT_NEAR(scenes::packed_length_m({V(0.3, 0.2), V(0.49, 0.4), V(0.49, 0.4), V(0.49, 0.4)}, 1.0),
              0.806, 1e-12);
  EXPECT_EQ(scenes::packed_length_m({V(1.1, 0.1)}, 1.0), 0);
  EXPECT_EQ(scenes::packed_length_m({}, 1.0), 0);
}

// Two panels of 16 + 6 in and two allowances of 3/8 in, 22 3/4 in wide and 14 + 3 + 3/8 + 1 =
// 18 3/8 in along the warp. On 42 in (usable) they lie one below the other, on 54 in side by side;
// 6 mm between rows.
TEST(ClothToBuy, OfABoxedBagByHand) {
  const std::vector<scenes::CutPiece> pieces = cut(tote(scenes::BagShape::kBoxed));
  const std::vector<scenes::ToBuy> list = scenes::cloth_to_buy(pieces, test::library(), "in");
  const auto cotton = std::find_if(list.begin(), list.end(), [](const scenes::ToBuy& buy) {
    return buy.material == "quilting_cotton";
  });
  ASSERT_NE(cotton, list.end());
  ASSERT_EQ(cotton->layouts.size(), 3U);
  EXPECT_NEAR(cotton->layouts[0].width_m, 42 * kInch, 1e-12);
  EXPECT_NEAR(cotton->layouts[0].length_m, 2 * 18.375 * kInch + 0.006, 1e-9);
  EXPECT_NEAR(cotton->layouts[1].length_m, 18.375 * kInch, 1e-9);
  const auto webbing = std::find_if(list.begin(), list.end(), [](const scenes::ToBuy& buy) {
    return buy.material == "web_cotton_25";
  });
  ASSERT_NE(webbing, list.end());
  EXPECT_TRUE(webbing->layouts.empty());
  EXPECT_NEAR(webbing->strap_length_m, 2 * piece(pieces, "strap").width_m(), 1e-12);
}

// Every straight edge of the panel has its length: width, two sides, two notches, the bottom.
TEST(Cutlist, EveryEdgeHasItsLength) {
  const scenes::Scene scene = tote(scenes::BagShape::kBoxed);
  const viz::FlatDrawing drawing =
      viz::cutlist_drawing({piece(cut(scene), "outer")}, test::library(), "in");
  const auto count = [&](const std::string& text) {
    return std::count_if(drawing.words.begin(), drawing.words.end(),
                         [&](const viz::FlatWords& words) { return words.text == text; });
  };
  EXPECT_EQ(count("22 3/4 in"), 1);  // the opening
  EXPECT_EQ(count("16 3/4 in"), 1);  // between the notches
  EXPECT_EQ(count("3 in"), 4);       // of two squares
  EXPECT_EQ(count("15 3/8 in"), 2);  // sides: 18 3/8 less 3
}

TEST(Cutlist, AFoldedStrapIsCutAsWideAsItsPlies) {
  scenes::Scene scene = tote(scenes::BagShape::kBoxed);
  scenes::Strap& strap = scene.straps.front();
  strap.width_m = 5.0 / 8 * kInch;
  strap.plies = 2;
  const scenes::CutPiece strip = piece(cut(scene), "strap strip");
  EXPECT_NEAR(strip.height_m(), 1.25 * kInch, 1e-12);
  EXPECT_NEAR(strip.width_m(), strap.length_m + 2 * strap.overlap_m, 1e-12);
  EXPECT_EQ(strip.count, 2);
}

// Behind each end of two handles 1 in wide, sewn on over 2 in: allowances of 3/8 in on all sides.
TEST(Cutlist, APatchBehindAStrapEndHasItsAllowances) {
  scenes::Scene scene = tote(scenes::BagShape::kBoxed);
  scene.straps.front().attachment.patch = true;
  scene.straps.front().attachment.length_m = 2 * kInch;
  const scenes::CutPiece patch = piece(cut(scene), "patch");
  EXPECT_EQ(patch.count, 4);
  EXPECT_NEAR(patch.width_m(), 1.75 * kInch, 1e-12);
  EXPECT_NEAR(patch.height_m(), 2.75 * kInch, 1e-12);
}

TEST(Cutlist, SewnOutlinesCoverTheMeshThatIsSolved) {
  for (const scenes::BagShape shape : {scenes::BagShape::kBoxed, scenes::BagShape::kGusset,
                                       scenes::BagShape::kRounded, scenes::BagShape::kSack}) {
    scenes::Scene scene = tote(shape);
    scene.mesh.size_m = 0.04;
    const scenes::Tote solved = scenes::build_tote(scene, test::library(), 0);
    double sewn = 0;
    for (const scenes::CutPiece& p : cut(scene)) {
      if (p.name.find("outer") != std::string::npos)
        sewn += p.count * scenes::outline_area_m2(p.sewn_m);
    }
    const double meshed = mesh_area_m2(solved, is_body);
    // Rounded corners are chords in the mesh, of at most 0.2 % of a face
    // (scenes/patterns/pattern.cpp).
    const double apart =
        shape == scenes::BagShape::kRounded ? 2e-3 * meshed : kTenth_mm * std::sqrt(meshed);
    EXPECT_NEAR(sewn, meshed, apart) << static_cast<int>(shape);
  }
}

TEST(Cutlist, StrapsAndBaseSheetAreThoseOfTheMesh) {
  scenes::Scene scene = tote(scenes::BagShape::kBoxed);
  scene.base = {scenes::BaseKind::kPocket, "hdpe_sheet", 2e-3, 3e-3, 0.0};
  scene.mesh.size_m = 0.03;
  const scenes::Tote solved = scenes::build_tote(scene, test::library(), 0);
  const std::vector<scenes::CutPiece> pieces = cut(scene);
  const scenes::CutPiece sheet = piece(pieces, "base sheet");
  EXPECT_NEAR(sheet.width_m(), 16 * kInch - 6e-3, 1e-12);
  EXPECT_NEAR(sheet.height_m(), 6 * kInch - 6e-3, 1e-12);
  EXPECT_NEAR(scenes::outline_area_m2(sheet.cut_m),
              mesh_area_m2(solved, [](int r) { return r == scenes::kRegionBaseSheet; }), 1e-6);
  const scenes::CutPiece strap = piece(pieces, "strap");
  const double ribbons = mesh_area_m2(
      solved, [](int r) { return r == scenes::kRegionStrap || r == scenes::kRegionStrapHeld; });
  EXPECT_NEAR(strap.width_m(), ribbons / strap.count / scene.straps.front().width_m, kTenth_mm);
}

TEST(Cutlist, ThePocketIsTheBaseItHoldsTheSheetOn) {
  scenes::Scene scene = tote(scenes::BagShape::kBoxed);
  scene.base = {scenes::BaseKind::kPocket, "hdpe_sheet", 2e-3, 3e-3, 0.0};
  scene.mesh.size_m = 0.03;
  scenes::Layer lining, board;
  lining.material = "lining_polyester_taffeta";
  board.material = "stabilizer_nonwoven_1mm";
  lining.join = board.join = scenes::LayerJoin::kSewnAtEdges;
  scene.layers["base"] = {scene.layers["upper"].front(), lining, board};
  const std::vector<scenes::CutPiece> pieces = cut(scene);
  const scenes::CutPiece pocket = piece(pieces, "pocket");
  EXPECT_EQ(pocket.count, 1);
  EXPECT_EQ(pocket.material, "lining_polyester_taffeta") << "the innermost cloth";
  EXPECT_NEAR(pocket.width_m(), (16 + 2 * 0.375) * kInch, 1e-12);
  EXPECT_NEAR(pocket.height_m(), (6 + 2 * 0.375) * kInch, 1e-12);
  const scenes::Tote solved = scenes::build_tote(scene, test::library(), 0);
  EXPECT_NEAR(scenes::outline_area_m2(pocket.sewn_m),
              mesh_area_m2(solved, [](int r) { return r == scenes::kRegionBase; }), 1e-6);
  // The tethers of base_pocket.cpp let the sheet slide by its clearance up to this border.
  const scenes::CutPiece sheet = piece(pieces, "base sheet");
  EXPECT_NEAR(sheet.width_m() + 2 * scene.base.clearance_m, 16 * kInch, 1e-12);
  scene.base.kind = scenes::BaseKind::kStitched;
  EXPECT_THROW((void)piece(cut(scene), "pocket"), std::runtime_error);
}

TEST(Cutlist, RoundedCornersOfTheSheetAreTakenOff) {
  scenes::Scene scene = tote(scenes::BagShape::kBoxed);
  scene.base = {scenes::BaseKind::kStitched, "hdpe_sheet", 2e-3, 3e-3, 0.02};
  const scenes::CutPiece sheet = piece(cut(scene), "base sheet");
  const double square = sheet.width_m() * sheet.height_m();
  EXPECT_NEAR(square - scenes::outline_area_m2(sheet.cut_m), (4 - std::numbers::pi) * 0.02 * 0.02,
              1e-7);
}

TEST(Cutlist, SeamsAcrossAndAlongCutAPanelApart) {
  scenes::Scene scene = tote(scenes::BagShape::kGusset);
  scene.bag.upper_height_m = 5 * kInch;
  scene.bag.lengthwise_seams = 1;
  scene.layers["lower"] = scene.layers["upper"];
  const std::vector<scenes::CutPiece> pieces = cut(scene);
  const double s = scene.bag.seam_allowance_m;
  const scenes::CutPiece upper = piece(pieces, "front and back, upper part, strip 1, outer");
  EXPECT_NEAR(upper.width_m(), 8 * kInch + 2 * s, 1e-9);
  EXPECT_NEAR(upper.height_m(), 5 * kInch + s + kInch, 1e-9);
  const scenes::CutPiece lower = piece(pieces, "front and back, lower part, strip 2, outer");
  EXPECT_NEAR(lower.height_m(), 9 * kInch + 2 * s, 1e-9);
}

TEST(Cutlist, AStabilizerIsOnePieceWithoutAllowances) {
  for (const scenes::BagShape shape : {scenes::BagShape::kBoxed, scenes::BagShape::kGusset}) {
    scenes::Scene scene = tote(shape);
    scenes::Layer stiff;
    stiff.material = "stabilizer_nonwoven_1mm";
    stiff.join = scenes::LayerJoin::kSewnAtEdges;
    scene.layers["upper"].push_back(stiff);
    const scenes::CutPiece one = piece(cut(scene), "stabilizer");
    EXPECT_EQ(one.count, 1);
    EXPECT_NEAR(one.height_m(), (2 * 14 + 6) * kInch, 1e-9);
    EXPECT_NEAR(scenes::outline_area_m2(one.cut_m),
                (2 * 16 * 14 + 2 * 6 * 14 + 16 * 6) * kInch * kInch, 1e-9);
  }
}

TEST(Cutlist, AnOpeningWithoutAHemIsBound) {
  scenes::Scene scene = tote(scenes::BagShape::kBoxed);
  scene.bag.hem_m = 0;
  const scenes::CutPiece binding = piece(cut(scene), "binding");
  EXPECT_NEAR(binding.width_m(), (2 * (16 + 6) + 2 * 0.375) * kInch, 1e-9);
  scene.bag.hem_m = kInch;
  EXPECT_THROW((void)piece(cut(scene), "binding"), std::runtime_error);
}

TEST(Cutlist, FeetHaveTheirReinforcement) {
  scenes::Scene scene = tote(scenes::BagShape::kBoxed);
  scene.base = {scenes::BaseKind::kStitched, "hdpe_sheet", 2e-3, 3e-3, 0.01};
  scene.feet = {5, 0.03, 1.5 * kInch, 0.004};
  const scenes::CutPiece square = piece(cut(scene), "under a foot");
  EXPECT_EQ(square.count, 5);
  EXPECT_NEAR(square.width_m(), 1.5 * kInch, 1e-12);
}

TEST(Cutlist, ASheetIsRefused) {
  const scenes::Scene sheet = *test::read(test::kSheet).scene;
  EXPECT_THROW((void)cut(sheet), std::invalid_argument);
}

TEST(CutlistDrawing, IsTrueToScale) {
  const std::vector<scenes::CutPiece> pieces = cut(tote(scenes::BagShape::kBoxed));
  const std::string svg = viz::svg_text(viz::cutlist_drawing(pieces, test::library(), "in"));
  std::smatch size;
  ASSERT_TRUE(std::regex_search(
      svg, size,
      std::regex(
          "width=\"([0-9.]+)mm\" height=\"([0-9.]+)mm\" viewBox=\"0 0 ([0-9.]+) ([0-9.]+)\"")));
  EXPECT_EQ(size[1], size[3]) << "one unit is one millimetre";
  EXPECT_EQ(size[2], size[4]);
  EXPECT_NE(svg.find("class=\"test-square\" d=\"M15,15 L116.6,15 L116.6,116.6 L15,116.6 Z\""),
            std::string::npos);
  // Every piece is drawn with the width it has, to a hundredth of a millimetre; alike ones once.
  std::vector<double> drawn, wanted;
  const std::regex cut_path("class=\"cut\" d=\"([^\"]*)\"");
  for (auto it = std::sregex_iterator(svg.begin(), svg.end(), cut_path);
       it != std::sregex_iterator(); ++it) {
    const std::string d = (*it)[1];
    const std::regex point("[ML]([-0-9.]+),([-0-9.]+)");
    double low = 1e9, high = -1e9;
    for (auto p = std::sregex_iterator(d.begin(), d.end(), point); p != std::sregex_iterator();
         ++p) {
      low = std::min(low, std::stod((*p)[1]));
      high = std::max(high, std::stod((*p)[1]));
    }
    drawn.push_back(high - low);
  }
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    const bool again =
        std::any_of(pieces.begin(), pieces.begin() + i,
                    [&](const scenes::CutPiece& p) { return p.cut_m == pieces[i].cut_m; });
    if (!again) wanted.push_back(1e3 * pieces[i].width_m());
  }
  EXPECT_LT(wanted.size(), pieces.size()) << "cloth and fusible are cut alike";
  for (const scenes::CutPiece& p : pieces) {
    EXPECT_NE(svg.find(p.name + "</text>"), std::string::npos) << p.name;
  }
  std::sort(drawn.begin(), drawn.end());
  std::sort(wanted.begin(), wanted.end());
  ASSERT_EQ(drawn.size(), wanted.size());
  for (std::size_t i = 0; i < drawn.size(); ++i) EXPECT_NEAR(drawn[i], wanted[i], 0.01);
}

TEST(CutlistDrawing, TheSewingLineThatIsDrawnEnclosesTheMeshThatIsSolved) {
  scenes::Scene scene = tote(scenes::BagShape::kBoxed);
  scene.mesh.size_m = 0.04;
  const double meshed_mm2 =
      1e6 * mesh_area_m2(scenes::build_tote(scene, test::library(), 0), is_body);
  const viz::FlatDrawing drawing = viz::cutlist_drawing(cut(scene), test::library(), "in");
  const auto sewn = std::find_if(drawing.paths.begin(), drawing.paths.end(),
                                 [](const viz::FlatPath& path) { return path.role == "sew"; });
  ASSERT_NE(sewn, drawing.paths.end());
  std::vector<Eigen::Vector2d> points;
  for (const viz::Mm& p : sewn->runs.front()) points.emplace_back(p.x, p.y);
  EXPECT_NEAR(2 * scenes::outline_area_m2(points), meshed_mm2, 0.1 * std::sqrt(meshed_mm2));
}

TEST(CutlistDrawing, LengthsAreThoseOfARuler) {
  EXPECT_EQ(viz::ruler_text(5.0 / 8 * kInch, "in"), "5/8 in");
  EXPECT_EQ(viz::ruler_text(22.75 * kInch, "in"), "22 3/4 in");
  EXPECT_EQ(viz::ruler_text(3 * kInch, "in"), "3 in");
  EXPECT_EQ(viz::ruler_text(0.1, "in"), "3 15/16 in") << "3.937, within 0.02 mm";
  EXPECT_EQ(viz::ruler_text(0.101, "in"), "3.976 in");
  EXPECT_EQ(viz::ruler_text(0.1234, "cm"), "12.34 cm");
}

}  // namespace
}  // namespace totebench
