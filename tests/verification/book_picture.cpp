#include "book_picture.hpp"

#include <fmt/format.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

#include "book.hpp"

namespace totebench::verification {
namespace {

constexpr double kWidth_px = 220;
constexpr double kHeight_px = 150;
constexpr double kMargin_px = 6;

// Rows: to the right, up, towards the eye.
Eigen::Matrix3d eye(const View& view) {
  const double a = view.azimuth_deg * kPi / 180;
  const double e = view.elevation_deg * kPi / 180;
  Eigen::Matrix3d m;
  m.row(2) << std::cos(e) * std::cos(a), std::cos(e) * std::sin(a), std::sin(e);
  m.row(0) << -std::sin(a), std::cos(a), 0;
  m.row(1) = m.row(2).cross(m.row(0));
  return m;
}

class Canvas {
 public:
  Canvas(const Eigen::Matrix3Xd& a, const Eigen::Matrix3Xd& b) {
    low_ = a.topRows<2>().rowwise().minCoeff().cwiseMin(b.topRows<2>().rowwise().minCoeff());
    const Eigen::Vector2d high =
        a.topRows<2>().rowwise().maxCoeff().cwiseMax(b.topRows<2>().rowwise().maxCoeff());
    const Eigen::Vector2d extent = high - low_;
    scale_ = std::min((kWidth_px - 2 * kMargin_px) / std::max(extent.x(), 1e-12),
                      (kHeight_px - 2 * kMargin_px) / std::max(extent.y(), 1e-12));
    size_ = scale_ * extent + Eigen::Vector2d::Constant(2 * kMargin_px);
  }
  [[nodiscard]] std::string at(const Eigen::Vector3d& p) const {
    return fmt::format("{:.1f},{:.1f}", kMargin_px + scale_ * (p.x() - low_.x()),
                       size_.y() - kMargin_px - scale_ * (p.y() - low_.y()));
  }
  [[nodiscard]] Eigen::Vector2d size() const { return size_; }

 private:
  Eigen::Vector2d low_;
  Eigen::Vector2d size_;
  double scale_ = 1;
};

std::string border_lines(const solver::ShellMesh& mesh, const Eigen::Matrix3Xd& points,
                         const Canvas& canvas) {
  std::map<std::pair<int, int>, std::pair<int, int>> uses;  // edge -> count, mid node
  for (const solver::Triangle& t : mesh.triangles) {
    for (int k = 0; k < 3; ++k) {
      auto& use = uses[std::minmax(t.node[k], t.node[(k + 1) % 3])];
      ++use.first;
      use.second = t.node[3 + k];
    }
  }
  std::string path;
  for (const auto& [edge, use] : uses) {
    if (use.first != 1) continue;
    path += fmt::format("M{} {} {}", canvas.at(points.col(edge.first)),
                        canvas.at(points.col(use.second)), canvas.at(points.col(edge.second)));
  }
  return fmt::format("<path d=\"{}\" fill=\"none\" stroke=\"#999\" stroke-width=\"0.8\"/>\n", path);
}

}  // namespace

void draw(const std::string& family, const solver::Model& model, const solver::State& state,
          View view) {
  const solver::ShellMesh& mesh = model.mesh;
  const Eigen::Matrix3d turn = eye(view);
  const Eigen::Matrix3Xd before = turn * mesh.position;
  const Eigen::Matrix3Xd after = before + view.exaggeration * turn * (state.x - mesh.position);
  const Canvas canvas(before, after);

  std::vector<int> order(mesh.triangles.size());
  std::iota(order.begin(), order.end(), 0);
  const auto depth = [&](int t) {
    const auto& n = mesh.triangles[t].node;
    return after(2, n[0]) + after(2, n[1]) + after(2, n[2]);
  };
  std::sort(order.begin(), order.end(), [&](int a, int b) { return depth(a) < depth(b); });

  std::string svg = fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0:.0f}\" height=\"{1:.0f}\" "
      "viewBox=\"0 0 {0:.0f} {1:.0f}\">\n<rect width=\"100%\" height=\"100%\" fill=\"white\"/>\n",
      canvas.size().x(), canvas.size().y());
  svg += border_lines(mesh, before, canvas);
  svg += "<g stroke=\"#25466b\" stroke-width=\"0.5\" stroke-linejoin=\"round\">\n";
  for (const int t : order) {
    const auto& n = mesh.triangles[t].node;
    const Eigen::Vector3d u = after.col(n[1]) - after.col(n[0]);
    const Eigen::Vector3d v = after.col(n[2]) - after.col(n[0]);
    const double facing = std::abs(u.cross(v).normalized().z());
    const int grey = static_cast<int>(std::lround(150 + 95 * facing));
    svg += fmt::format("<polygon fill=\"rgb({},{},{})\" points=\"", grey - 30, grey - 12, grey);
    for (const int k : {0, 3, 1, 4, 2, 5}) svg += canvas.at(after.col(n[k])) + " ";
    svg.back() = '"';
    svg += "/>\n";
  }
  leave_picture(family, svg + "</g>\n</svg>\n");
}

}  // namespace totebench::verification
