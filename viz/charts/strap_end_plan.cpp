#include "totebench/viz/strap_end_plan.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "totebench/scenes/attachment_patterns.hpp"
#include "totebench/scenes/unit_text.hpp"
#include "viz/charts/svg_parts.hpp"

namespace totebench::viz {
namespace {

constexpr double kCellWidth = 230, kStrapWidth_px = 120;
constexpr double kTitleHeight = 24, kLineHeight = 18;
constexpr double kAboveOpening = 46;    // px of strap above the panel
constexpr double kFoot = 34;            // scale bar
constexpr double kTallestWidths = 2.2;  // strap widths below the opening before a plan is broken
constexpr double kBreakGap = 16;
constexpr double kStitchDrawn = 0.8;  // of the way to the next hole: gaps show the stitches
constexpr int kInARow = 4;
constexpr const char* kPanel = "#f3efe6";
constexpr const char* kStrap = "#d8cdb8";
constexpr const char* kThread = "#9c3d1e";

// Places on the panel, x down from the opening, as pixels; what a break takes out moves up.
class EndPlan {
 public:
  EndPlan(const StrapEndPlan& plan, const StrapEndScale& scale, const std::string& units)
      : plan_(plan), strap_(plan.strap), scale_(scale), units_(units) {
    const double whole = strap_.overlap_m;
    broken_ = whole > scale.tallest_m * (1 + 1e-9);
    kept_top_ = broken_ ? 0.68 * scale.tallest_m : whole;
    kept_end_ = broken_ ? whole - 0.25 * scale.tallest_m : whole;
    opening_ = kTitleHeight + kLineHeight * static_cast<double>(plan.lines.size()) + kAboveOpening;
  }

  [[nodiscard]] double height() const {
    return opening_ + scale_.tallest_m * scale_.px_per_m + kBreakGap + 18 + kFoot;
  }

  [[nodiscard]] std::string draw() const {
    std::string out = frame();
    out += strap();
    out += stitching();
    if (broken_) out += breaks();
    return out + scale_bar();
  }

 private:
  [[nodiscard]] double x(double across_m) const {
    return kCellWidth / 2 + across_m * scale_.px_per_m;
  }
  [[nodiscard]] double y(double below_m) const {
    if (below_m <= kept_top_ || !broken_) return opening_ + below_m * scale_.px_per_m;
    return opening_ + kept_top_ * scale_.px_per_m + kBreakGap +
           std::max(0.0, below_m - kept_end_) * scale_.px_per_m;
  }
  [[nodiscard]] bool shown(double below_m) const {
    return below_m <= kept_top_ + 1e-9 || below_m >= kept_end_ - 1e-9;
  }
  [[nodiscard]] double bottom() const { return y(strap_.overlap_m) + 14; }

  [[nodiscard]] static std::string box(double x0, double y0, double x1, double y1, const char* fill,
                                       const char* ink, double width, const char* dash = "") {
    return fmt::format(
        "<rect x=\"{:.1f}\" y=\"{:.1f}\" width=\"{:.1f}\" height=\"{:.1f}\" fill=\"{}\" "
        "stroke=\"{}\" stroke-width=\"{:g}\"{}/>\n",
        x0, y0, x1 - x0, y1 - y0, fill, ink, width,
        *dash == '\0' ? std::string() : fmt::format(" stroke-dasharray=\"{}\"", dash));
  }

  [[nodiscard]] std::string frame() const {
    std::string out = svg::text(kCellWidth / 2, 16, plan_.title, "middle", 14, svg::kInkText, true);
    double at = 16;
    for (const std::string& line : plan_.lines) {
      out += svg::text(kCellWidth / 2, at += kLineHeight, line, "middle", 13, svg::kSoftText);
    }
    out += box(6, opening_, kCellWidth - 6, bottom(), kPanel, "none", 0);
    out += svg::line(6, opening_, kCellWidth - 6, opening_, svg::kInkText, 2);
    if (plan_.hem_m > 0 && shown(plan_.hem_m)) {
      const double hem = y(plan_.hem_m);
      out += svg::line(6, hem, kCellWidth - 6, hem, svg::kSoftText, 1, "6 4");
      out += svg::text(9, hem - 4, "hem", "start", 11, svg::kSoftText);
    }
    return out;
  }

  [[nodiscard]] std::string strap() const {
    const double half = strap_.width_m / 2;
    std::string out;
    if (strap_.attachment.patch) {  // behind the panel, a quarter of the width beyond the strap
      const double beyond = strap_.width_m / 4;
      out +=
          box(x(-half - beyond), opening_ + 2, x(half + beyond),
              y(strap_.overlap_m) + beyond * scale_.px_per_m, "none", svg::kSoftText, 1.2, "3 3");
      out += svg::text(x(half + beyond) - 3, y(strap_.overlap_m) + beyond * scale_.px_per_m - 4,
                       "patch behind", "end", 11, svg::kSoftText);
    }
    const double end = y(strap_.overlap_m);
    out += box(x(-half), opening_ - kAboveOpening + 10, x(half), end, kStrap, svg::kSoftText,
               plan_.marked ? 2.4 : 1);
    return out;
  }

