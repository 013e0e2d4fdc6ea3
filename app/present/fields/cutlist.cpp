// cutlist.json.
#include "app/present/cutlist_json.hpp"
#include "app/present/fields/findings.hpp"
#include "app/present/fields/schemas.hpp"

namespace totebench::app {
namespace {

struct Cut {
  const scenes::Scene& scene;
  const std::vector<scenes::CutPiece>& pieces;
};

const Fields<scenes::CutPiece>& piece_fields() {
  using P = scenes::CutPiece;
  static const auto fields =
      Fields<P>("piece", "A piece to cut.")
          .value("name", &P::name, "Which.")
          .value("material", &P::material, "Id of its material.")
          .value("count", &P::count, "How many alike.")
          .value("width_m", &P::width_m, "Of the smallest rectangle around it, along x.")
          .value("height_m", &P::height_m, "Along y.")
          .value(
              "area_m2", [](const P& p) { return scenes::outline_area_m2(p.cut_m); },
              "Inside the line to cut.")
          .value("warp_angle_rad", &P::grain_rad, "Of the warp from the x axis.")
          .value("note", &P::note, "What to mind with it.")
          .value("cut_m", &P::cut_m, "Line to cut, closed, counter-clockwise: x y of each corner.")
          .value("sewn_m", &P::sewn_m,
                 "Sewing line, likewise; empty where nothing is added to it.");
  return fields;
}

Fields<Cut> made_cutlist_fields() {
  using C = Cut;
  auto fields = result_fields<C>("cutlist", "The sizes to cut.", "cutlist",
                                 [](const C& x) { return x.scene.name; });
  fields
      .value(
          "seam_allowance_m", [](const C& c) { return c.scene.bag.seam_allowance_m; },
          "Seam allowance.")
      .value(
          "hem_m", [](const C& c) { return c.scene.bag.hem_m; }, "Hem at the opening.")
      .list(
          "pieces", [](const C& c) -> const std::vector<scenes::CutPiece>& { return c.pieces; },
          piece_fields(), "What to cut.");
  return fields;
}

const Fields<Cut>& cutlist_fields() {
  static const Fields<Cut> fields = made_cutlist_fields();
  return fields;
}

}  // namespace

std::string cutlist_json(const scenes::Scene& scene, const std::vector<scenes::CutPiece>& pieces) {
  return file_of(cutlist_fields(), Cut{scene, pieces});
}

std::string cutlist_schema() {
  return schema_of("What `totebench cutlist` found (cutlist.json)", cutlist_fields());
}

}  // namespace totebench::app
