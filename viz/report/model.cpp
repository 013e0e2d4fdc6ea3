#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>
#include <map>
#include <nlohmann/json.hpp>
#include <set>

#include "totebench/scenes/unit_text.hpp"
#include "totebench/viz/report_model.hpp"

namespace totebench::viz {
namespace {

using Json = nlohmann::ordered_json;

constexpr double kMostCounts = 65535;
// Corners 0 1 2 and mid-edge nodes 3 4 5 of totebench/solver/mesh.hpp: a second-order triangle as
// four flat.
constexpr int kFacets[4][3] = {{0, 3, 5}, {3, 1, 4}, {5, 4, 2}, {3, 4, 5}};

template <class T>
std::string packed(const std::vector<T>& values) {
  return base64(values.data(), values.size() * sizeof(T));
}

// Nodes split where groups meet, so that a seam stays sharp.
class Vertices {
 public:
  Vertices(const solver::ShellMesh& mesh, const std::vector<int>& group)
      : mesh_(mesh), group_(group) {}

  std::uint32_t of(int triangle, int corner) {
    const std::pair<int, int> key{mesh_.triangles[triangle].node[corner], group_[triangle]};
    const auto [it, fresh] = number_.try_emplace(key, static_cast<std::uint32_t>(node_.size()));
    if (fresh) node_.push_back(key.first);
    return it->second;
  }
  [[nodiscard]] const std::vector<int>& node() const { return node_; }

