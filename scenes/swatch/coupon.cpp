#include "scenes/swatch/coupon.hpp"

#include <algorithm>
#include <cmath>

#include "totebench/materials/stack.hpp"
#include "totebench/scenes/build.hpp"
#include "totebench/scenes/scene.hpp"
#include "totebench/scenes/units.hpp"
#include "totebench/solver/continuation.hpp"

namespace totebench::scenes {
namespace {

constexpr double kSameReading = 1e-5;  // relative
constexpr int kMostSolves = 40;
constexpr double kFarthest = 50;  // the beam formula is 13 times off for the steepest droop read
constexpr double kLoopTrust = 2;  // Peirce's formula is within 15 % where a loop is fitted at all

// With these the mesh moves the stiffness by less than 0.5 %, a tenth of what a ruler does.
int divisions_for(StripTestKind kind) {
  switch (kind) {
    case StripTestKind::kOverhang:
      return 10;
    case StripTestKind::kDroop:
      return 16;
    case StripTestKind::kLoop:
      return 20;
    case StripTestKind::kStretch:
    case StripTestKind::kGap:
      return 8;
  }
  return 16;
}

SheetSupport held(const std::string& where, bool x, bool y, bool z, bool clamp) {
  SheetSupport support;
  support.where = where;
  support.fix[0] = x;
  support.fix[1] = y;
  support.fix[2] = z;
  support.clamp = clamp;
  return support;
}

SheetLoad gravity() {
  SheetLoad load;
  load.kind = SheetLoad::Kind::kGravity;
  return load;
}

SheetLoad pull_at_end(const Eigen::Vector3d& force_N_per_m) {
  SheetLoad load;
  load.kind = SheetLoad::Kind::kEdgeForce;
  load.where = "x1";
  load.vector = force_N_per_m;
  return load;
}

// Where half a heart loop starts, over the share t of its length: straight up from the grip, three
// quarters of a circle, straight back to below the grip. The straight ends give the clamps the
// slopes they are to hold.
Eigen::Vector2d heart_start(double t) {
  const double up = 0.2;
  const double radius = (1 - up) / (1 + 1.5 * M_PI);  // and the way back is as long
  if (t < up) return {0, t};
  const double turned = (t - up) / radius;
  if (turned > 1.5 * M_PI) return {1 - t, up - radius};
  return {radius * (1 - std::cos(turned)), up + radius * std::sin(turned)};
}

// The strip lies along x from x0; loop and gap are one half, with symmetry at x1.
Scene scene_of(const Coupon& coupon) {
  const bool half = coupon.kind == StripTestKind::kLoop || coupon.kind == StripTestKind::kGap;
  const double length = half ? 0.5 * coupon.length_m : coupon.length_m;
  const double width = coupon.width_m;
  Scene scene;
  scene.kind = SceneKind::kSheet;
  scene.mesh.size_m =
      length / (coupon.divisions > 0 ? coupon.divisions : divisions_for(coupon.kind));
  SheetScene& sheet = scene.sheet;
  sheet.geometry.shape = SheetShape::kRectangle;
  sheet.geometry.length_m = length;
  sheet.geometry.width_m = width;
  sheet.plain = PlainSection{1, 0, 1, coupon.areal_mass_kg_per_m2};  // stiffness is set later
  sheet.probes.push_back({"end", {length, 0.5 * width, 0}});
  SheetSupport corner = held("", false, true, false, false);
  corner.point_m = Eigen::Vector3d::Zero();
  switch (coupon.kind) {
    case StripTestKind::kOverhang:
    case StripTestKind::kDroop:
      sheet.supports = {held("x0", true, true, true, true)};
      sheet.loads = {gravity()};
      break;
    case StripTestKind::kLoop:
      sheet.supports = {held("x0", true, true, true, true), held("x1", true, false, false, true)};
      sheet.loads = {gravity()};
      break;
    case StripTestKind::kStretch:
      // Between pencil marks away from the grips the strip is free to narrow.
      sheet.supports = {held("x0", true, false, true, false), held("x1", false, false, true, false),
                        corner};
      sheet.loads = {pull_at_end({coupon.weight_kg * kStandardGravity / width, 0, 0})};
      break;
    case StripTestKind::kGap:
      sheet.supports = {held("x0", false, false, true, false), held("x1", true, false, false, true),
                        corner};
      sheet.loads = {gravity()};
      if (coupon.weight_kg > 0) {
        sheet.loads.push_back(
            pull_at_end({0, 0, -0.5 * coupon.weight_kg * kStandardGravity / width}));
      }
      break;
  }
  return scene;
}

// Both stiffnesses are those of a strip: for a sheet k = stiffness / (1 - nu^2).
Eigen::Matrix3d isotropic(double stiffness, double nu) {
  return materials::orthotropic_stiffness(stiffness, stiffness, stiffness / (2 * (1 + nu)), nu);
}

class CouponModel {
 public:
  explicit CouponModel(const Coupon& coupon) : coupon_(coupon) {
    sheet_ = build_sheet(scene_of(coupon), materials::MaterialLibrary());
    if (coupon.kind == StripTestKind::kLoop) bend_to_heart();
    state_ = solver::start_state(sheet_.model);
  }

