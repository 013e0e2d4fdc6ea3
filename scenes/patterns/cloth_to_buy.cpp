#include "totebench/scenes/cloth_to_buy.hpp"

#include <algorithm>
#include <cmath>

namespace totebench::scenes {
namespace {

using Eigen::Vector2d;

constexpr double kOneInch_m = 0.0254;
constexpr double kGapBetweenPieces_m = 0.006;  // room for the shears

// Usable widths: selvedges, and what is lost to them, are off already.
std::vector<double> widths_of(const std::string& category, bool inches) {
  const auto in = [](double width) { return width * kOneInch_m; };
  if (category == "fabric") {
    return inches ? std::vector<double>{in(42), in(54), in(58)}
                  : std::vector<double>{1.08, 1.38, 1.48};
  }
  return inches ? std::vector<double>{in(20), in(36), in(58)} : std::vector<double>{0.5, 0.9, 1.5};
}

// Across and along the bolt: the smallest rectangle with the warp along its second side.
Vector2d on_bolt(const CutPiece& piece) {
  const Vector2d along(std::cos(piece.grain_rad), std::sin(piece.grain_rad));
  const Vector2d across(-along.y(), along.x());
  Vector2d low(1e9, 1e9), high(-1e9, -1e9);
  for (const Vector2d& p : piece.cut_m) {
    const Vector2d there(p.dot(across), p.dot(along));
    low = low.cwiseMin(there);
    high = high.cwiseMax(there);
  }
  return high - low;
}

}  // namespace

double packed_length_m(std::vector<Vector2d> rectangles_m, double width_m) {
  std::stable_sort(rectangles_m.begin(), rectangles_m.end(),
                   [](const Vector2d& a, const Vector2d& b) { return a.y() > b.y(); });
  struct Row {
    double filled_m, length_m;
  };
  std::vector<Row> rows;
  for (const Vector2d& size : rectangles_m) {
    if (size.x() > width_m * (1 + 1e-9)) return 0;
    const auto fits = std::find_if(rows.begin(), rows.end(), [&](const Row& row) {
      return row.filled_m + kGapBetweenPieces_m + size.x() <= width_m * (1 + 1e-9);
    });
    if (fits == rows.end()) {
      rows.push_back({size.x(), size.y()});
    } else {
      fits->filled_m += kGapBetweenPieces_m + size.x();
    }
  }
  double length = rows.empty() ? 0 : kGapBetweenPieces_m * static_cast<double>(rows.size() - 1);
  for (const Row& row : rows) length += row.length_m;
  return length;
}

std::vector<ToBuy> cloth_to_buy(const std::vector<CutPiece>& pieces,
                                const materials::MaterialLibrary& library,
                                const std::string& units) {
  std::vector<ToBuy> list;
  for (const CutPiece& first : pieces) {
    const bool told = std::any_of(list.begin(), list.end(),
                                  [&](const ToBuy& buy) { return buy.material == first.material; });
    if (told) continue;
    const materials::Material* material = library.find(first.material);
    const std::string category = material == nullptr ? "fabric" : material->category;
    ToBuy buy;
    buy.material = first.material;
    std::vector<Vector2d> rectangles;
    for (const CutPiece& piece : pieces) {
      if (piece.material != buy.material) continue;
      for (int i = 0; i < piece.count; ++i) rectangles.push_back(on_bolt(piece));
      buy.strap_length_m += piece.count * piece.width_m();
      buy.sheet_area_m2 += piece.count * outline_area_m2(piece.cut_m);
    }
    if (category != "strap") buy.strap_length_m = 0;
    if (category != "base") buy.sheet_area_m2 = 0;
    if (category != "strap" && category != "base") {
      for (const double width : widths_of(category, units == "in")) {
        buy.layouts.push_back({width, packed_length_m(rectangles, width)});
      }
    }
    list.push_back(std::move(buy));
  }
  return list;
}

}  // namespace totebench::scenes