  [[nodiscard]] std::string stitching() const {
    const scenes::Attachment& a = strap_.attachment;
    const scenes::StitchRows rows = scenes::attachment_points(strap_);
    std::string out;
    const auto place = [&](const Eigen::Vector2d& p) {
      return Eigen::Vector2d(x(p.y()), y(a.top_offset_m + p.x()));
    };
    const auto stitch = [&](const Eigen::Vector2d& from, const Eigen::Vector2d& to) {
      const Eigen::Vector2d p = place(from), q = place(to);
      out += svg::line(p.x(), p.y(), q.x(), q.y(), kThread, 2);
    };
    for (std::size_t i = 0; i < rows.points.size(); ++i) {
      const Eigen::Vector2d& p = rows.points[i];
      if (!shown(a.top_offset_m + p.x())) continue;
      const Eigen::Vector2d at = place(p);
      if (!scenes::is_stitched(a.pattern)) {
        out += fmt::format(
            "<circle cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"{:.1f}\" fill=\"#b9b4aa\" stroke=\"{}\" "
            "stroke-width=\"1.2\"/>\n",
            at.x(), at.y(), a.rivet_cap_m / 2 * scale_.px_per_m, svg::kInkText);
      } else if (a.pattern == scenes::AttachmentPattern::kBartacks) {
        if (static_cast<int>(i) % a.tack_stitches > 0) stitch(rows.points[i - 1], p);
      } else if (i < rows.arms.size() && !rows.arms[i].empty()) {
        for (const Eigen::Vector2d& arm : rows.arms[i]) stitch(p, p + kStitchDrawn * arm);
      } else {
        out += fmt::format("<circle cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"2\" fill=\"{}\"/>\n", at.x(),
                           at.y(), kThread);
      }
    }
    return out;
  }

  // Two wavy lines where a long end is left out.
  [[nodiscard]] std::string breaks() const {
    std::string out = box(4, y(kept_top_) + 1, kCellWidth - 4, y(kept_top_) + kBreakGap - 1,
                          "#ffffff", "none", 0);
    for (const double at : {y(kept_top_), y(kept_top_) + kBreakGap}) {
      std::string points;
      for (int i = 0; i <= 20; ++i) {
        points += fmt::format("{:.1f},{:.1f} ", 4 + i * (kCellWidth - 8) / 20,
                              at + (i % 2 == 0 ? -2.5 : 2.5));
      }
      out += fmt::format("<polyline points=\"{}\" fill=\"none\" stroke=\"{}\"/>\n", points,
                         svg::kSoftText);
    }
    return out;
  }

  [[nodiscard]] std::string scale_bar() const {
    const bool inch = units_ == "in";
    const double length = inch ? 0.0254 : 0.02;
    const double from = kCellWidth / 2 - length * scale_.px_per_m / 2, at = height() - 12;
    const double to = from + length * scale_.px_per_m;
    return svg::line(from, at, to, at, svg::kInkText, 1.5) +
           svg::line(from, at - 4, from, at + 4, svg::kInkText, 1.5) +
           svg::line(to, at - 4, to, at + 4, svg::kInkText, 1.5) +
           svg::text(to + 6, at + 4, inch ? "1 in" : "2 cm", "start", 11, svg::kSoftText);
  }

  const StrapEndPlan& plan_;
  const scenes::Strap& strap_;
  StrapEndScale scale_;
  const std::string& units_;
  bool broken_ = false;
  double kept_top_ = 0, kept_end_ = 0, opening_ = 0;
};

}  // namespace

StrapEndScale scale_for(const std::vector<StrapEndPlan>& plans) {
  double widest = 1e-3, tallest = 0;
  for (const StrapEndPlan& plan : plans) widest = std::max(widest, plan.strap.width_m);
  for (const StrapEndPlan& plan : plans) tallest = std::max(tallest, plan.strap.overlap_m);
  return {kStrapWidth_px / widest, std::min(tallest, kTallestWidths * widest)};
}

std::string strap_end_svg(const StrapEndPlan& plan, const StrapEndScale& scale,
                          const std::string& units) {
  const EndPlan drawn(plan, scale, units);
  return svg::begin(kCellWidth, std::ceil(drawn.height()), plan.title) + drawn.draw() + "</svg>\n";
}

std::string strap_ends_svg(const std::vector<StrapEndPlan>& plans, const std::string& units) {
  const StrapEndScale scale = scale_for(plans);
  double tall = 0;
  for (const StrapEndPlan& plan : plans) {
    tall = std::max(tall, EndPlan(plan, scale, units).height());
  }
  const int n = static_cast<int>(plans.size()), rows = (n + kInARow - 1) / kInARow;
  std::string out = svg::begin(kCellWidth * std::min(n, kInARow), std::ceil(tall * rows),
                               "Ways to sew the strap on, at one scale");
  for (int i = 0; i < n; ++i) {
    out += fmt::format("<g transform=\"translate({:g} {:.1f})\">\n", kCellWidth * (i % kInARow),
                       tall * (i / kInARow)) +
           EndPlan(plans[static_cast<std::size_t>(i)], scale, units).draw() + "</g>\n";
  }
  return out + "</svg>\n";
}

}  // namespace totebench::viz
