#include "ccx_solids.hpp"

#include <fmt/format.h>

#include <Eigen/Core>
#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <map>
#include <set>
#include <sstream>
#include <stdexcept>

#include "ccx_run.hpp"
#include "sheet_case.hpp"

namespace totebench::verification {
namespace {

// Places on the lattice of nodes: along the axis, round, through the thickness.
using Place = std::array<int, 3>;

// x along the axis from the middle, z up, y to the side.
class Deck {
 public:
  Deck(const PinchedCylinder& cylinder, Solid solid, int n)
      : cylinder_(cylinder),
        second_(solid == Solid::kSecondOrder),
        last_(second_ ? 2 * n : n),
        outer_(second_ ? 2 : 1) {}

  std::string text(double deepest, const Increments& increments) {
    nodes();
    elements();
    out_ << fmt::format(
        "*MATERIAL, NAME=M\n*ELASTIC\n{:.9g}, {:.9g}\n*SOLID SECTION, ELSET=E, MATERIAL=M\n",
        cylinder_.e, cylinder_.nu);
    supports();
    out_ << "*NSET, NSET=A\n" << through_thickness(0);
    out_ << "*NSET, NSET=B\n" << through_thickness(last_);
    // It gives an increment up when the residual grows over four to eight rounds; bent sheets need
    // more.
    out_ << fmt::format(
        "*STEP, NLGEOM, INC=3000\n*STATIC\n{:g}, 1., 1e-6, {:g}\n"
        "*CONTROLS, PARAMETERS=TIME INCREMENTATION\n12, 20, 9, 40, 20, 4, , 20\n"
        "*BOUNDARY\nA, 3, 3, {:.9g}\n",
        increments.first, increments.largest, -deepest);
    out_ << "*NODE PRINT, NSET=A\nU\n*NODE PRINT, NSET=B\nU\n"
            "*NODE PRINT, NSET=A, TOTALS=ONLY\nRF\n*END STEP\n";
    return out_.str();
  }

 private:
  void nodes() {
    out_ << "*NODE, NSET=ALL\n";
    for (int i = 0; i <= last_; ++i) {
      for (int j = 0; j <= last_; ++j) {
        for (int k = 0; k <= outer_; ++k) {
          // Of second order: corners and the middles of edges, none inside faces.
          if (second_ && i % 2 + j % 2 + k % 2 > 1) continue;
          const int number = static_cast<int>(number_.size()) + 1;
          number_[{i, j, k}] = number;
          const double angle = kPi / 2 * j / last_;
          const double r =
              cylinder_.radius + cylinder_.thickness * (static_cast<double>(k) / outer_ - 0.5);
          out_ << fmt::format("{}, {:.12g}, {:.12g}, {:.12g}\n", number,
                              cylinder_.half_length * i / last_, r * std::sin(angle),
                              r * std::cos(angle));
        }
      }
    }
  }

  void elements() {
    out_ << fmt::format("*ELEMENT, TYPE={}, ELSET=E\n", second_ ? "C3D20R" : "C3D8I");
    const int s = outer_;
    int element = 0;
    for (int i = 0; i < last_; i += s) {
      for (int j = 0; j < last_; j += s) {
        const std::array<Place, 4> inside = {
            Place{i, j, 0}, {i + s, j, 0}, {i + s, j + s, 0}, {i, j + s, 0}};
        std::vector<Place> places(inside.begin(), inside.end());
        for (const Place& p : inside) places.push_back({p[0], p[1], s});
        if (second_) {
          for (const int k : {0, s}) {
            for (int c = 0; c < 4; ++c) {
              const Place &a = inside[c], &b = inside[(c + 1) % 4];
              places.push_back({(a[0] + b[0]) / 2, (a[1] + b[1]) / 2, k});
            }
          }
          for (const Place& p : inside) places.push_back({p[0], p[1], 1});
        }
        out_ << ++element;
        for (std::size_t c = 0; c < places.size(); ++c) {
          out_ << (c == 10 ? ",\n" : ", ") << number_.at(places[c]);
        }
        out_ << "\n";
      }
    }
  }

