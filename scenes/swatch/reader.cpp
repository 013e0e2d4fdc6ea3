#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "scenes/format/json_text.hpp"
#include "scenes/format/value_reader.hpp"
#include "totebench/materials/stack.hpp"
#include "totebench/scenes/swatch.hpp"
#include "totebench/scenes/units.hpp"

namespace totebench::scenes {
namespace {

using nlohmann::json;

const JsonKind kSwatchFile = {"swatch", R"({ "schema_version": 1, "kind": "swatch", ... })"};

// Beyond these a strip says too little about its stiffness, or the coupon is not the test any more.
constexpr double kSteepestDrop = 0.94;  // of the overhang: w L^3 / B is then about 100
constexpr double kStiffestLoop = 1.03;  // times the loop without weight
constexpr double kLimpestLoop = 0.32;   // of the length between grips: w L^3 / B is then about 700
constexpr double kLongestStretch = 0.5;
constexpr double kDeepestSag = 0.05;                                     // of the gap
constexpr double kWidestStrip = 2, kWidestLoop = 0.5, kWidestSheet = 4;  // times the length tested

std::string mm_text(double length_m) { return fmt::format("{:.4g} mm", 1e3 * length_m); }

// What contradicts itself. Comparisons with a size that could not be read (NaN) stay silent.
class SwatchCheck {
 public:
  SwatchCheck(const Swatch& swatch, const materials::MaterialLibrary& library, SceneReport& report)
      : swatch_(swatch), library_(library), report_(report), error_m_(swatch.ruler_error_m) {}

  void run() {
    name();
    like();
    if (swatch_.mass.empty() && swatch_.thickness.empty() && strips_empty()) {
      report_.error("", "nothing was measured",
                    "add \"mass\", \"thickness\", \"overhang\", \"droop\", \"loop\", \"stretch\" "
                    "or \"gap\"");
    }
    for (std::size_t i = 0; i < swatch_.mass.size(); ++i) mass(i);
    for (std::size_t i = 0; i < swatch_.thickness.size(); ++i) thickness(i);
    directions({{"overhang", &swatch_.overhang},
                {"droop", &swatch_.droop},
                {"loop", &swatch_.loop},
                {"gap", &swatch_.gap}});
    directions({{"stretch", &swatch_.stretch}});
    each("overhang", "overhang", swatch_.overhang, &SwatchCheck::overhang);
    each("droop", "drop", swatch_.droop, &SwatchCheck::drop);
    each("loop", "height", swatch_.loop, &SwatchCheck::height);
    each("stretch", "extension", swatch_.stretch, &SwatchCheck::extension);
    each("gap", "sag", swatch_.gap, &SwatchCheck::sag);
  }

 private:
  using CheckReading = void (SwatchCheck::*)(const StripTest&, double, const std::string&);

  [[nodiscard]] bool strips_empty() const {
    return swatch_.overhang.empty() && swatch_.droop.empty() && swatch_.loop.empty() &&
           swatch_.stretch.empty() && swatch_.gap.empty();
  }
  [[nodiscard]] bool bent() const {
    return !(swatch_.overhang.empty() && swatch_.droop.empty() && swatch_.loop.empty() &&
             swatch_.gap.empty());
  }

  void name() {
    const std::string id = material_id(swatch_);
    if (swatch_.name.empty() || library_.find(id) == nullptr) return;
    report_.error("/name", fmt::format("the library has a material \"{}\" already", id),
                  "give your own cloth a name of its own");
  }

  void like() {
    const materials::Material* material = library_.find(swatch_.like);
    if (material == nullptr) return;
    if (material->category == "strap") {
      report_.error("/like", fmt::format("{} is a strap, not a cloth or sheet", swatch_.like),
                    "webbing is not fitted; choose a cloth, an interfacing, a stabilizer or a base "
                    "sheet");
      return;
    }
    try {
      (void)materials::ply_section(*material);
    } catch (const std::invalid_argument& error) {
      report_.error("/like", error.what(), "choose another library material");
    }
    if (is_solid_sheet(*material) && bent() && swatch_.thickness.empty()) {
      report_.error("/like",
                    fmt::format("{} is a solid sheet, and its modulus follows from how it bends "
                                "only together with its thickness",
                                swatch_.like),
                    "add \"thickness\": [{\"plies\": 1, \"height\": \"2.0 mm\", \"error\": \"0.1 "
                    "mm\"}], with your own numbers");
    }
    if (is_solid_sheet(*material) && !swatch_.stretch.empty()) {
      report_.error("/stretch", fmt::format("{} is a solid sheet", swatch_.like),
                    "its stiffness is found by bending: use the gap test");
    }
  }

