#include "viz/worksheets/swatch_drawings.hpp"

#include <fmt/format.h>

#include <cmath>
#include <map>
#include <utility>

namespace totebench::viz {
namespace {

constexpr const char* kWood = "#efe6d6";
constexpr const char* kCard = "#e3ebf2";
constexpr double kSlope = 41.5 * 3.14159265358979323846 / 180;

// Draws relative to the upper left corner of its field.
class Field {
 public:
  Field(SvgPage& page, Mm origin) : page_(page), o_(origin) {}

  void box(double x, double y, double width, double height, const char* fill) {
    page_.path(fmt::format("M{:.2f},{:.2f} h{:.2f} v{:.2f} h{:.2f} Z", o_.x + x, o_.y + y, width,
                           height, -width),
               Pen::kThin, fill);
  }
  void triangle(Mm a, Mm b, Mm c, const char* fill) {
    page_.path(fmt::format("M{:.2f},{:.2f} L{:.2f},{:.2f} L{:.2f},{:.2f} Z", o_.x + a.x, o_.y + a.y,
                           o_.x + b.x, o_.y + b.y, o_.x + c.x, o_.y + c.y),
               Pen::kThin, fill);
  }
  void line(Mm a, Mm b, Pen pen = Pen::kThin) { page_.line(moved(a), moved(b), pen); }
  void curve(Mm a, Mm c1, Mm c2, Mm b, Pen pen = Pen::kThick) {
    page_.path(fmt::format("M{:.2f},{:.2f} C{:.2f},{:.2f} {:.2f},{:.2f} {:.2f},{:.2f}", o_.x + a.x,
                           o_.y + a.y, o_.x + c1.x, o_.y + c1.y, o_.x + c2.x, o_.y + c2.y,
                           o_.x + b.x, o_.y + b.y),
               pen);
  }
  void words(Mm at, const std::string& text, int anchor = -1) {
    page_.words(moved(at), text, 3.8, anchor);
  }
  void dimension(Mm a, Mm b, const std::string& text) { page_.dimension(moved(a), moved(b), text); }

