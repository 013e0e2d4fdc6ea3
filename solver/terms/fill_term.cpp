#include "solver/terms/fill_term.hpp"

#include <algorithm>
#include <limits>
#include <utility>

#include "solver/terms/surface_integral.hpp"

namespace totebench::solver {
namespace {

struct HeightSample {
  double z;
  double area;  // weighted n_z dA
};

// Volume below a level and area of its surface.
struct Below {
  double volume = 0;
  double area = 0;
};

Below below(const std::vector<HeightSample>& samples, double level) {
  Below sum;
  for (const HeightSample& s : samples) {
    if (s.z >= level) continue;
    sum.volume -= (level - s.z) * s.area;
    sum.area -= s.area;
  }
  return sum;
}

}  // namespace

FillTerm::FillTerm(const ShellMesh& mesh, const Fill& fill, double gravity)
    : mesh_(mesh), fill_(fill), gravity_(gravity) {
  for (const int t : fill.triangles) {
    std::array<int, 18> unknowns{};
    for (int n = 0; n < 6; ++n) {
      for (int c = 0; c < 3; ++c) unknowns[3 * n + c] = 3 * mesh.triangles[t].node[n] + c;
    }
    unknowns_.push_back(unknowns);
  }
}

int FillTerm::n_blocks() const { return static_cast<int>(unknowns_.size()); }

std::span<const int> FillTerm::unknowns(int block) const { return unknowns_[block]; }

void FillTerm::set_load_factor(double factor) { factor_ = factor; }

Matrix36d FillTerm::positions(const State& state, int block) const {
  Matrix36d x;
  for (int n = 0; n < 6; ++n) {
    x.col(n) = state.x.col(mesh_.triangles[fill_.triangles[block]].node[n]);
  }
  return x;
}

void FillTerm::renew_lagged(const State& state) {
  cap_ = -std::numeric_limits<double>::infinity();
  for (int b = 0; b < n_blocks(); ++b) cap_ = std::max(cap_, positions(state, b).row(2).maxCoeff());
  prepare(state);
  if (is_heap()) heap_ = heap_forces(state);
}

void FillTerm::add_lagged_force(Eigen::VectorXd& force) const {
  force.head(heap_.size()) += Eigen::Map<const Eigen::VectorXd>(heap_.data(), heap_.size());
}

void FillTerm::prepare(const State& state) {
  std::vector<HeightSample> samples;
  samples.reserve(static_cast<std::size_t>(12) * unknowns_.size());
  double low = std::numeric_limits<double>::infinity();
  for (int b = 0; b < n_blocks(); ++b) {
    visit_surface(positions(state, b), [&](double weight, double z, double area, int /*q*/) {
      samples.push_back({z, weight * area});
      low = std::min(low, z);
    });
  }
  const double volume = target_volume();
  double high = cap_;
  overflows_ = volume > 0 && below(samples, high).volume < volume;
  if (overflows_ || volume <= 0) {
    level_ = overflows_ ? high : low;
    surface_area_ = 0;
    return;
  }
  // Newton's method kept inside a shrinking bracket; V is increasing and convex from below.
  level_ = 0.5 * (low + high);
  for (int i = 0; i < 200; ++i) {
    const Below b = below(samples, level_);
    (b.volume < volume ? low : high) = level_;
    const double step = b.area > 0 ? (volume - b.volume) / b.area : 0;
    double next = level_ + step;
    if (b.area <= 0 || next <= low || next >= high) next = 0.5 * (low + high);
    const double change = std::abs(next - level_);
    level_ = next;
    if (change < 1e-15 * (std::abs(level_) + std::abs(cap_)) + 1e-16) break;
  }
  surface_area_ = below(samples, level_).area;
}

double FillTerm::whole_energy() const {
  return fill_.lateral_ratio_K * gamma() * level_ * target_volume();
}

namespace {

auto fill_function(double scale, double level) {
  return [scale, level](double z) {
    const double depth = level - z;
    if (depth <= 0) return HeightFunction{};
    return HeightFunction{0.5 * scale * depth * depth, -scale * depth, scale};
  };
}

}  // namespace

double FillTerm::energy(const State& state, int block) const {
  return surface_integral(positions(state, block),
                          fill_function(fill_.lateral_ratio_K * gamma(), level_), nullptr, nullptr);
}

double FillTerm::derivatives(const State& state, int block, HessianPart part, double* gradient,
                             double* hessian) const {
  Vector18d g = Vector18d::Zero();
  Matrix18d h = Matrix18d::Zero();
  const bool full = hessian != nullptr && part == HessianPart::kExact;
  const double energy = surface_integral(positions(state, block),
                                         fill_function(fill_.lateral_ratio_K * gamma(), level_), &g,
                                         full ? &h : nullptr);
  Eigen::Map<Vector18d>{gradient} = g;
  if (hessian != nullptr) Eigen::Map<Matrix18d>{hessian} = h;
  return energy;
}

void FillTerm::add_low_rank(const State& state, int n_unknowns, std::vector<RankOne>& parts) const {
  if (surface_area_ <= 0) return;
  Eigen::VectorXd v = Eigen::VectorXd::Zero(n_unknowns);
  const double scale = gamma();
  const double level = level_;
  for (int b = 0; b < n_blocks(); ++b) {
    Vector18d g = Vector18d::Zero();
    surface_integral(
        positions(state, b),
        [scale, level](double z) {
          const double depth = level - z;
          if (depth <= 0) return HeightFunction{};
          return HeightFunction{scale * depth, -scale, 0};
        },
        &g, nullptr);
    for (int i = 0; i < 18; ++i) v[unknowns_[b][i]] += g[i];
  }
  const double factor = fill_.lateral_ratio_K / (gamma() * surface_area_);
  if (factor > 0) parts.push_back({factor, std::move(v)});
}

Eigen::Matrix3Xd FillTerm::heap_forces(const State& state) const {
  Eigen::Matrix3Xd force = Eigen::Matrix3Xd::Zero(3, mesh_.n_nodes());
  const SurfaceQuadrature& s = surface_quadrature();
  const double scale = (1 - fill_.lateral_ratio_K) * gamma();
  for (int b = 0; b < n_blocks(); ++b) {
    const Triangle& triangle = mesh_.triangles[fill_.triangles[b]];
    visit_surface(positions(state, b), [&](double weight, double z, double area, int q) {
      const double depth = level_ - z;
      if (depth <= 0) return;
      for (int n = 0; n < 6; ++n) {
        force(2, triangle.node[n]) += weight * scale * depth * area * s.n(n, q);
      }
    });
  }
  return force;
}

}  // namespace totebench::solver