  void mass(std::size_t i) {
    if (swatch_.mass[i].side_m > 0 && swatch_.mass[i].side_m <= error_m_) {
      report_.error(fmt::format("/mass/{}/side", i), "the side is no more than the ruler's error",
                    "weigh a larger square");
    }
    for (std::size_t r = 0; r < swatch_.mass[i].mass_kg.size(); ++r) {
      const double reading = swatch_.mass[i].mass_kg[r];
      if (!possible("mass", "mass", reading) || !(reading <= swatch_.scale_error_kg)) continue;
      report_.error(place(fmt::format("/mass/{}/mass", i), r),
                    "the mass is no more than the scale's reading error",
                    "weigh a larger square, or several together (\"pieces\")");
    }
  }

  void thickness(std::size_t i) {
    const ThicknessTest& test = swatch_.thickness[i];
    for (std::size_t r = 0; r < test.height_m.size(); ++r) {
      const double error = test.error_m.value_or(error_m_);
      if (!possible("thickness", "height", test.height_m[r]) || !(test.height_m[r] <= error)) {
        continue;
      }
      report_.error(place(fmt::format("/thickness/{}/height", i), r),
                    "the height is no more than the ruler's reading error",
                    "measure a pile of more plies, or say how finely you read (\"error\")");
    }
  }

  // Strips of one property are cut along warp and weft, or in no direction, not some of each.
  void directions(const std::vector<std::pair<std::string, const std::vector<StripTest>*>>& lists) {
    bool either = false, along = false;
    for (const auto& [name, tests] : lists) {
      for (std::size_t i = 0; i < tests->size(); ++i) {
        const std::string at = fmt::format("/{}/{}/direction", name, i);
        if (!report_.places().contains(at)) continue;
        const bool neither = (*tests)[i].along == CutAlong::kNeither;
        if (neither ? along : either) {
          report_.error(at, "some strips have a direction, others are cut in \"either\"",
                        "give all of them a direction, warp or weft, or none");
          return;
        }
        (neither ? either : along) = true;
      }
    }
  }

  void each(const std::string& list, const std::string& key, const std::vector<StripTest>& tests,
            CheckReading check) {
    for (std::size_t i = 0; i < tests.size(); ++i) {
      const std::string at = fmt::format("/{}/{}", list, i);
      for (std::size_t r = 0; r < tests[i].reading_m.size(); ++r) {
        const double reading = tests[i].reading_m[r];
        const std::string pointer = place(fmt::format("{}/{}", at, key), r);
        if (!possible(list, key, reading)) continue;
        if (reading <= error_m_) {
          report_.error(pointer,
                        fmt::format("a reading of {} is no more than the ruler's error of {}",
                                    mm_text(reading), mm_text(error_m_)),
                        "take a longer strip, so that there is more to read");
        } else {
          (this->*check)(tests[i], reading, pointer);
        }
      }
      width(tests[i], at);
      if (list == "droop" && tests[i].span_m > tests[i].strip_length_m) {
        too_long(tests[i].span_m, tests[i], at + "/overhang");
      }
    }
  }

  // A plate is not a strip, and its mesh would be endless.
  void width(const StripTest& test, const std::string& at) {
    if (test.reading_m.empty()) return;
    if (test.width_m > 0 && test.width_m <= error_m_) {
      report_.error(at + "/width", "the width is no more than the ruler's reading error",
                    "cut wider strips, or state a smaller \"ruler\"");
    }
    if (test.weight_kg > 0 && test.weight_kg <= swatch_.scale_error_kg) {
      report_.error(at + "/weight", "the weight is no more than the scale's reading error",
                    "hang more on it, or state a smaller \"scale\"");
    }
    const bool overhang = test.kind == StripTestKind::kOverhang;
    const double span =
        overhang ? *std::min_element(test.reading_m.begin(), test.reading_m.end()) : test.span_m;
    const double most = test.kind == StripTestKind::kGap    ? kWidestSheet
                        : test.kind == StripTestKind::kLoop ? kWidestLoop
                                                            : kWidestStrip;
    if (test.width_m > most * span) {
      report_.error(at + "/width",
                    fmt::format("a strip {} wide is no strip over a length of {}",
                                mm_text(test.width_m), mm_text(span)),
                    "cut it narrower; \"width\" is that of the strip");
    } else if (overhang && test.width_m > span) {
      report_.warning(at + "/overhang",
                      fmt::format("{} is less than the strip is wide, {}", mm_text(span),
                                  mm_text(test.width_m)),
                      "for cloth this limp use the loop test, or narrower strips");
    }
  }

  void too_long(double overhang, const StripTest& test, const std::string& pointer) {
    report_.error(pointer,
                  fmt::format("{} of overhang is longer than the strip itself, {}",
                              mm_text(overhang), mm_text(test.strip_length_m)),
                  "measure from the edge to the tip; give \"strip\" if yours is longer");
  }

  void overhang(const StripTest& test, double reading, const std::string& pointer) {
    if (reading > test.strip_length_m) too_long(reading, test, pointer);
  }