 private:
  [[nodiscard]] Mm moved(Mm p) const { return {o_.x + p.x, o_.y + p.y}; }
  SvgPage& page_;
  Mm o_;
};

void table_with_edge(Field& f, double top) {
  f.box(0, top, 70, 24, kWood);
  f.words({4, top + 20}, "table");
}

// Seen from the side; the card is a right triangle with legs of 100 mm and 100 tan(41.5 deg).
void draw_overhang(Field& f) {
  const double top = 8;
  const double drop = 100 * std::tan(kSlope);
  f.triangle({70, top}, {70, top + drop}, {170, top + drop}, kCard);
  table_with_edge(f, top);
  f.line({70, top}, {170, top}, Pen::kDashed);
  f.words({132, top - 2}, "level", -1);
  f.words({122, top + 16}, "slope: 41.5° below level");
  f.line({5, top - 0.6}, {70, top - 0.6}, Pen::kThick);
  f.curve({70, top - 0.6}, {86, top - 0.4}, {102, top + 15},
          {70 + 42, top + 42 * std::tan(kSlope)});
  f.box(20, top - 5, 48, 3.6, "#fff");
  f.words({14, top - 6}, "ruler, flush with the strip's end; push both on", -1);
  f.words({116, top + 36}, "stop when the tip");
  f.words({116, top + 41}, "comes to the slope");
  f.words({75, top + 66}, "Trace this triangle on card");
  f.words({75, top + 71}, "and tape it to the table's side.");
  f.dimension({70, top + drop + 0.1}, {170, top + drop + 0.1}, "");
  f.words({75, top + 82}, "must be 10.0 cm (3 15/16 in) wide");
}

void draw_droop(Field& f) {
  const double top = 22;
  table_with_edge(f, top);
  f.line({5, top - 0.6}, {70, top - 0.6}, Pen::kThick);
  f.curve({70, top - 0.6}, {95, top - 0.2}, {125, top + 12}, {142, top + 32});
  f.line({70, top}, {165, top}, Pen::kDashed);
  f.box(52, top - 6, 18, 5, kCard);
  f.words({61, top - 8}, "book", 0);
  f.line({142, top + 32}, {165, top + 32}, Pen::kDashed);
  f.dimension({158, top}, {158, top + 32}, "drop");
  f.words({72, top + 20}, "overhang: length of cloth");
  f.words({72, top + 25}, "beyond the edge");
  f.words({72, top - 3}, "level with the table top");
}

// Seen along the edge of the card strip that holds both ends.
void draw_loop(Field& f) {
  const double x = 70, grip = 26;
  f.box(x - 0.8, grip, 1.6, 14, kCard);
  for (const double side : {-1.0, 1.0}) {
    const auto at = [&](double dx, double y) { return Mm{x + side * dx, grip + y}; };
    f.curve(at(1.4, 12), at(1.4, 8), at(1.4, 4), at(1.4, 0));
    f.curve(at(1.4, 0), at(1.4, -20), at(30, -22), at(30, 8));
    f.curve(at(30, 8), at(30, 34), at(18, 56), at(0, 56));
  }
  f.words({x + 4, grip + 6}, "card");
  f.line({x, grip}, {x + 52, grip}, Pen::kDashed);
  f.line({x, grip + 56}, {x + 52, grip + 56}, Pen::kDashed);
  f.dimension({x + 44, grip}, {x + 44, grip + 56}, "height");
  f.words({x + 62, grip - 12}, "Both ends go straight up");
  f.words({x + 62, grip - 7}, "from the card's edge.");
  f.words({x + 62, grip + 48}, "length: cloth from the edge");
  f.words({x + 62, grip + 53}, "on one side, round the loop,");
  f.words({x + 62, grip + 58}, "to the edge on the other");
}

void draw_stretch(Field& f) {
  f.box(50, 4, 60, 8, kWood);
  f.words({80, 9.5}, "clamped", 0);
  f.box(68, 12, 24, 62, "#fff");
  f.box(64, 74, 32, 6, kWood);
  f.line({80, 80}, {80, 85});
  f.box(70, 85, 20, 11, kCard);
  f.words({80, 92}, "weight", 0);
  f.line({66, 24}, {100, 24}, Pen::kDashed);
  f.line({66, 62}, {100, 62}, Pen::kDashed);
  f.dimension({97, 24}, {97, 62}, "gauge, before");
  f.words({100, 49}, "and with the weight:", -1);
  f.words({100, 54}, "extension = what it grew", -1);
  f.dimension({68, 18}, {92, 18}, "");
  f.words({66, 19}, "width", 1);
  f.words({64, 25}, "pencil mark", 1);
  f.words({64, 63}, "pencil mark", 1);
  f.words({100, 78.5}, "batten, pinned or clamped across");
}

void draw_gap(Field& f) {
  const double top = 34;
  f.box(8, top, 40, 34, kWood);
  f.box(132, top, 40, 34, kWood);
  f.line({40, top - 0.6}, {48, top - 0.6}, Pen::kThick);
  f.line({132, top - 0.6}, {140, top - 0.6}, Pen::kThick);
  f.curve({48, top - 0.6}, {70, top + 19}, {110, top + 19}, {132, top - 0.6});
  f.triangle({84, top + 13}, {96, top + 13}, {90, top + 4}, kCard);
  f.words({90, top + 19}, "weight, all across", 0);
  f.line({40, top}, {150, top}, Pen::kDashed);
  f.dimension({104, top}, {104, top + 13.4}, "sag");
  f.dimension({48, top + 27}, {132, top + 27}, "gap");
  f.words({28, top + 20}, "book", 0);
  f.words({152, top + 20}, "book", 0);
  f.words({36, top - 5}, "1 cm on each side", 0);
  f.words({90, top - 5}, "straightedge on the two edges", 0);
}

void draw_mass(Field& f) {
  f.box(14, 10, 50, 50, "#fff");
  f.dimension({14, 66}, {64, 66}, "");
  f.words({39, 72}, "side", 0);
  f.dimension({69, 10}, {69, 60}, "side");
  f.line({20, 54}, {20, 22});
  f.triangle({20, 17}, {18.6, 22}, {21.4, 22}, "#222225");
  f.words({23, 38}, "warp, along");
  f.words({23, 43}, "the selvedge");
  f.box(106, 52, 60, 8, kWood);
  f.words({136, 57.5}, "table", 0);
  for (int ply = 0; ply < 10; ++ply) f.box(112, 49.4 - 2.6 * ply, 36, 2.6, "#fff");
  f.line({110, 26}, {162, 26}, Pen::kDashed);
  f.dimension({157, 26}, {157, 52}, "height");
  f.words({130, 22}, "10 plies, smoothed by hand", 0);
}

}  // namespace

void draw_test(SvgPage& page, const std::string& name, Mm at) {
  static const std::map<std::string, void (*)(Field&)> kDrawings = {
      {"mass", draw_mass}, {"overhang", draw_overhang}, {"droop", draw_droop},
      {"loop", draw_loop}, {"stretch", draw_stretch},   {"gap", draw_gap}};
  Field field(page, at);
  kDrawings.at(name)(field);
}

}  // namespace totebench::viz
