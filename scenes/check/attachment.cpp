// How the strap ends are fastened, and the thread of the seams.
#include <fmt/format.h>

#include <algorithm>

#include "scenes/check/tote_rules.hpp"
#include "totebench/scenes/attachment_patterns.hpp"

namespace totebench::scenes {
namespace {

constexpr double kLeastBetweenRows_m = 0.001;

double tex_of(const ToteUnderCheck& tote, const std::string& thread) {
  const materials::Thread* found = tote.library.find_thread(thread);
  return found != nullptr ? found->tex : 0;
}

// Of the shortest line that is sewn in stitches of `stitch_length`; 0 where there is none.
double shortest_line_m(const Strap& strap) {
  switch (strap.attachment.pattern) {
    case AttachmentPattern::kRows:
    case AttachmentPattern::kInHem:
      return strap.width_m;
    case AttachmentPattern::kBartacks:
    case AttachmentPattern::kRivets:
      return 0;
    default:
      return std::min(strap.width_m, strap.attachment.length_m);
  }
}

void check_length(const ToteUnderCheck& tote) {
  const Strap& strap = tote.scene.straps.front();
  const Attachment& a = strap.attachment;
  const std::string at = "/straps/attachment";
  if (a.top_offset_m + a.length_m > strap.overlap_m * (1 + 1e-9)) {
    tote.report.error(
        tote.report.given(at + "/length") ? at + "/length" : "/straps/overlap",
        fmt::format("the stitching ({} below the opening, {} long) is longer than the overlap ({})",
                    tote.len(a.top_offset_m), tote.len(a.length_m), tote.len(strap.overlap_m)),
        "make overlap longer, or attachment.length or top_offset shorter");
  }
  const bool rows = a.pattern == AttachmentPattern::kRows;
  if (!rows && a.length_m <= 0) {
    tote.report.error(at + "/length", "a stitched box needs a height",
                      "give length, or use the pattern \"rows\"");
  }
  if (rows && a.rows > 1 && a.length_m / (a.rows - 1) < kLeastBetweenRows_m) {
    tote.report.error(
        at + "/rows",
        fmt::format("{} rows within {} lie on each other", a.rows, tote.len(a.length_m)),
        "use fewer rows or a larger length");
  }
}

}  // namespace

void check_attachment(const ToteUnderCheck& tote) {
  const Strap& strap = tote.scene.straps.front();
  const Attachment& a = strap.attachment;
  const std::string at = "/straps/attachment";
  check_length(tote);
  const double shortest = shortest_line_m(strap);
  if (shortest > 0 && a.stitch_length_m >= shortest) {
    tote.report.error(at + "/stitch_length",
                      fmt::format("a stitch of {} is longer than the stitching ({})",
                                  tote.len(a.stitch_length_m), tote.len(shortest)),
                      "3 mm is usual");
  }
  const std::string& units = tote.scene.units;
  if (const auto f = thread_fault(tex_of(tote, tote.scene.seams.thread),
                                  tote.scene.seams.stitch_length_m, units)) {
    tote.report.error("/seams/" + f->key, f->what, f->cure);
  }
  for (const AttachmentFault& f :
       attachment_faults(strap, tote.scene.bag, tex_of(tote, a.thread), units)) {
    tote.report.error(at + "/" + f.key, f.what, f.cure);
  }
}

}  // namespace totebench::scenes
