// The picture of a hung tote: empty and loaded side by side with the sag drawn in, both cut through
// the middle, and the stitches of one strap end enlarged.
#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

#include "totebench/scenes/build.hpp"
#include "totebench/viz/bag_field.hpp"
#include "totebench/viz/picture.hpp"
#include "totebench/viz/picture_mark.hpp"

namespace totebench::viz {

// Node positions, forces and fields belong to tote.model.
struct ToteView {
  const scenes::Tote& tote;
  const Eigen::Matrix3Xd& empty_x_m;
  const Eigen::Matrix3Xd& loaded_x_m;
  const ShownField& colour;                 // of the loaded bag
  const Eigen::Matrix3Xd& stitch_forces_N;  // may have no columns
  std::string units;                        // in, cm, si
  std::string load_text;                    // "with 8 kg"
  double bottom_sag_m = 0;                  // as in Findings, for the caption
  double overall_lengthening_m = 0;
  double strap_drop_empty_m = 0;
  double strap_drop_loaded_m = 0;
  bool converged = true;  // otherwise the picture says so
  std::vector<PictureMark> marks = {};
  std::vector<solver::BodyPose> things = {};  // in the loaded bag
};

[[nodiscard]] Picture tote_picture(const ToteView& view);

}  // namespace totebench::viz