  void drop(const StripTest& test, double reading, const std::string& pointer) {
    if (reading >= test.span_m) {
      report_.error(pointer,
                    fmt::format("a tip {} beyond the edge cannot hang {} below it",
                                mm_text(test.span_m), mm_text(reading)),
                    "measure straight down from the height of the table top");
    } else if (reading + error_m_ > kSteepestDrop * (test.span_m - error_m_)) {
      report_.error(pointer, "the strip hangs nearly straight down, so its stiffness hardly shows",
                    "let less of it over the edge, or use the loop test");
    }
  }

  void height(const StripTest& test, double reading, const std::string& pointer) {
    if (reading >= 0.5 * test.span_m) {
      report_.error(pointer,
                    fmt::format("a loop of {} cannot hang lower than half of that, {}",
                                mm_text(test.span_m), mm_text(0.5 * test.span_m)),
                    "measure from the grip to the lowest point");
    } else if (reading - error_m_ <= kStiffestLoop * kWeightlessLoop * test.span_m) {
      report_.error(pointer,
                    fmt::format("a loop of {} that weighed nothing would be {} high: this one "
                                "hardly sags, so its stiffness does not show",
                                mm_text(test.span_m), mm_text(kWeightlessLoop * test.span_m)),
                    "take a longer strip, or use the overhang test");
    } else if (reading + error_m_ > kLimpestLoop * test.span_m) {
      report_.error(pointer, "the loop hangs nearly straight down, so its stiffness hardly shows",
                    "take a shorter strip");
    }
  }

  void extension(const StripTest& test, double reading, const std::string& pointer) {
    if (!(reading > kLongestStretch * test.span_m)) return;
    report_.error(
        pointer,
        fmt::format("{} is more than half of the gauge length, {}", mm_text(reading),
                    mm_text(test.span_m)),
        "give how much longer it became, not how long; for a stretchy cloth hang on less");
  }

  void sag(const StripTest& test, double reading, const std::string& pointer) {
    if (!(reading > kDeepestSag * test.span_m)) return;
    report_.error(
        pointer,
        fmt::format("a sag of {} is more than a twentieth of the gap, {}: the strip slides in",
                    mm_text(reading), mm_text(test.span_m)),
        "take a narrower gap or less weight; for cloth use the overhang test");
  }

  // What is not has been told already.
  static bool possible(const std::string& list, const std::string& key, double reading) {
    return swatch_keys().find(list)->children->find(key)->possible.contains(reading);
  }

  // Of one reading: the value itself, or the item of a list.
  [[nodiscard]] std::string place(const std::string& key, std::size_t reading) const {
    return report_.places().contains(key + "/0") ? fmt::format("{}/{}", key, reading) : key;
  }

  const Swatch& swatch_;
  const materials::MaterialLibrary& library_;
  SceneReport& report_;
  double error_m_;
};

}  // namespace

std::string material_id(const Swatch& swatch) {
  std::string id;
  for (const char c : swatch.name) {
    const auto u = static_cast<unsigned char>(c);
    id += std::isalnum(u) != 0 ? static_cast<char>(std::tolower(u)) : '_';
  }
  return id.find_first_not_of('_') == std::string::npos ? "own_cloth" : id;
}

bool is_solid_sheet(const materials::Material& material) {
  return material.has("youngs_modulus") || material.has("youngs_modulus_md");
}

SwatchResult read_swatch_text(std::string_view written, const std::string& name,
                              const materials::MaterialLibrary& library) {
  const std::string text = without_comments(written);
  Diagnostic problem;
  const std::optional<json> root = object_of_text(text, name, kSwatchFile, problem);
  if (!root) return {std::nullopt, {problem}};
  SceneReport report(name, SourceMap::of(text));
  const auto kind = root->find("kind");
  if (kind != root->end() && (*kind == "tote" || *kind == "sheet")) {
    report.error("/kind", "this is a scene, not a swatch file",
                 "totebench hang takes it; for a swatch file see totebench swatch --help");
    return {std::nullopt, report.take()};
  }
  report_duplicates(report);
  Swatch swatch;
  ValueReader reader(library, report);
  reader.set_whole(swatch_keys());
  reader.read(*root, swatch_keys(), "", &swatch);
  SwatchCheck(swatch, library, report).run();
  SwatchResult result;
  if (!report.has_errors()) result.swatch = std::move(swatch);
  result.diagnostics = report.take();
  return result;
}

SwatchResult read_swatch(const std::filesystem::path& file,
                         const materials::MaterialLibrary& library) {
  Diagnostic problem;
  const std::optional<std::string> text = text_of_file(file, kSwatchFile, problem);
  if (!text) return {std::nullopt, {problem}};
  return read_swatch_text(*text, file.string(), library);
}

}  // namespace totebench::scenes