  // Goes on from the state of the last stiffness.
  std::optional<double> reading(double stiffness) {
    const bool stretch = coupon_.kind == StripTestKind::kStretch;
    solver::Section& section = sheet_.model.sections.front();
    const double membrane = stretch ? stiffness : coupon_.membrane_N_per_m;
    section.A = isotropic(membrane, coupon_.poisson_ratio);
    // Any rigidity will do for a flat strip: that of a solid one a hundredth as thick as wide.
    section.D =
        isotropic(stretch ? stiffness * std::pow(0.01 * coupon_.width_m, 2) / 12 : stiffness,
                  coupon_.poisson_ratio);
    solver::State trial = state_;
    solver::SolveOptions options;
    options.full_steps =
        true;  // a strip has one shape at rest, and for a loop the fit looks at which
    if (!at_rest(solver::find_equilibrium(sheet_.model, 1.0, trial, options))) {
      trial = solver::start_state(sheet_.model);
      if (!at_rest(raise_load(trial))) return std::nullopt;
    }
    state_ = trial;
    return read(state_.x.col(sheet_.probe_nodes.front()));
  }

  [[nodiscard]] int triangles() const { return sheet_.model.mesh.n_triangles(); }

 private:
  solver::SolveReport raise_load(solver::State& state) const {
    solver::EquilibriumSearch search(sheet_.model);
    const auto solve = [&](double load_factor, solver::State& at) {
      return search.find(load_factor, at);
    };
    const solver::LoadStepping stepping = {.first = 0.25, .largest = 1, .least = 1.0 / 512};
    return solver::follow_load(solve, 0, 1, state, stepping).report;
  }

  static bool at_rest(const solver::SolveReport& report) {
    return report.status == solver::SolveStatus::kConverged && report.stable;
  }

  void bend_to_heart() {
    Eigen::Matrix3Xd& position = sheet_.model.mesh.position;
    const double length = 0.5 * coupon_.length_m;
    for (Eigen::Index i = 0; i < position.cols(); ++i) {
      const Eigen::Vector2d p = length * heart_start(position(0, i) / length);
      position(0, i) = p.x();
      position(2, i) = p.y();
    }
  }

  [[nodiscard]] double read(const Eigen::Vector3d& end) const {
    switch (coupon_.kind) {
      case StripTestKind::kOverhang:
        return std::atan2(-end.z(), end.x());
      case StripTestKind::kStretch:
        return end.x() - coupon_.length_m;
      case StripTestKind::kDroop:
      case StripTestKind::kLoop:
      case StripTestKind::kGap:
        break;
    }
    return -end.z();
  }

  Coupon coupon_;
  SheetModel sheet_;
  solver::State state_;
};

}  // namespace

double formula_stiffness(const Coupon& coupon, double reading_m) {
  const double weight = coupon.areal_mass_kg_per_m2 * kStandardGravity;
  const double pull = coupon.weight_kg * kStandardGravity / coupon.width_m;
  const double length = coupon.length_m;
  switch (coupon.kind) {
    case StripTestKind::kOverhang:
      return weight * std::pow(length, 3) * std::cos(0.5 * coupon.angle_rad) /
             (8 * std::tan(coupon.angle_rad));
    case StripTestKind::kDroop:
      return weight * std::pow(length, 4) / (8 * reading_m);
    case StripTestKind::kLoop: {
      const double light = 0.1337 * length;
      const double turn = 32.85 * M_PI / 180 * (reading_m - light) / light;
      return weight * std::pow(light, 3) * std::cos(turn) / std::tan(turn);
    }
    case StripTestKind::kGap:
      return (5 * weight * std::pow(length, 4) / 384 + pull * std::pow(length, 3) / 48) / reading_m;
    case StripTestKind::kStretch:
      return pull * length / reading_m;
  }
  return 0;
}

StiffnessFit fit_stiffness(const Coupon& coupon, double reading_m, double guess) {
  StiffnessFit fit;
  const double wanted = coupon.kind == StripTestKind::kOverhang ? coupon.angle_rad : reading_m;
  CouponModel model(coupon);
  fit.triangles = model.triangles();
  // Every reading falls as the stiffness rises. In logarithms the two are nearly on a line, whose
  // slope is found by the secant; while the root is bracketed, a step out of the bracket is halved.
  double x = std::log(guess), slope = -1;
  double low = -HUGE_VAL, high = HUGE_VAL;  // reading too large, too small
  double last_x = 0, last_miss = 0;
  while (fit.solves < kMostSolves) {
    const std::optional<double> reading = model.reading(std::exp(x));
    ++fit.solves;
    if (!reading || !(*reading > 0)) return fit;
    const double miss = std::log(*reading / wanted);
    fit.stiffness = std::exp(x);
    fit.reading = *reading;
    if (std::abs(miss) < kSameReading) {
      // A loop that turned inside out can have the same height.
      fit.found = coupon.kind != StripTestKind::kLoop ||
                  std::abs(std::log(fit.stiffness / formula_stiffness(coupon, reading_m))) <
                      std::log(kLoopTrust);
      return fit;
    }
    (miss > 0 ? low : high) = x;
    if (fit.solves > 1 && (miss - last_miss) / (x - last_x) < 0) {
      slope = (miss - last_miss) / (x - last_x);
    }
    last_x = x;
    last_miss = miss;
    if (std::abs(x - std::log(guess)) > std::log(kFarthest)) return fit;
    x -= std::clamp(miss / slope, -1.5, 1.5);
    if (!(x > low && x < high)) x = 0.5 * (low + high);
  }
  return fit;
}

std::optional<double> coupon_reading(const Coupon& coupon, double stiffness) {
  return CouponModel(coupon).reading(stiffness);
}

}  // namespace totebench::scenes
