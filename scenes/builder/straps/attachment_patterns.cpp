#include "totebench/scenes/attachment_patterns.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "scenes/format/told_length.hpp"
#include "totebench/scenes/units.hpp"

namespace totebench::scenes {
namespace {

using Eigen::Vector2d;

constexpr double kThreadDensity_kg_per_m3 = 850;
constexpr double kThreadsPerStitch = 5;

double half_stitched(double strap_width_m) {
  return strap_width_m / 2 - std::min(kStitchEdgeDistance_m, strap_width_m / 6);
}

int steps_in(double length_m, double stitch_length_m) {
  return std::max(1, static_cast<int>(std::lround(length_m / stitch_length_m)));
}

// Stitches on the line from a to b, both ends included.
void add_line(const Vector2d& a, const Vector2d& b, double stitch_length_m, StitchRows& rows) {
  const int n = steps_in((b - a).norm(), stitch_length_m);
  for (int i = 0; i <= n; ++i) {
    rows.points.emplace_back(a + (b - a) * (static_cast<double>(i) / n));
  }
  rows.line_length_m += (b - a).norm();
}

StitchRows bartacks(const Strap& strap) {
  const Attachment& a = strap.attachment;
  const double half = half_stitched(strap.width_m);
  const double free = a.length_m - a.tack_width_m;
  StitchRows rows;
  for (int r = 0; r < a.rows; ++r) {
    const double middle = a.tack_width_m / 2 + (a.rows > 1 ? free * r / (a.rows - 1) : 0.0);
    for (int i = 0; i < a.tack_stitches; ++i) {
      const double side = i % 2 == 0 ? -0.5 : 0.5;
      const double across = 2 * half * i / std::max(1, a.tack_stitches - 1) - half;
      rows.points.emplace_back(middle + side * a.tack_width_m, across);
    }
  }
  rows.line_length_m = static_cast<double>(rows.points.size()) * fastening_spacing_m(strap);
  return rows;
}

StitchRows rivets(const Attachment& a) {
  StitchRows rows;
  for (int r = 0; r < a.rows; ++r) {
    const double free = a.length_m - a.rivet_cap_m;
    rows.points.emplace_back(a.rivet_cap_m / 2 + (a.rows > 1 ? free * r / (a.rows - 1) : 0.0), 0.0);
  }
  rows.line_length_m = a.rows * a.rivet_cap_m;
  return rows;
}

StitchRows in_hem(const Strap& strap) {
  const double half = half_stitched(strap.width_m);
  StitchRows rows;
  for (const double below : {0.0, strap.attachment.length_m}) {
    add_line({below, -half}, {below, half}, strap.attachment.stitch_length_m, rows);
  }
  return rows;
}

// The box's own sides are part of the long edge lines, so those begin where the box ends.
StitchRows to_base(const Strap& strap) {
  const Attachment& a = strap.attachment;
  Attachment box = a;
  box.pattern = AttachmentPattern::kBoxCross;
  StitchRows rows = stitch_rows(box, strap.width_m);
  const double half = half_stitched(strap.width_m);
  const double end = strap.overlap_m - a.top_offset_m;
  for (const double side : {-half, half}) {
    const double first = a.length_m + a.stitch_length_m;  // the box has a stitch in its corner
    if (first < end) add_line({first, side}, {end, side}, a.stitch_length_m, rows);
  }
  const double inner = half - a.stitch_length_m;
  if (inner > 0) add_line({end, -inner}, {end, inner}, a.stitch_length_m, rows);
  return rows;
}

StitchRows points_of(const Strap& strap) {
  switch (strap.attachment.pattern) {
    case AttachmentPattern::kBartacks:
      return bartacks(strap);
    case AttachmentPattern::kRivets:
      return rivets(strap.attachment);
    case AttachmentPattern::kInHem:
      return in_hem(strap);
    case AttachmentPattern::kToBase:
      return to_base(strap);
    default:
      return stitch_rows(strap.attachment, strap.width_m);
  }
}

// How far a fastening reaches around its point.
double reach_m(const Attachment& a) {
  return a.pattern == AttachmentPattern::kRivets ? a.rivet_cap_m / 2 : 0.0;
}

}  // namespace

double fastening_spacing_m(const Strap& strap) {
  const Attachment& a = strap.attachment;
  if (a.pattern == AttachmentPattern::kRivets) return a.rivet_cap_m;
  if (a.pattern == AttachmentPattern::kBartacks && a.tack_stitches > 1) {
    const double step = 2 * half_stitched(strap.width_m) / (a.tack_stitches - 1);
    return std::hypot(step, a.tack_width_m);
  }
  return a.stitch_length_m;
}

int shear_planes(AttachmentPattern pattern) { return pattern == AttachmentPattern::kInHem ? 2 : 1; }

bool is_stitched(AttachmentPattern pattern) { return pattern != AttachmentPattern::kRivets; }

double overlap_of_pattern(const Strap& strap, const Bag& bag) {
  if (strap.attachment.pattern == AttachmentPattern::kInHem) return bag.hem_m;
  if (strap.attachment.pattern == AttachmentPattern::kToBase) return bag.height_m;
  return 0;
}

double thread_diameter_m(double tex) {
  return std::sqrt(4 * tex * 1e-6 / (M_PI * kThreadDensity_kg_per_m3));
}

double shortest_stitch_m(double tex) { return kThreadsPerStitch * thread_diameter_m(tex); }

StitchRows attachment_points(const Strap& strap) {
  const Attachment& a = strap.attachment;
  StitchRows rows = points_of(strap);
  const double reach = reach_m(a);
  for (const Vector2d& p : rows.points) {
    const double below = a.top_offset_m + p.x();
    if (std::abs(p.y()) + reach > strap.width_m / 2 * (1 + 1e-9) || below - reach < -1e-9 ||
        below + reach > strap.overlap_m * (1 + 1e-9)) {
      throw std::invalid_argument(fmt::format(
          "a fastening of the strap leaves it: {:.1f} mm below the opening and {:.1f} mm beside "
          "the middle of a strap {:.1f} mm wide that ends {:.1f} mm below the opening",
          in_mm(below), in_mm(p.y()), in_mm(strap.width_m), in_mm(strap.overlap_m)));
    }
  }
  return rows;
}

std::optional<AttachmentFault> thread_fault(double tex, double stitch_length_m,
                                            const std::string& units) {
  if (!(tex > 0) || !(stitch_length_m < shortest_stitch_m(tex))) return std::nullopt;
  return AttachmentFault{
      "stitch_length",
      fmt::format("a thread of Tex {:.0f} ({} thick) is too thick for stitches of {}: the needle "
                  "cuts more cloth along the line than it leaves",
                  tex, told_length(thread_diameter_m(tex), units),
                  told_length(stitch_length_m, units)),
      fmt::format("stitches of at least {}, or a thinner thread",
                  told_at_least(shortest_stitch_m(tex), units))};
}

std::vector<AttachmentFault> attachment_faults(const Strap& strap, const Bag& bag, double tex,
                                               const std::string& units) {
  const Attachment& a = strap.attachment;
  std::vector<AttachmentFault> faults;
  const auto fault = [&faults](const char* key, std::string what, std::string cure) {
    faults.push_back({key, std::move(what), std::move(cure)});
  };
  const auto len = [&units](double metres) { return told_length(metres, units); };
  const bool tacks = a.pattern == AttachmentPattern::kBartacks;
  if (is_stitched(a.pattern) && !tacks) {
    if (auto thick = thread_fault(tex, a.stitch_length_m, units)) faults.push_back(*thick);
  }
  const double bar = tacks ? a.tack_width_m : a.rivet_cap_m;
  if ((tacks || a.pattern == AttachmentPattern::kRivets) &&
      a.rows * bar > a.length_m * (1 + 1e-9)) {
    const int most = static_cast<int>(a.length_m * (1 + 1e-9) / bar);
    fault("rows",
          fmt::format("{} {} of {} do not fit below each other in {}", a.rows,
                      tacks ? "bartacks" : "rivets", len(bar), len(a.length_m)),
          fmt::format("give {}\"length\" as {} or more; where they are not given, rows is 3 and "
                      "length the strap's width, at least {}",
                      most > 0 ? fmt::format("\"rows\" as {} or ", most) : "",
                      told_at_least(a.rows * bar, units), len(0.0254)));
  }
  if (a.pattern == AttachmentPattern::kRivets && a.rivet_cap_m > strap.width_m) {
    fault("rivet_cap",
          fmt::format("a rivet cap of {} leaves a strap {} wide", len(a.rivet_cap_m),
                      len(strap.width_m)),
          "use a smaller rivet or a wider strap");
  }
  if (tacks && strap.width_m / a.tack_stitches < 0.0003) {
    fault("tack_stitches",
          fmt::format("{} stitches do not fit in a bartack across a strap of {}", a.tack_stitches,
                      len(strap.width_m)),
          "28 to 42 stitches are usual");
  }
  if (a.pattern == AttachmentPattern::kInHem) {
    if (bag.hem_m <= 0) {
      fault("pattern", "the strap is to lie in the hem, but the bag has no hem",
            "give bag.hem, or use another pattern");
    } else if (a.top_offset_m + a.length_m > bag.hem_m * (1 + 1e-9)) {
      fault("length",
            fmt::format("the stitching reaches {} below the opening, past a hem of {}",
                        len(a.top_offset_m + a.length_m), len(bag.hem_m)),
            "make the hem deeper, or length or top_offset less");
    }
  }
  return faults;
}

}  // namespace totebench::scenes
