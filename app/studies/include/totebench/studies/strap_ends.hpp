// Which way to sew a strap on: the same bag with each attachment, judged at the strap's ends alone.
// The study behind `totebench strap-ends`.
//
//   each attachment -> hang_tote -> load raised by solving until the first part of a strap's end
//   (thread or rivet, cloth at a stitch or beside the stitching, the strap at its stitching)
//   reaches its strength. The rest of the bag goes on elastically, whatever it is used to.
//
// Work of one strap's end, from the rules of the library (estimates):
//   thread   seam_thread_ratio x length of the stitching + seam_thread_ends
//   time     strap end + lines x time a line + stitches x time a stitch (+ patch)
//            bartacks, rivets: + number x time of one
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "totebench/studies/hang.hpp"
#include "totebench/studies/rate_climb.hpp"

namespace totebench::studies {

// Loads nearer than this are the same within what the meshes of two attachments resolve.
inline constexpr double kStrapEndsToldApart = 1.05;

struct StrapEnd {
  std::string name;       // "box with cross"
  bool in_scene = false;  // what the scene itself has
  scenes::Strap strap;
  std::string why_not;          // it cannot be sewn or was not solved; what follows is empty then
  scenes::Utilisation nearest;  // at a strap's end, under the set load
  FirstFailure fails;           // of a strap's end
  int fastenings = 0;           // of one end
  double thread_m = 0;          // likewise; 0 for rivets
  double sewing_s = 0;          // likewise
  [[nodiscard]] bool known() const { return why_not.empty(); }
};

struct StrapEnds {
  std::vector<StrapEnd> ends;  // the strongest first; what is not known last
  double set_mass_kg = 0;
  bool interrupted = false;
  double seconds = 0;
  // Of those that are known; nullptr where none is.
  [[nodiscard]] const StrapEnd* of_scene() const;
  // Which lie within kStrapEndsToldApart of the strongest.
  [[nodiscard]] std::vector<const StrapEnd*> strongest() const;
};

// The attachments of a scene's strap that are compared: what the scene has, and each other pattern
// in the same place with the same strap, thread and stitch length, without a patch and once with.
[[nodiscard]] std::vector<StrapEnd> strap_ends_of(const scenes::Scene& scene);

// Fills fastenings, thread_m and sewing_s.
void add_work(StrapEnd& end, const materials::MaterialLibrary& library);

// A mode of utilisations() that belongs to a strap's end.
[[nodiscard]] bool at_strap_end(const std::string& mode);

// `library` is library_of(scene, ...). `level` is the mesh, the finest unless given.
[[nodiscard]] StrapEnds compare_strap_ends(const scenes::Scene& scene,
                                           const materials::MaterialLibrary& library,
                                           const OnHangProgress& on_progress,
                                           std::optional<int> level = std::nullopt);

}  // namespace totebench::studies