  void supports() {
    std::set<std::pair<int, int>> held;  // node, axis from 1
    for (const auto& [place, number] : number_) {
      if (place[0] == 0) held.insert({number, 1});
      if (place[1] == 0) held.insert({number, 2});
      if (place[1] == last_) held.insert({number, 3});
    }
    for (int j = 0; j <= last_; ++j) {
      const auto middle = number_.find({last_, j, 1});
      for (const int axis : {2, 3}) {
        if (second_ && middle != number_.end()) {
          held.insert({middle->second, axis});
          continue;
        }
        const int a = number_.at({last_, j, 0}), b = number_.at({last_, j, outer_});
        if (held.count({a, axis}) > 0) continue;
        out_ << fmt::format("*EQUATION\n2\n{0}, {2}, 1., {1}, {2}, 1.\n", a, b, axis);
      }
    }
    out_ << "*BOUNDARY\n";
    for (const auto& [node, axis] : held) out_ << fmt::format("{0}, {1}, {1}\n", node, axis);
  }

  // In the plane of symmetry in the middle of the length, inner face first.
  std::string through_thickness(int j) const {
    std::string list;
    for (int k = 0; k <= outer_; ++k) list += fmt::format("{}, ", number_.at({0, j, k}));
    return list + "\n";
  }

  const PinchedCylinder& cylinder_;
  bool second_;
  int last_;   // place of the far nodes along the axis and round
  int outer_;  // through the thickness
  std::ostringstream out_;
  std::map<Place, int> number_;  // from 1
};

// After each increment: displacements of A, of B, and the total force on A.
std::vector<PinchPoint> read_curve(const std::filesystem::path& table) {
  std::vector<PinchPoint> curve;
  std::vector<Eigen::Vector3d> moved;  // of both, each through the thickness
  bool in_force = false;
  std::ifstream in(table);
  for (std::string line; std::getline(in, line);) {
    if (line.find("displacements") != std::string::npos) {
      in_force = false;
    } else if (line.find("total force") != std::string::npos) {
      in_force = true;
    }
    std::istringstream words(line);
    std::vector<double> n;
    for (double x = 0; words >> x;) n.push_back(x);
    if (!in_force && n.size() == 4) {
      moved.emplace_back(n[1], n[2], n[3]);
    } else if (in_force && n.size() == 3 && moved.size() >= 4) {
      // Middle node, or the mean of both faces where there is none.
      const auto half = moved.size() / 2;
      const Eigen::Vector3d side =
          half == 3 ? moved[4] : Eigen::Vector3d(0.5 * (moved[2] + moved[3]));
      curve.push_back({-4 * n[2], -moved[0].z(), side.y()});
      moved.clear();
    }
  }
  return curve;
}

}  // namespace

std::vector<PinchPoint> pinched_by_ccx(const std::string& name, const PinchedCylinder& cylinder,
                                       Solid solid, int n, double deepest,
                                       const Increments& increments) {
  const std::string deck = Deck(cylinder, solid, n).text(deepest, increments);
  std::vector<PinchPoint> curve = read_curve(run_ccx(name, deck));
  if (curve.empty() || curve.back().dent < (1 - 1e-6) * deepest) {
    throw std::runtime_error(fmt::format("ccx ended {} before a dent of {:g}", name, deepest));
  }
  return curve;
}

PinchPoint at_force(const std::vector<PinchPoint>& curve, double force) {
  std::vector<PinchPoint> points = {{}};
  points.insert(points.end(), curve.begin(), curve.end());
  const auto beyond = std::find_if(points.begin(), points.end(),
                                   [&](const PinchPoint& p) { return p.force >= force; });
  if (beyond == points.end() || points.size() < 4) {
    throw std::invalid_argument(fmt::format("the curve ends before the force {:g}", force));
  }
  const auto at = static_cast<int>(beyond - points.begin());
  const int first = std::clamp(at - 2, 0, static_cast<int>(points.size()) - 4);
  const auto on_cubic = [&](double dent) {
    PinchPoint sum = {0, dent, 0};
    for (int a = first; a < first + 4; ++a) {
      double weight = 1;
      for (int b = first; b < first + 4; ++b) {
        if (b != a) weight *= (dent - points[b].dent) / (points[a].dent - points[b].dent);
      }
      sum.force += weight * points[a].force;
      sum.bulge += weight * points[a].bulge;
    }
    return sum;
  };
  double low = at > 0 ? points[at - 1].dent : 0, high = points[at].dent;
  for (int i = 0; i < 60; ++i) {
    const double middle = (low + high) / 2;
    (on_cubic(middle).force < force ? low : high) = middle;
  }
  return on_cubic(high);
}

}  // namespace totebench::verification
