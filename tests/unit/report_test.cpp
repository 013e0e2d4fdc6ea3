// The report page: whole, self-contained, true to the numbers it is made from. Whether it works in
// a browser is tested by tests/robustness/page_browser.py.
#include "totebench/viz/report.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <regex>
#include <stdexcept>

#include "app/present/advice.hpp"
#include "app/present/findings_json.hpp"
#include "app/present/report_page.hpp"
#include "reader_fixture.hpp"
#include "totebench/scenes/unit_text.hpp"
#include "totebench/viz/front_chart.hpp"
#include "totebench/viz/svg_chart.hpp"
#include "viz_sample.hpp"

namespace totebench {
namespace {

using nlohmann::json;

// Where a text stops being well-formed XML (elements that nest and close, quoted attributes, known
// entities), or nothing. The page keeps to XML's rules so that this can be said of it.
std::string not_well_formed(const std::string& text) {
  std::vector<std::string> open;
  const std::regex tag(
      "^<(/?)([A-Za-z][A-Za-z0-9:-]*)((?:\\s+[A-Za-z_:][A-Za-z0-9_:.-]*=\"[^\"<]*\")*)\\s*(/?)>");
  const std::regex entity("^&(amp|lt|gt|quot|#[0-9]+);");
  std::size_t at = text.rfind("<!DOCTYPE html>", 0) == 0 ? 15 : 0;
  while (at < text.size()) {
    if (text[at] == '&') {
      if (!std::regex_search(text.begin() + at, text.begin() + std::min(text.size(), at + 12),
                             entity)) {
        return "a bare & in: " + text.substr(at, 60);
      }
      ++at;
    } else if (text.compare(at, 9, "<![CDATA[") == 0) {
      at = text.find("]]>", at);
      if (at == std::string::npos) return "CDATA without an end";
      at += 3;
    } else if (text[at] == '<') {
      const std::size_t end = text.find('>', at);
      if (end == std::string::npos) return "a tag without an end";
      // Pictures make attributes that are too long for a regular expression.
      std::string whole = text.substr(at, end - at + 1);
      const std::size_t data = whole.find("base64,");
      if (data != std::string::npos) whole.erase(data, whole.find('"', data) - data);
      std::smatch match;
      if (!std::regex_search(whole, match, tag)) return "no tag: " + whole.substr(0, 120);
      if (match[1].length() > 0) {
        if (open.empty() || open.back() != match[2]) return "closes nothing: " + whole;
        open.pop_back();
      } else if (match[4].length() == 0) {
        open.push_back(match[2]);
      }
      at = end + 1;
    } else {
      ++at;
    }
  }
  return open.empty() ? "" : "never closed: " + open.back();
}

TEST(WellFormed, TheCheckerItselfRejects) {
  EXPECT_EQ(not_well_formed("<a b=\"c\"><d/>x &amp; y</a>"), "");
  EXPECT_NE(not_well_formed("<a><b></a></b>"), "");
  EXPECT_NE(not_well_formed("<a>x & y</a>"), "");
  EXPECT_NE(not_well_formed("<a b=c></a>"), "");
  EXPECT_NE(not_well_formed("<p>1 < 2</p>"), "");
  EXPECT_NE(not_well_formed("<p>"), "");
}

std::string content_of(const std::string& html, const std::string& id) {
  const std::string begin = "id=\"" + id + "\">";
  const std::size_t at = html.find(begin);
  if (at == std::string::npos) throw std::runtime_error("no element " + id);
  return html.substr(at + begin.size(), html.find("</script>", at) - at - begin.size());
}

std::vector<std::uint16_t> counts(const std::string& text) {
  static const std::string kDigits =
      "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::vector<unsigned char> bytes;
  unsigned all = 0;
  int bits = 0;
  for (const char c : text) {
    if (c == '=') break;
    all = all << 6 | static_cast<unsigned>(kDigits.find(c));
    bits += 6;
    if (bits >= 8) {
      bits -= 8;
      bytes.push_back(static_cast<unsigned char>(all >> bits & 255));
    }
  }
  std::vector<std::uint16_t> out;
  for (std::size_t i = 0; i + 1 < bytes.size(); i += 2) {
    out.push_back(static_cast<std::uint16_t>(bytes[i] | bytes[i + 1] << 8));
  }
  return out;
}

class ReportPage : public testing::Test {
 protected:
  void SetUp() override {
    sample::SampleTote sample = sample::make_sample();
    solver::Section section;
    section.A = Eigen::Vector3d(1e5, 1e5, 1e3).asDiagonal();
    section.D = Eigen::Vector3d(1e-4, 1e-4, 1e-5).asDiagonal();
    sample.tote.model.sections = {section};
    result_.empty = solver::start_state(sample.tote.model);
    result_.loaded = result_.empty;
    result_.loaded.x = sample.loaded_x_m;
    for (int i = 0; i <= 4; ++i) {
      solver::State between = result_.empty;
      // Not the straight way: early load does more.
      between.x += (result_.loaded.x - result_.empty.x) * std::sqrt(i / 4.0);
      result_.steps.push_back({i / 4.0, between});
    }
    result_.tote = sample.tote;
    result_.coarse = sample.tote;
    scenes::Findings& found = result_.findings;
    found.empty.status = found.loaded.status = solver::SolveStatus::kConverged;
    found.loaded_fields = solver::shell_fields(result_.tote.model, result_.loaded);
    found.weight_N = 31.4;
    found.loaded.reaction_N = {0, 0, 31.4};
    found.bottom_sag_m = 0.02345;
    found.overall_lengthening_m = 0.0345;
    found.strap_drop_empty_m = 0.2567;
    found.strap_drop_loaded_m = 0.2678;
    found.peak_panel_force_N_per_m = 456;
    found.strap_seams.resize(1);
    found.strap_seams[0].name = "front left";
    found.strap_seams[0].peak_stitch_N = 7.89;
    scenes::Utilisation used;
    used.what = "thread at the strap stitches";
    used.demand = 7.89;
    used.capacity = 40;
    used.unit = "N";
    used.ratio = 0.197;
    used.source = "S1, estimate";
    found.utilisation = {used};
    found.cautions = {"A caution with <b>signs</b> & \"quotes\"."};
    scene_ = *test::read(test::kTote).scene;
    scene_.name = "a <name> & \"more\" </script>";
  }
  std::string html() {
    json_ = app::findings_json(scene_, result_);
    return viz::page_html(
        app::hang_page(scene_, result_, test::library(), "cm", "The sentence.", json_, {}));
  }
  scenes::Scene scene_;
  studies::HangResult result_;
  std::string json_;
};

TEST_F(ReportPage, IsWellFormedSelfContainedAndLight) {
  const std::string page = html();
  EXPECT_EQ(not_well_formed(page), "");
  EXPECT_LT(page.size(), 5u << 20);
  const std::regex reference("(?:src|href|action|poster|srcset|xlink:href)=\"([^\"]{0,40})");
  for (auto it = std::sregex_iterator(page.begin(), page.end(), reference);
       it != std::sregex_iterator(); ++it) {
    EXPECT_EQ((*it)[1].str().rfind("data:", 0), 0u) << it->str();
  }
  for (const char* loader :
       {"url(", "@import", "fetch(", "XMLHttpRequest", "import(", "WebSocket"}) {
    EXPECT_EQ(page.find(loader), std::string::npos) << loader;
  }
  EXPECT_NE(page.find("<title>a &lt;name&gt; &amp; &quot;more&quot; &lt;/script&gt;</title>"),
            std::string::npos);
}

TEST_F(ReportPage, HoldsTheNumbersOfTheFindings) {
  const std::string page = html();
  EXPECT_EQ(json::parse(content_of(page, "findings")), json::parse(json_));
  for (const std::string& shown :
       {scenes::length_text(0.02345, "cm"), scenes::length_text(0.0345, "cm"),
        scenes::length_text(0.2567, "cm"), scenes::length_text(0.2678, "cm"),
        scenes::line_force_text(456, "cm"), scenes::force_text(31.4, "cm"), std::string("7.9 N"),
        std::string("20 %")}) {
    EXPECT_NE(page.find(">" + shown + "<"), std::string::npos) << shown;
  }
  EXPECT_NE(page.find("The sentence."), std::string::npos);
  EXPECT_NE(page.find("A caution with &lt;b&gt;signs"), std::string::npos);
  EXPECT_NE(page.find("from memory"), std::string::npos) << "the grades of the inputs";
}

TEST_F(ReportPage, WithoutAnEquilibriumShowsNoNumbers) {
  result_.findings.loaded.status = solver::SolveStatus::kNotConverged;
  const std::string page = html();
  EXPECT_EQ(not_well_formed(page), "");
  EXPECT_NE(page.find("No equilibrium was found"), std::string::npos);
  EXPECT_EQ(page.find(scenes::length_text(0.02345, "cm")), std::string::npos);
}

// What a person asked for comes before the full text of the cautions, and those before the rest.
TEST_F(ReportPage, TheAnswersOwnPartsComeFirst) {
  const std::string page = html();
  const auto at = [&](const char* what) {
    const std::size_t found = page.find(what);
    EXPECT_NE(found, std::string::npos) << what;
    return found;
  };
  EXPECT_LT(at("The sentence."), at("<h2>What is nearest to its strength"));
  EXPECT_LT(at("<h2>What is nearest to its strength"), at("<h2>Cautions"));
  EXPECT_LT(at("<h2>Cautions"), at("<h2>Turn it round"));
  EXPECT_LT(at("<h2>Turn it round"), at("<h2>Numbers"));
}

TEST_F(ReportPage, ANarrowScreenGetsThePictureInParts) {
  viz::Page page;
  page.picture_png = "not a picture";
  EXPECT_EQ(viz::page_html(page).find("<canvas class=\"part\""), std::string::npos);
  page.picture_parts = {{0, 0.4}, {0.35, 1}};
  const std::string html = viz::page_html(page);
  EXPECT_EQ(not_well_formed(html), "");
  EXPECT_NE(html.find("data-from=\"0.0000\" data-to=\"0.4000\""), std::string::npos);
  EXPECT_NE(html.find("data-from=\"0.3500\" data-to=\"1.0000\""), std::string::npos);
  const std::size_t once = html.find("base64,");
  EXPECT_EQ(html.find("base64,", once + 1), std::string::npos) << "the image is in it once";
}

TEST_F(ReportPage, TheModelKeepsShapesAndReadings) {
  const viz::PageModel model = app::tote_page_model("x", result_, "cm");
  ASSERT_EQ(model.steps.size(), 5u);
  EXPECT_EQ(model.stitches.size(), result_.tote.model.stitches.size());
  const json data = json::parse(viz::page_model_json(model));
  EXPECT_DOUBLE_EQ(data["steps"][4]["bottom_sag_m"].get<double>(), 0.02345);
  EXPECT_DOUBLE_EQ(data["steps"][4]["strap_drop_m"].get<double>(), 0.2678);
  // Every place of the loaded shape is found again among the numbers of the last step.
  const double grid = data["metres_per_count"].get<double>();
  const auto packed = counts(data["steps"][4]["positions"].get<std::string>());
  Eigen::Vector3d low = Eigen::Vector3d::Constant(1e9), high = -low;
  for (std::size_t i = 0; i < packed.size(); ++i) {
    const auto axis = static_cast<Eigen::Index>(i % 3);
    const double value = data["origin_m"][i % 3].get<double>() + grid * packed[i];
    low[axis] = std::min(low[axis], value);
    high[axis] = std::max(high[axis], value);
  }
  const Eigen::Matrix3Xd& x = model.steps[4].x_m;
  EXPECT_LT((low - x.rowwise().minCoeff()).norm(), 2 * grid);
  EXPECT_LT((high - x.rowwise().maxCoeff()).norm(), 2 * grid);
  EXPECT_LT(grid, 2e-5);
  EXPECT_EQ(data["fields"][0]["name"], "share of the cloth's strength");
  EXPECT_EQ(data["fields"][1]["name"], "hardest pull in the cloth");
}

TEST_F(ReportPage, StepsAreCarriedToAFinerMeshAlongTheirOwnWay) {
  // A finer mesh of the same bag, at the same two shapes.
  scenes::Tote fine = result_.tote;
  fine.model.mesh = solver::split(result_.tote.model.mesh);
  fine.part.clear();
  for (const int part : result_.tote.part) fine.part.insert(fine.part.end(), 4, part);
  solver::ShellMesh loaded = result_.tote.model.mesh;
  loaded.position = result_.loaded.x;
  const Eigen::Matrix3Xd fine_empty = fine.model.mesh.position;
  const Eigen::Matrix3Xd fine_loaded = solver::split(loaded).position;
  const viz::StepMesh from{result_.coarse, result_.empty.x, result_.loaded.x};
  const viz::StepMesh to{fine, fine_empty, fine_loaded};
  const Eigen::Matrix3Xd whole = viz::carried_over(from, result_.loaded.x, 1.0, to);
  EXPECT_LT((whole - fine_loaded).colwise().norm().maxCoeff(), 1e-12);
  const solver::State& half = result_.steps[2].state;  // at half the load, sqrt(1/2) of the way
  const Eigen::Matrix3Xd carried = viz::carried_over(from, half.x, 0.5, to);
  const Eigen::Matrix3Xd exact = fine_empty + (fine_loaded - fine_empty) * std::sqrt(0.5);
  const double way = (fine_loaded - fine_empty).colwise().norm().maxCoeff();
  EXPECT_LT((carried - exact).colwise().norm().maxCoeff(), 0.03 * way);
  const Eigen::Matrix3Xd straight = 0.5 * (fine_empty + fine_loaded);
  EXPECT_GT((straight - exact).colwise().norm().maxCoeff(), 0.15 * way) << "the test can fail";
}

TEST(LayersDrawing, BandsAreToScaleAndJoinsAreNamed) {
  std::vector<scenes::Layer> layers(3);
  layers[0].material = "quilting_cotton";
  layers[0].thickness_m = 1e-3;
  layers[1] = {"fusible_woven_light", scenes::LayerJoin::kFused, 2e-3, 0, 0};
  layers[2] = {"stabilizer_nonwoven_1mm", scenes::LayerJoin::kSewnAtEdges, 4e-3, 0, 0};
  const std::string svg = viz::layers_svg("walls", layers, test::library(), "cm");
  EXPECT_EQ(not_well_formed(svg), "");
  std::vector<double> heights;
  const std::regex band("<rect [^>]*height=\"([0-9.]+)\" fill");
  for (auto it = std::sregex_iterator(svg.begin(), svg.end(), band); it != std::sregex_iterator();
       ++it) {
    heights.push_back(std::stod((*it)[1]));
  }
  ASSERT_EQ(heights.size(), 3u);
  EXPECT_NEAR(heights[1] / heights[0], 2, 0.02);
  EXPECT_NEAR(heights[2] / heights[0], 4, 0.02);
  EXPECT_NE(svg.find("layers from the outside in, 7.00 mm"), std::string::npos);
  EXPECT_NE(viz::layers_svg("walls", layers, test::library(), "in").find("outside in, 0.276 in"),
            std::string::npos);
  EXPECT_NE(svg.find("fused over its whole face"), std::string::npos);
  EXPECT_NE(svg.find("sewn in at its edges"), std::string::npos);
}

TEST(Charts, AreWellFormedAndToScale) {
  const std::string bars = viz::bar_chart_svg(
      {"A < B", "cm", {"sag"}, {{"one & two", {2.0}}, {"three", {4.0}}, {"none", {std::nan("")}}}});
  EXPECT_EQ(not_well_formed(bars), "");
  const std::regex bar("<rect [^>]*width=\"([0-9.]+)\" height=\"17\"");
  std::vector<double> widths;
  for (auto it = std::sregex_iterator(bars.begin(), bars.end(), bar); it != std::sregex_iterator();
       ++it) {
    widths.push_back(std::stod((*it)[1]));
  }
  ASSERT_EQ(widths.size(), 2u) << "a value that is none has no bar";
  EXPECT_NEAR(widths[1] / widths[0], 2, 1e-3);
  EXPECT_NE(bars.find("not known"), std::string::npos);
  EXPECT_NE(bars.find(">2.00</text>"), std::string::npos);
  const std::string lines = viz::line_chart_svg(
      {"t", "x", "y", {{"a", {0, 1, 2}, {0, 3, 4}}, {"b", {0, 1, 2}, {1, 1, 1}}}});
  EXPECT_EQ(not_well_formed(lines), "");
}

TEST(Charts, InchesAreThoseOfARuler) {
  const std::string bars = viz::bar_chart_svg({"t", "in", {"sag"}, {{"a", {0.44}}, {"b", {2.62}}}});
  for (const char* label : {">7/16<", ">2 5/8<", ">1/2<", ">1 1/2<"}) {
    EXPECT_NE(bars.find(label), std::string::npos) << label << " in: " << bars;
  }
  EXPECT_EQ(bars.find(">0."), std::string::npos) << bars;
  viz::LineChart chart{"t", "x", "in", {{"a", {0, 8}, {0, 0.3}}}};
  chart.y_inches = true;
  const std::string small = viz::line_chart_svg(chart);
  for (const char* label : {">1/32<", ">1/16<", ">1/4<", ">5/16<", ">8<"}) {
    EXPECT_EQ(small.find(label) != std::string::npos, std::string(label) != ">1/32<") << label;
  }
  EXPECT_EQ(small.find(">0."), std::string::npos) << small;
  chart.lines[0].y = {0, 0.004};  // less than a ruler shows
  const std::string least = viz::line_chart_svg(chart);
  EXPECT_NE(least.find(">1/32<"), std::string::npos) << least;
  EXPECT_EQ(least.find("under"), std::string::npos) << least;
}

TEST(Charts, MarksThatLieOnEachOtherShareALabel) {
  viz::FrontChart chart{"t", "x", "y", std::nan(""), "", "beyond", {}};
  chart.points = {{10, 8, viz::FrontMark::kBeaten, "7"},
                  {10, 8, viz::FrontMark::kFront, "1"},
                  {30, 2, viz::FrontMark::kFront, "2"}};
  const std::string svg = viz::front_chart_svg(chart);
  EXPECT_NE(svg.find(">1, 7</text>"), std::string::npos) << svg;
  EXPECT_NE(svg.find(">2</text>"), std::string::npos) << svg;
  EXPECT_EQ(svg.find(">7</text>"), std::string::npos) << svg;
}

TEST(Charts, AFrontIsAStairBelowItsLimit) {
  viz::FrontChart chart{"mass & sag", "mass < g", "sag", 3, "limit", "beyond", {}};
  chart.points = {{10, 8, viz::FrontMark::kFront, "1"},
                  {12, 2, viz::FrontMark::kChosen, "2"},
                  {12, 6, viz::FrontMark::kMisses, ""},
                  {14, 4, viz::FrontMark::kBeaten, ""}};
  const std::string svg = viz::front_chart_svg(chart);
  EXPECT_EQ(not_well_formed(svg), "");
  std::smatch stair;
  ASSERT_TRUE(std::regex_search(svg, stair, std::regex("polyline points=\"([^\"]*)\"")));
  std::istringstream words(stair[1].str());
  std::vector<double> x;
  std::vector<double> y;
  char comma = 0;
  for (double u = 0, v = 0; words >> u >> comma >> v;) {
    x.push_back(u);
    y.push_back(v);
  }
  ASSERT_EQ(x.size(), 3u) << "along at the first height, then down to the second";
  EXPECT_LT(x[0], x[1]);
  EXPECT_EQ(x[1], x[2]);
  EXPECT_EQ(y[0], y[1]);
  EXPECT_LT(y[1], y[2]) << "less is lower, and y runs down";
  std::smatch limit;
  ASSERT_TRUE(std::regex_search(svg, limit, std::regex("y1=\"([0-9.]+)\"[^>]*stroke-dasharray")));
  EXPECT_NEAR((y[2] - std::stod(limit[1])) / (y[2] - y[1]), (3.0 - 2.0) / (8.0 - 2.0), 2e-3);
  chart.points.clear();
  chart.y_limit = std::nan("");
  EXPECT_EQ(not_well_formed(viz::front_chart_svg(chart)), "");
  EXPECT_EQ(viz::front_chart_svg(chart).find("nan"), std::string::npos);
}

TEST(Advice, FitsTheCause) {
  using solver::SolveFailure;
  EXPECT_EQ(app::advice_for(SolveFailure::kNone, false), "");
  EXPECT_EQ(app::advice_for(SolveFailure::kInterrupted, false), "");
  for (const SolveFailure cause : {SolveFailure::kStalled, SolveFailure::kTooManyIterations}) {
    EXPECT_NE(app::advice_for(cause, false).find("load_steps"), std::string::npos);
    const std::string empty = app::advice_for(cause, true);
    EXPECT_NE(empty, "");
    EXPECT_EQ(empty.find("load"), std::string::npos) << empty;  // there is none
  }
  // Smaller steps would lose the load the more.
  const std::string lost = app::advice_for(SolveFailure::kRoundOff, false);
  EXPECT_NE(lost.find("raise the load"), std::string::npos);
  EXPECT_EQ(lost.find("load_steps"), std::string::npos);
  EXPECT_NE(app::advice_for(SolveFailure::kContentsOverflow, false).find("contents"),
            std::string::npos);
}

}  // namespace
}  // namespace totebench