 private:
  const solver::ShellMesh& mesh_;
  const std::vector<int>& group_;
  std::map<std::pair<int, int>, std::uint32_t> number_;
  std::vector<int> node_;
};

// Borders of groups and free borders, as pairs of vertices along the curved edges.
std::vector<std::uint32_t> borders(const PageModel& model, Vertices& vertices) {
  const solver::ShellMesh& mesh = *model.mesh;
  std::map<std::pair<int, int>, std::vector<std::pair<int, int>>> users;  // edge -> (triangle, k)
  for (const PagePart& part : model.parts) {
    for (const int t : part.triangles) {
      for (int k = 0; k < 3; ++k) {
        const int a = mesh.triangles[t].node[k], b = mesh.triangles[t].node[(k + 1) % 3];
        users[std::minmax(a, b)].push_back({t, k});
      }
    }
  }
  std::vector<std::uint32_t> out;
  for (const auto& [edge, list] : users) {
    const bool inner = list.size() == 2 && model.group[list[0].first] == model.group[list[1].first];
    if (inner) continue;
    const auto [t, k] = list.front();
    const std::uint32_t a = vertices.of(t, k), m = vertices.of(t, 3 + k);
    const std::uint32_t b = vertices.of(t, (k + 1) % 3);
    out.insert(out.end(), {a, m, m, b});
  }
  return out;
}

struct CountGrid {
  Eigen::Vector3d low;
  double metres_per_count;
  [[nodiscard]] std::uint16_t count(double value, int axis) const {
    return static_cast<std::uint16_t>(
        std::clamp((value - low[axis]) / metres_per_count + 0.5, 0.0, kMostCounts));
  }
  [[nodiscard]] std::string places(const Eigen::Matrix3Xd& x, const std::vector<int>& node) const {
    std::vector<std::uint16_t> out;
    out.reserve(3 * node.size());
    for (const int i : node) {
      for (int axis = 0; axis < 3; ++axis) out.push_back(count(x(axis, i), axis));
    }
    return packed(out);
  }
};

CountGrid grid_of(const PageModel& model) {
  Eigen::Vector3d low = Eigen::Vector3d::Constant(std::numeric_limits<double>::infinity());
  Eigen::Vector3d high = -low;
  for (const PageStep& step : model.steps) {
    low = low.cwiseMin(step.x_m.rowwise().minCoeff());
    high = high.cwiseMax(step.x_m.rowwise().maxCoeff());
    if (step.stitches_m.cols() == 0) continue;
    low = low.cwiseMin(step.stitches_m.rowwise().minCoeff());
    high = high.cwiseMax(step.stitches_m.rowwise().maxCoeff());
  }
  return {low, std::max(1e-9, (high - low).maxCoeff() / kMostCounts)};
}

// Values of a field at the vertices: averages over the triangles of the group that meet there.
std::string field_values(const PageModel& model, const PageField& field, Vertices& vertices) {
  std::vector<double> sum(vertices.node().size(), 0.0), weight(sum.size(), 0.0);
  for (const PagePart& part : model.parts) {
    if (!part.coloured) continue;
    for (const int t : part.triangles) {
      for (int c = 0; c < 6; ++c) {
        const double value = c < 3 ? field.values[t][c]
                                   : 0.5 * (field.values[t][c - 3] + field.values[t][(c - 2) % 3]);
        const std::uint32_t v = vertices.of(t, c);
        sum[v] += value;
        weight[v] += 1;
      }
    }
  }
  std::vector<std::uint16_t> out;
  out.reserve(sum.size());
  const double span = field.high > field.low ? field.high - field.low : 1;
  for (std::size_t i = 0; i < sum.size(); ++i) {
    const double value = weight[i] > 0 ? sum[i] / weight[i] : field.low;
    const double share = std::clamp((value - field.low) / span, 0.0, 1.0);
    out.push_back(static_cast<std::uint16_t>(share * kMostCounts + 0.5));
  }
  return packed(out);
}

bool exceeds(const PageModel& model, const PageField& field) {
  for (const PagePart& part : model.parts) {
    if (!part.coloured) continue;
    for (const int t : part.triangles) {
      for (const double v : field.values[t]) {
        if (v > field.high * (1 + 1e-9)) return true;
      }
    }
  }
  return false;
}

Json colour_json(const Colour& c) {
  const auto rounded = [](double v) { return std::round(v * 1e4) / 1e4; };
  return {rounded(c[0]), rounded(c[1]), rounded(c[2])};
}

}  // namespace

std::string base64(const void* data, std::size_t size) {
  static const char* const kDigits =
      "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  const auto* byte = static_cast<const unsigned char*>(data);
  std::string out;
  out.reserve((size + 2) / 3 * 4);
  for (std::size_t i = 0; i < size; i += 3) {
    const std::size_t left = size - i;
    const unsigned a = byte[i], b = left > 1 ? byte[i + 1] : 0, c = left > 2 ? byte[i + 2] : 0;
    const unsigned all = a << 16 | b << 8 | c;
    out += kDigits[all >> 18];
    out += kDigits[all >> 12 & 63];
    out += left > 1 ? kDigits[all >> 6 & 63] : '=';
    out += left > 2 ? kDigits[all & 63] : '=';
  }
  return out;
}

std::string page_model_json(const PageModel& model) {
  Vertices vertices(*model.mesh, model.group);
  std::vector<std::uint32_t> triangles;
  Json parts = Json::array();
  for (const PagePart& part : model.parts) {
    const std::size_t first = triangles.size();
    for (const int t : part.triangles) {
      for (const auto& facet : kFacets) {
        for (const int corner : facet) triangles.push_back(vertices.of(t, corner));
      }
    }
    parts.push_back({{"first", first},
                     {"count", triangles.size() - first},
                     {"colour", colour_json(part.colour)},
                     {"coloured", part.coloured}});
  }
  const std::vector<std::uint32_t> edges = borders(model, vertices);
  const CountGrid grid = grid_of(model);

  Json json = {{"name", model.name},
               {"origin_m", {grid.low.x(), grid.low.y(), grid.low.z()}},
               {"metres_per_count", grid.metres_per_count},
               {"triangles", packed(triangles)},
               {"edges", packed(edges)},
               {"parts", parts}};
  json["colours"] = Json::array();
  for (int i = 0; i <= 8; ++i) json["colours"].push_back(colour_json(map_colour(i / 8.0)));
  json["steps"] = Json::array();
  for (const PageStep& step : model.steps) {
    std::vector<int> all(static_cast<std::size_t>(step.stitches_m.cols()));
    for (std::size_t i = 0; i < all.size(); ++i) all[i] = static_cast<int>(i);
    json["steps"].push_back({{"load", step.load_factor},
                             {"positions", grid.places(step.x_m, vertices.node())},
                             {"stitches", grid.places(step.stitches_m, all)},
                             {"bottom_sag_m", step.bottom_sag_m},
                             {"strap_drop_m", step.strap_drop_m}});
  }
  json["fields"] = Json::array();
  for (const PageField& field : model.fields) {
    json["fields"].push_back({{"name", field.name},
                              {"unit", field.unit},
                              {"at", field.at},
                              {"low", field.low},
                              {"high", field.high},
                              {"more", exceeds(model, field)},
                              {"values", field_values(model, field, vertices)}});
  }
  const scenes::ShownUnit force = scenes::force_unit(model.units),
                          length = scenes::length_unit(model.units);
  json["force"] = {{"per_SI", force.per_SI}, {"unit", force.name}};
  json["readings"] = Json::array();
  if (model.has_readings) {
    for (const auto& [key, name] :
         {std::pair{"bottom_sag_m", "bottom sag"}, {"strap_drop_m", "strap drop"}}) {
      json["readings"].push_back(
          {{"key", key}, {"name", name}, {"per_SI", length.per_SI}, {"unit", length.name}});
    }
  }
  json["stitches"] = Json::array();
  for (const PageStitch& stitch : model.stitches) {
    json["stitches"].push_back({{"site", stitch.site},
                                {"number", stitch.number},
                                {"total_N", stitch.total_N},
                                {"along_N", stitch.along_N},
                                {"across_N", stitch.across_N},
                                {"peel_N", stitch.peel_N}});
  }
  return json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

Eigen::Matrix3Xd carried_over(const StepMesh& coarse, const Eigen::Matrix3Xd& step_x_m,
                              double load_factor, const StepMesh& fine) {
  // How far the coarse step lies off the straight way between empty and loaded.
  const Eigen::Matrix3Xd bend =
      step_x_m - (1 - load_factor) * coarse.empty_x_m - load_factor * coarse.loaded_x_m;
  const auto nodes_by_part = [](const scenes::Tote& tote) {
    std::map<std::string, std::set<int>> nodes;
    for (int t = 0; t < tote.model.mesh.n_triangles(); ++t) {
      const auto& list = tote.model.mesh.triangles[t].node;
      nodes[tote.triangle_part[tote.part[t]]].insert(list.begin(), list.end());
    }
    return nodes;
  };
  const auto from = nodes_by_part(coarse.tote), to = nodes_by_part(fine.tote);
  Eigen::Matrix3Xd x = (1 - load_factor) * fine.empty_x_m + load_factor * fine.loaded_x_m;
  for (const auto& [part, nodes] : to) {
    const auto source = from.find(part);
    if (source == from.end()) continue;
    for (const int i : nodes) {
      std::array<std::pair<double, int>, 4> best;
      best.fill({std::numeric_limits<double>::infinity(), -1});
      for (const int k : source->second) {
        const double apart_sq =
            (coarse.tote.model.mesh.position.col(k) - fine.tote.model.mesh.position.col(i))
                .squaredNorm();
        if (apart_sq >= best.back().first) continue;
        best.back() = {apart_sq, k};
        std::sort(best.begin(), best.end());
      }
      Eigen::Vector3d sum = Eigen::Vector3d::Zero();
      double weight = 0;
      for (const auto& [apart_sq, k] : best) {
        if (k < 0) continue;
        const double w = 1 / (apart_sq + 1e-10);
        sum += w * bend.col(k);
        weight += w;
      }
      x.col(i) = (1 - load_factor) * fine.empty_x_m.col(i) + load_factor * fine.loaded_x_m.col(i);
      if (weight > 0) x.col(i) += sum / weight;
    }
  }
  return x;
}

}  // namespace totebench::viz
