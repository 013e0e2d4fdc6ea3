// cutlist.json, and the table of the pieces.
#include <fmt/format.h>

#include <cmath>

#include "app/present/cutlist_json.hpp"
#include "app/present/fields/findings.hpp"
#include "app/present/fields/schemas.hpp"
#include "totebench/scenes/cloth_to_buy.hpp"
#include "totebench/scenes/unit_text.hpp"
#include "totebench/viz/cutlist_drawing.hpp"

namespace totebench::app {
namespace {

struct Cut {
  const scenes::Scene& scene;
  const std::vector<scenes::CutPiece>& pieces;
  const materials::MaterialLibrary& library;
};

struct ToldPiece {
  const scenes::CutPiece& piece;
  const materials::MaterialLibrary& library;
};

std::vector<ToldPiece> told_pieces(const std::vector<scenes::CutPiece>& pieces,
                                   const materials::MaterialLibrary& library) {
  std::vector<ToldPiece> list;
  for (const scenes::CutPiece& piece : pieces) list.push_back({piece, library});
  return list;
}

const Fields<scenes::Notch>& notch_fields() {
  using N = scenes::Notch;
  static const auto fields =
      Fields<N>("notch", "A notch.")
          .value("mark", &N::mark, "The mark's name.")
          .value("line_m", &N::line_m,
                 "From the line to cut to the sewing line: x y of both ends.");
  return fields;
}

const Fields<ToldPiece>& piece_fields() {
  using P = scenes::CutPiece;
  using T = ToldPiece;
  const auto piece = [](auto member) {
    return [member](const T& t) { return std::invoke(member, t.piece); };
  };
  const auto size = [](auto length_m) {
    return [length_m](const T& t, const std::string& units) {
      return viz::ruler_text(std::invoke(length_m, t.piece), units);
    };
  };
  static const auto fields =
      Fields<T>("piece", "A piece to cut.")
          .value("name", piece(&P::name), "Which.")
          .shown("piece")
          .value("count", piece(&P::count), "How many alike.")
          .shown("cut", [](const T& t) { return fmt::format("{} x", t.piece.count); })
          .value("width_m", piece(&P::width_m), "Of the smallest rectangle around it, along x.")
          .shown("width", size(&P::width_m))
          .value("height_m", piece(&P::height_m), "Along y.")
          .shown("height", size(&P::height_m))
          .value("material", piece(&P::material), "Id of its material.")
          .shown("of",
                 [](const T& t) {
                   const materials::Material* material = t.library.find(t.piece.material);
                   return material == nullptr ? t.piece.material : material->name;
                 })
          .value(
              "area_m2", [](const T& t) { return scenes::outline_area_m2(t.piece.cut_m); },
              "Inside the line to cut.")
          .value("warp_angle_rad", piece(&P::grain_rad), "Of the warp from the x axis.")
          .value("note", piece(&P::note), "What is particular to it.")
          .value("by_ruler", piece(&P::by_ruler),
                 "A ruler draws it: edges along or across, corners square or rounded as the note "
                 "says.")
          .value("cut_m", piece(&P::cut_m),
                 "Line to cut, closed, counter-clockwise: x y of each corner.")
          .value("sewn_m", piece(&P::sewn_m),
                 "Sewing line, likewise; empty where nothing is added to it.")
          .list("notches", piece(&P::notches), notch_fields(),
                "Where marks of the bag's own pieces meet the edge.");
  return fields;
}

const Fields<scenes::Layout>& layout_fields() {
  using L = scenes::Layout;
  static const auto fields =
      Fields<L>("layout", "Pieces laid out on one width.")
          .value("width_m", &L::width_m, "Usable width of the goods.")
          .value("length_m", &L::length_m, "Length that is taken; 0 where a piece is wider.");
  return fields;
}

const Fields<scenes::ToBuy>& to_buy_fields() {
  using B = scenes::ToBuy;
  static const auto fields =
      Fields<B>("to_buy", "One material.")
          .value("material", &B::material, "Id of the material.")
          .list("layouts", &B::layouts, layout_fields(),
                "By width; empty for goods that are sold by the piece or the length.")
          .value("strap_length_m", &B::strap_length_m, "Of webbing or leather; else 0.")
          .value("sheet_area_m2", &B::sheet_area_m2, "Of base sheets; else 0.");
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
          "to_buy",
          [](const Cut& c) { return scenes::cloth_to_buy(c.pieces, c.library, c.scene.units); },
          to_buy_fields(), "What to buy of each material, by rows of rectangles.")
      .list(
          "pieces", [](const C& c) { return told_pieces(c.pieces, c.library); }, piece_fields(),
          "What to cut.");
  return fields;
}

const Fields<Cut>& cutlist_fields() {
  static const Fields<Cut> fields = made_cutlist_fields();
  return fields;
}

}  // namespace

std::string cutlist_json(const scenes::Scene& scene, const std::vector<scenes::CutPiece>& pieces,
                         const materials::MaterialLibrary& library) {
  return file_of(cutlist_fields(), Cut{scene, pieces, library});
}

TextTable cutlist_table(const std::vector<scenes::CutPiece>& pieces,
                        const materials::MaterialLibrary& library, const std::string& units) {
  return shown_table(piece_fields(), told_pieces(pieces, library), units);
}

TextTable to_buy_table(const std::vector<scenes::CutPiece>& pieces,
                       const materials::MaterialLibrary& library, const std::string& units) {
  TextTable table = {{"to buy", "usable width", "length"}};
  const bool inch = units == "in";
  // Shops cut eighths of a yard, or tenths of a metre.
  const double step_m = inch ? 0.9144 / 8 : 0.1;
  const auto length = [&](double length_m) {
    const double steps = std::ceil(length_m / step_m - 1e-9);
    if (!inch) return fmt::format("{:.1f} m", steps * step_m);
    return scenes::inches_text(steps / 8) + " yd";
  };
  for (const scenes::ToBuy& buy : scenes::cloth_to_buy(pieces, library, units)) {
    std::string first = library.name_of(buy.material);
    if (buy.strap_length_m > 0) table.push_back({first, "", length(buy.strap_length_m)});
    if (buy.sheet_area_m2 > 0) table.push_back({first, "", "by the piece, see its size"});
    for (const scenes::Layout& layout : buy.layouts) {
      table.push_back({first,
                       inch ? scenes::inches_text(layout.width_m / 0.0254) + " in"
                            : fmt::format("{:.0f} cm", 100 * layout.width_m),
                       layout.length_m > 0 ? length(layout.length_m) : "a piece is wider"});
      first.clear();
    }
  }
  return table;
}

std::string cutlist_schema() {
  return schema_of("What `totebench cutlist` found (cutlist.json)", cutlist_fields());
}

}  // namespace totebench::app
