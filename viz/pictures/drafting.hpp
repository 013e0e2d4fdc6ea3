// What a technical drawing adds to a picture: dimensions, a scale bar, a colour bar's lettering.
#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

#include "totebench/viz/picture.hpp"

namespace totebench::viz {

inline const Colour kInk{0.13, 0.13, 0.15};
inline const Colour kSoftInk{0.42, 0.42, 0.45};

// Places in view coordinates (m). Sizes of letters, gaps and arrow heads are in pixels.
class Drafting {
 public:
  explicit Drafting(Picture& picture) : picture_(picture) {}

  void line(const std::vector<Eigen::Vector2d>& places, const Colour& colour, double width_px,
            bool on_top = true);
  void text(const Eigen::Vector2d& at, const std::string& words, int size_px, int horizontal,
            int vertical, bool bold = false, const Colour& colour = kInk);

  // A vertical dimension at `u` between heights `low` and `high`, with thin lines from where they
  // are measured (`from_u`). The words stand beside it on the side away from `from_u`.
  void vertical_dimension(double u, double low, double high, double from_u,
                          const std::string& words, bool bold);

  // A question mark in a ring, over everything.
  void question(const Eigen::Vector2d& at, const Colour& colour);

  // A bar of a round length near `wanted_px`, its left end at `at`.
  void scale_bar(const Eigen::Vector2d& at, double wanted_px, const std::string& units);

  // Ticks and title for picture.bar, which is already placed.
  void label_colour_bar();

  [[nodiscard]] double px(double pixels) const { return pixels * picture_.metres_per_px(); }

 private:
  void arrow_head(const Eigen::Vector2d& tip, double direction);
  Picture& picture_;
};

// 1, 2 or 5 times a power of ten, nearest below `value` (> 0).
[[nodiscard]] double round_below(double value);

}  // namespace totebench::viz
