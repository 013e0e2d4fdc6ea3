#include "totebench/viz/swatch_sheet.hpp"

#include <algorithm>
#include <stdexcept>

#include "viz/charts/svg_page.hpp"
#include "viz/worksheets/swatch_drawings.hpp"

namespace totebench::viz {
namespace {

constexpr double kSheetMargin = 14, kTextWidth = 182;  // mm

struct Worksheet {
  std::string name, title, purpose;
  std::vector<std::string> steps;
  std::vector<std::string> sizes;  // blanks before the table
  std::string rows_head;
  std::vector<std::string> rows;
  std::vector<std::string> typed;  // how it goes into the swatch file
};

const std::vector<std::string> kFourWays = {"warp, right side up", "warp, wrong side up",
                                            "weft, right side up", "weft, wrong side up"};

std::vector<Worksheet> worksheets(bool inch) {
  const std::string strip = inch ? "1 in wide and 8 in long" : "2.5 cm wide and 20 cm long";
  const std::string square = inch ? "8 in" : "20 cm";
  const auto size = [&](const std::string& in, const std::string& cm) { return inch ? in : cm; };
  return {
      {"mass",
       "Mass and thickness",
       "How heavy the cloth is. Nearly every other test needs it.",
       {"Press the cloth. Cut squares with a side of " + square +
            ", with the grain; mark the warp.",
        "Weigh them together: the more squares, the less the scale's step matters.",
        "Thickness is needed for plastic and board only: pile up cut pieces, smooth the pile by "
        "hand, measure its height. For one piece use a caliper and say how finely you read."},
       {"side", "pieces", "plies"},
       "reading",
       {"mass of all squares", "height of the pile"},
       {"\"mass\": [ { \"side\": \"" + square + "\", \"pieces\": 4, \"mass\": \"56 g\" } ],",
        "\"thickness\": [ { \"plies\": 10, \"height\": \"" + size("1/4 in", "6 mm") + "\" } ]"}},
      {"overhang",
       "Overhang test",
       "How stiff cloth is to bend: for cloths that hold themselves out a little.",
       {"Cut strips " + strip +
            ", some along the warp, some along the weft. Hold them by the ends.",
        "Lay a strip on the table, its end at the edge, a ruler on top with its zero at that end.",
        "Push ruler and strip slowly over the edge together. Look level from the side. Stop when "
        "the "
        "tip comes to the slope; the ruler says how far it overhangs.",
        "Turn the strip over and take the other end as well. Leave out strips that twist."},
       {"width", "strip length"},
       "overhang",
       kFourWays,
       {"\"overhang\": [",
        "  { \"direction\": \"warp\", \"face\": \"right\", \"overhang\": " +
            size("[ \"2 5/8 in\", \"2 1/2 in\" ]", "[ \"6.6 cm\", \"6.5 cm\" ]") + " } ]"}},
      {"droop",
       "Droop test",
       "How stiff cloth or stabilizer is to bend: for what is too stiff for the overhang test.",
       {"Cut strips " + strip + " or longer, some along the warp, some along the weft.",
        "Lay a strip on the table with a measured length beyond the edge. Put a book on it that "
        "ends "
        "at the edge.",
        "Wait until it hangs still. Measure from the height of the table top straight down to the "
        "tip. A drop of a tenth to a half of the overhang reads best.",
        "Turn the strip over and do it again."},
       {"width", "strip length", "overhang"},
       "drop",
       kFourWays,
       {"\"droop\": [",
        "  { \"direction\": \"warp\", \"face\": \"right\", \"overhang\": " +
            size("\"6 in\", \"drop\": [ \"1 1/8 in\" ]", "\"15 cm\", \"drop\": [ \"29 mm\" ]") +
            " } ]"}},
      {"loop",
       "Hanging loop test",
       "How stiff limp cloth is to bend: for what hangs straight down in the overhang test.",
       {"Cut strips " + std::string(size("1 in", "2.5 cm")) +
            " wide. Mark the length of the loop on one, and tape its ends to the two faces of a "
            "strip of card, marks at the upper edge, so that both ends leave it straight up.",
        "Hold the card level inside the loop, upright, its edge on top. The loop falls to both "
        "sides "
        "and hangs below like a heart.",
        "Measure from the card's upper edge down to the lowest point. A height between a sixth and "
        "a quarter of the length reads best; take a shorter loop for limp cloth.",
        "Turn the strip inside out and do it again."},
       {"width", "length of the loop"},
       "height",
       {"warp, right side out", "warp, wrong side out", "weft, right side out",
        "weft, wrong side out"},
       {"\"loop\": [", "  { \"direction\": \"warp\", \"face\": \"right\", \"length\": " +
                           size("\"6 in\", \"height\": [ \"1 1/8 in\" ]",
                                "\"16 cm\", \"height\": [ \"3.1 cm\" ]") +
                           " } ]"}},
      {"stretch",
       "Stretch test",
       "How much the cloth gives when it is pulled.",
       {"Cut strips " + std::string(size("2 in wide and 16 in", "5 cm wide and 40 cm")) +
            " long with the grain. Mark two lines across, well away from the ends, and measure the "
            "gauge length between them while the strip hangs with the empty batten only.",
        "Hang on a weight you have weighed, slowly: " + std::string(size("4 lb", "2 kg")) +
            " for a canvas. Keep feet and table clear of where it would fall.",
        "After a minute measure between the marks again. Write down how much longer it became.",
        "Take the weight off, wait, and do it again with another strip."},
       {"width", "gauge length", "weight"},
       "extension",
       {"warp", "weft"},
       {"\"stretch\": [",
        "  { \"direction\": \"warp\", \"width\": " +
            size("\"2 in\", \"gauge\": \"12 in\", \"weight\": \"4 lb\",",
                 "\"5 cm\", \"gauge\": \"30 cm\", \"weight\": \"2 kg\","),
        "    \"extension\": " + size("[ \"3/16 in\", \"1/4 in\" ]", "[ \"5 mm\", \"5 mm\" ]") +
            " } ]"}},
      {"gap",
       "Gap test",
       "How stiff a plastic sheet or a board is. Measure its thickness too (mass page).",
       {"Cut a strip about " + std::string(size("2 in", "5 cm")) + " wide and " +
            std::string(size("1 in", "2 cm")) +
            " longer than the gap. Lay it over the gap between two books of one height.",
        "Lay a narrow weight across its whole width in the middle: a row of coins, a bag of rice.",
        "Lay a straightedge from book to book and measure from under it down to the strip in the "
        "middle of its width. A sag of a fiftieth to a twentieth of the gap reads best.",
        "Turn the strip over and do it again; many sheets are bent a little from the roll."},
       {"width", "gap", "weight"},
       "sag",
       {"one side up", "turned over"},
       {"\"gap\": [",
        "  { \"direction\": \"either\", \"width\": " +
            size("\"2 in\", \"gap\": \"8 in\", \"weight\": \"5 oz\",",
                 "\"5 cm\", \"gap\": \"20 cm\", \"weight\": \"150 g\","),
        "    \"sag\": " + size("[ \"5/16 in\", \"3/8 in\" ]", "[ \"8 mm\", \"9 mm\" ]") + " } ]"}}};
}

double blank_line(SvgPage& page, Mm at, const std::vector<std::string>& names) {
  const double each = kTextWidth / static_cast<double>(names.size());
  for (std::size_t i = 0; i < names.size(); ++i) {
    const double x = at.x + each * static_cast<double>(i);
    page.words({x, at.y}, names[i]);
    const double written = 2.6 * static_cast<double>(names[i].size()) + 2;
    page.line({x + written, at.y + 0.8}, {x + each - 6, at.y + 0.8});
  }
  return at.y + 9;
}

}  // namespace

const std::vector<std::string>& worksheet_names() {
  static const std::vector<std::string> names = {"mass", "overhang", "droop",
                                                 "loop", "stretch",  "gap"};
  return names;
}

std::string worksheet_svg(const std::string& name, const std::string& units) {
  const bool inch = units == "in";
  const std::vector<Worksheet> all = worksheets(inch);
  const auto found =
      std::find_if(all.begin(), all.end(), [&](const Worksheet& w) { return w.name == name; });
  if (found == all.end()) throw std::invalid_argument("there is no worksheet \"" + name + "\"");
  const Worksheet& sheet = *found;
  SvgPage page(inch ? 215.9 : 210, inch ? 279.4 : 297, sheet.title);
  page.words({kSheetMargin, 19}, sheet.title, 7.5, -1, true);
  page.words({kSheetMargin, 27}, sheet.purpose, 4);
  draw_test(page, name, {kSheetMargin, 34});
  double y = 34 + kDrawingHeight + 9;
  for (std::size_t i = 0; i < sheet.steps.size(); ++i) {
    page.words({kSheetMargin, y}, std::to_string(i + 1), 4, -1, true);
    y = page.paragraph({kSheetMargin + 6, y}, kTextWidth - 6, sheet.steps[i], 3.7) + 1.2;
  }
  y = blank_line(page, {kSheetMargin, y + 5}, {"cloth", "date"});
  y = blank_line(page, {kSheetMargin, y}, sheet.sizes);
  std::vector<std::string> heads = {sheet.rows_head};
  for (int i = 1; i <= 4; ++i) heads.push_back(std::to_string(i));
  y = page.blanks({kSheetMargin, y - 3}, heads, sheet.rows, 50, 32) + 7;
  page.words({kSheetMargin, y}, "In the swatch file:", 3.4);
  for (const std::string& line : sheet.typed) {
    y += 5;
    page.words({kSheetMargin, y}, line, 3.2, -1, false, true);
  }
  return page.svg();
}

}  // namespace totebench::viz
