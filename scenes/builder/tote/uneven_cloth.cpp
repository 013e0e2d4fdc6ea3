#include "scenes/builder/tote/uneven_cloth.hpp"

#include <cmath>

namespace totebench::scenes {
namespace {

struct Wave {
  Eigen::Vector3d per_m;  // rad
  double phase;           // rad
};

// Waves of 5 to 7 cm, none along an axis of the bag and no two alike, so that neither a half nor a
// quarter of a bag is like another.
const Wave kWaves[] = {
    {{41, 67, 53}, 0.7},
    {{-97, 29, 71}, 2.1},
    {{23, -113, 37}, 4.3},
};

}  // namespace

void make_uneven(const Eigen::Matrix3Xd& place_m, Eigen::Matrix3Xd& weight_N) {
  // The mean square of a sine is a half.
  const double amplitude = kUnevenness / std::sqrt(0.5 * static_cast<double>(std::size(kWaves)));
  Eigen::RowVectorXd share = Eigen::RowVectorXd::Ones(place_m.cols());
  for (const Wave& wave : kWaves) {
    share.array() += amplitude * ((wave.per_m.transpose() * place_m).array() + wave.phase).sin();
  }
  const double before = weight_N.row(2).sum();
  weight_N.row(2).array() *= share.array();
  const double after = weight_N.row(2).sum();
  if (after != 0) weight_N.row(2) *= before / after;
}

}  // namespace totebench::scenes
