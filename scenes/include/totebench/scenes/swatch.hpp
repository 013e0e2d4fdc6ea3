// What a maker measured on their own cloth with a ruler and a kitchen scale. The swatch file is
// read like a scene: everything wrong is found in one run, each with its place and cure.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "totebench/materials/library.hpp"
#include "totebench/scenes/diagnostics.hpp"

namespace totebench::scenes {

// Readings are one thing measured again and again, in the order of the file.

struct MassTest {
  double side_m = 0;  // of the square
  int pieces = 1;     // weighed together
  std::vector<double> mass_kg;
};

struct ThicknessTest {
  int plies = 1;
  std::vector<double> height_m;   // of the pile
  std::optional<double> error_m;  // of a caliper, when it was not the ruler
};

enum class CutAlong { kWarp, kWeft, kNeither };  // kNeither: a cloth or sheet alike both ways
enum class FaceUp { kRight, kWrong, kNotSaid };

enum class StripTestKind {
  kOverhang,  // pushed over an edge until it touches a slope: reading = overhang
  kDroop,     // given overhang: reading = how far the tip hangs below the edge
  kLoop,      // heart loop: reading = height from the grip to the lowest point
  kStretch,   // hung with a weight: reading = how much longer the gauge length becomes
  kGap        // laid over a gap: reading = sag of the middle
};

struct StripTest {
  StripTestKind kind = StripTestKind::kOverhang;
  CutAlong along = CutAlong::kNeither;
  FaceUp face = FaceUp::kNotSaid;
  double width_m = 0;
  double strip_length_m = 0;  // overhang, droop: of the whole strip
  double angle_rad = 0;       // overhang: of the slope below the horizontal
  double span_m = 0;          // droop: overhang; loop: between grips; stretch: gauge length; gap
  double weight_kg = 0;       // stretch, gap
  std::vector<double> reading_m;
};

struct Swatch {
  int schema_version = 1;
  int kind = 0;
  std::string name;
  std::string note;
  std::string units = "cm";
  std::string like;          // library material for all that was not measured
  double ruler_error_m = 0;  // of one reading
  double scale_error_kg = 0;
  std::vector<MassTest> mass;
  std::vector<ThicknessTest> thickness;
  std::vector<StripTest> overhang, droop, loop, stretch, gap;
};

// Id of the material made from it: the name in small letters, with _ for what is neither letter nor
// digit.
[[nodiscard]] std::string material_id(const Swatch& swatch);

// A solid sheet (plastic, board) is known by its Young's modulus, cloth by its rigidities.
[[nodiscard]] bool is_solid_sheet(const materials::Material& material);

// Height of a heart loop too light to sag, over its length between grips: the elastica without
// weight ([Peirce1930] has 0.1337, from memory).
inline constexpr double kWeightlessLoop = 0.13386;

struct SwatchResult {
  std::optional<Swatch> swatch;         // nothing when there are errors
  std::vector<Diagnostic> diagnostics;  // warnings too, sorted by place
};

// Neither throws on bad input; limits of size and nesting are those of a scene file.
[[nodiscard]] SwatchResult read_swatch(const std::filesystem::path& file,
                                       const materials::MaterialLibrary& library);
[[nodiscard]] SwatchResult read_swatch_text(std::string_view text, const std::string& name,
                                            const materials::MaterialLibrary& library);

}  // namespace totebench::scenes
