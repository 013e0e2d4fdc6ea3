#include "scenes/check/scene.hpp"

#include <fmt/format.h>

#include <cmath>
#include <stdexcept>

#include "scenes/builder/tote/tote_sections.hpp"
#include "scenes/format/resolve.hpp"
#include "scenes/format/told_length.hpp"
#include "totebench/materials/stack.hpp"

namespace totebench::scenes {
namespace {

constexpr double kSlowTriangles = 15000;

}  // namespace

void check_layers(const std::vector<Layer>& layers, const std::string& pointer,
                  const materials::MaterialLibrary& library, SceneReport& report,
                  bool straps_allowed) {
  std::vector<materials::Ply> plies;
  bool complete = !layers.empty();
  for (std::size_t i = 0; i < layers.size(); ++i) {
    const Layer& layer = layers[i];
    const std::string here = fmt::format("{}/{}", pointer, i);
    const bool join_given = report.given(here + "/join");
    if (i > 0 && !join_given && report.given(here)) {
      report.error(here, fmt::format("layer {} does not say how it is joined", i + 1),
                   "add \"join\": \"fused\", \"quilted\", \"sewn at edges\" or \"loose\"");
    }
    if (i == 0 && join_given) {
      report.warning(here + "/join", "the first layer has no layer before it to be joined to",
                     "take out \"join\", or put the outermost layer first");
    }
    const materials::Material* material = library.find(layer.material);
    if (material == nullptr) {
      complete = false;
      continue;
    }
    if (material->category == "strap" && !straps_allowed) {
      report.error(here + "/material", fmt::format("{} is a strap, not a layer", layer.material),
                   "use it under straps; layers are cloth, interfacing or stabilizer");
      complete = false;
    }
    plies.push_back(ply_of(layer, material));
  }
  if (!complete) return;
  try {
    (void)materials::stack_section(library, plies);
  } catch (const std::invalid_argument& error) {
    report.error(pointer, fmt::format("these layers make no section: {}", error.what()),
                 "correct the material or leave the layer out");
  }
}

void check_triangles(const MeshUnderCheck& mesh, const TriangleLimits& limits,
                     SceneReport& report) {
  if (!(mesh.size_m > 0)) return;  // said by the reader
  const double n = triangle_count(mesh.area_m2, mesh.size_m);
  const std::string pointer = "/mesh/size";
  const auto size_for = [&](double triangles) { return mesh.size_m * std::sqrt(n / triangles); };
  const std::string usual =
      fmt::format("about \"{}\" is usual", told_length(size_for(limits.usual), mesh.units));
  // A size that was worked out is not the author's to be warned of.
  const bool own = report.given(pointer);
  if (n > kMostTriangles) {
    report.error(pointer,
                 fmt::format("a mesh this fine has about {:.2g} triangles, more than fit", n),
                 fmt::format("\"{}\" or more can be solved; {}",
                             told_at_least(size_for(kMostTriangles), mesh.units), usual));
  } else if (own && n > kSlowTriangles) {
    report.warning(pointer,
                   fmt::format("a mesh this fine has about {:.2g} triangles and takes minutes", n),
                   usual);
  } else if (n < limits.fewest) {
    report.error(pointer,
                 fmt::format("a mesh this coarse has about {:.0f} triangles, too few to bend", n),
                 usual);
  } else if (own && n < limits.few) {
    report.warning(pointer, fmt::format("a mesh this coarse has about {:.0f} triangles only", n),
                   "figures will be rough; " + usual);
  }
}

void check_scene(const Scene& scene, const materials::MaterialLibrary& library,
                 SceneReport& report) {
  if (scene.kind == SceneKind::kTote) {
    check_tote(scene, library, report);
    if (scene.choose) check_choose(*scene.choose, report);
  } else {
    check_sheet(scene, library, report);
  }
}

}  // namespace totebench::scenes
