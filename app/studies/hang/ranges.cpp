#include "totebench/studies/ranges.hpp"

#include <chrono>

#include "totebench/studies/circumstances.hpp"
#include "totebench/studies/coarser_mesh.hpp"
#include "totebench/studies/data_scatter.hpp"
#include "totebench/studies/stitch_band.hpp"

namespace totebench::studies {

void add_ranges(const scenes::Scene& scene, const materials::MaterialLibrary& library,
                HangResult& hung, const OnHangProgress& on_progress) {
  if (hung.stopped_early || hung.findings.interrupted()) return;
  const auto begin = std::chrono::steady_clock::now();
  bool going = true;
  const OnHangProgress noted = [&](const HangProgress& progress) {
    going = going && on_progress(progress);
    return going;
  };
  hung.coarser = coarser_findings(scene, library, hung, noted);
  if (going) hung.stitch_band = stitch_band(hung, noted);
  if (going) hung.data_scatter = data_scatter(scene, library, hung, noted);
  if (going) hung.circumstances = circumstances(scene, library, hung, noted);
  hung.ranges_stopped = !going;
  hung.effort.seconds +=
      std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
}

}  // namespace totebench::studies
