#include "totebench/scenes/packing.hpp"

#include <algorithm>

#include "totebench/scenes/base_shape.hpp"
#include "totebench/scenes/things.hpp"

namespace totebench::scenes {
namespace {

using Eigen::Vector3d;

constexpr double kFromWalls_m = 5e-3;
constexpr double kApart_m = 2e-3;

// Room between the walls.
Eigen::Vector2d room(const Bag& bag) {
  constexpr double kRoundOff_m = 1e-9;
  return Eigen::Vector2d(base_width_m(bag), bag.depth_m).array() - 2 * kFromWalls_m + kRoundOff_m;
}

bool fits(const Eigen::Vector2d& room, const Vector3d& extent) {
  return extent.x() <= room.x() && extent.y() <= room.y();
}

// One layer: rows along the width, one behind the other.
class PackedLayer {
 public:
  PackedLayer(const Eigen::Vector2d& room, double floor_m) : room_(room), floor_m_(floor_m) {}

  bool add(std::size_t item, const Vector3d& extent, bool turned) {
    if (x_ + extent.x() > room_.x()) {  // the next row
      if (y_ + row_depth_ + kApart_m + extent.y() > room_.y()) return false;
      y_ += row_depth_ + kApart_m;
      x_ = row_depth_ = 0;
    }
    if (y_ + extent.y() > room_.y() || extent.x() > room_.x()) return false;
    const Vector3d low(x_, y_, floor_m_);
    packed_.push_back({item, low, low + extent, turned});
    x_ += extent.x() + kApart_m;
    row_depth_ = std::max(row_depth_, extent.y());
    top_m_ = std::max(top_m_, floor_m_ + extent.z());
    return true;
  }
  [[nodiscard]] double top_m() const { return top_m_; }

  // In the middle of the base, or against one end of it.
  [[nodiscard]] std::vector<PackedItem> placed(ContentsPlace place) const {
    Vector3d low = Vector3d::Constant(1e9), high = -low;
    for (const PackedItem& p : packed_) {
      low = low.cwiseMin(p.low);
      high = high.cwiseMax(p.high);
    }
    Vector3d shift = -0.5 * (low + high);
    shift.z() = 0;
    if (place == ContentsPlace::kOneEnd) shift.x() = room_.x() / 2 - high.x();
    std::vector<PackedItem> all = packed_;
    for (PackedItem& p : all) {
      p.low += shift;
      p.high += shift;
    }
    return all;
  }

 private:
  Eigen::Vector2d room_;
  double floor_m_, top_m_ = 0;
  double x_ = 0, y_ = 0, row_depth_ = 0;
  std::vector<PackedItem> packed_;
};

}  // namespace

bool too_large(const Bag& bag, const Vector3d& extent_m) {
  const Vector3d turned(extent_m.y(), extent_m.x(), extent_m.z());
  return !fits(room(bag), extent_m) && !fits(room(bag), turned);
}

std::vector<PackedItem> pack_items(const Scene& scene) {
  const Eigen::Vector2d within = room(scene.bag);
  std::vector<PackedItem> all;
  PackedLayer layer(within, 0);
  const auto close = [&] {
    const std::vector<PackedItem> placed = layer.placed(scene.contents.place);
    all.insert(all.end(), placed.begin(), placed.end());
  };
  for (std::size_t i = 0; i < scene.contents.items.size(); ++i) {
    const Item& item = scene.contents.items[i];
    Vector3d extent = extent_of(item);
    if (too_large(scene.bag, extent)) continue;
    const bool turned = !fits(within, extent);
    if (turned) std::swap(extent.x(), extent.y());
    for (int n = 0; n < item.count; ++n) {
      if (layer.add(i, extent, turned)) continue;
      const double top = layer.top_m() + kApart_m;
      close();
      layer = PackedLayer(within, top);
      layer.add(i, extent, turned);
    }
  }
  close();
  return all;
}

}  // namespace totebench::scenes
