// A program of somebody else: reads a bag from a string and the materials from a folder, hangs it,
// rates it, and prints what it found.
#include <cstdio>
#include <exception>
#include <totebench/scenes/reader.hpp>
#include <totebench/studies/cautions.hpp>

constexpr const char* kBag = R"({
  "schema_version": 1, "kind": "tote", "name": "a bag from a string",
  "bag": { "shape": "boxed", "width": "30 cm", "height": "25 cm", "depth": "12 cm" },
  "layers": { "upper": [ { "material": "cotton_duck_12oz" },
                         { "material": "stabilizer_nonwoven_1mm", "join": "sewn at edges" } ] },
  "straps": { "style": "two handles", "material": "web_cotton_25", "width": "25 mm",
              "length": "50 cm", "spacing": "12 cm" },
  "base": { "kind": "stitched in", "material": "hdpe_sheet", "thickness": "2 mm" },
  "contents": { "kind": "even", "mass": "3 kg" },
  "mesh": { "size": "60 mm" },
  "solve": { "load_steps": 2, "shapes": 0 }
})";

int main(int argc, char** argv) try {
  using namespace totebench;
  if (argc < 2) return 2;
  const auto materials = materials::MaterialLibrary::load(argv[1]);
  const scenes::ReadResult read = scenes::read_scene_text(kBag, "bag", materials);
  std::fputs(scenes::to_text(read.diagnostics).c_str(), stderr);
  if (!read.scene) return 2;
  studies::RateOptions options;
  options.samples = 4;
  options.changes = false;
  int told = 0;
  const auto tell = [&](const studies::HangProgress&) { return ++told > 0; };
  const studies::RateResult result = studies::rate_tote(*read.scene, materials, options, tell);
  const scenes::Findings& found = result.hang.findings;
  std::printf("sag %.4f m, strap drop %.4f m, rated %.1f kg, told %d times\n", found.bottom_sag_m,
              found.strap_drop_loaded_m, result.rating.rated_kg, told);
  const auto cautions = studies::rating_cautions(*read.scene, result, "cm");
  for (const std::string& caution : cautions) std::printf("- %s\n", caution.c_str());
  return found.converged() && result.rated() && told > 0 && cautions.size() >= 4 ? 0 : 1;
} catch (const std::exception& error) {
  std::fprintf(stderr, "%s\n", error.what());
  return 1;
}
