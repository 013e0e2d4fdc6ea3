#include <fmt/format.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cctype>
#include <cstdint>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <locale>
#include <map>
#include <set>
#include <sstream>
#include <stdexcept>
#include <utility>
#include <vector>

#include "totebench/scenes/sheet_file.hpp"

namespace totebench::scenes {
namespace {

constexpr double kLargestSheet_m = 20;  // a larger one is a slip of units

[[noreturn]] void refuse(const std::string& path, const std::string& why) {
  throw std::invalid_argument(fmt::format("{}: {}", path, why));
}

std::string read_all(const std::string& path) {
  std::error_code error;
  if (!std::filesystem::is_regular_file(path, error)) refuse(path, "there is no such file");
  std::ifstream file(path, std::ios::binary);
  std::string text((std::istreambuf_iterator<char>(file)), std::istreambuf_iterator<char>());
  if (!file) refuse(path, "the file cannot be read");
  return text;
}

std::istringstream numbers(const std::string& text) {
  std::istringstream stream(text);
  stream.imbue(std::locale::classic());
  return stream;
}

FlatFaces read_obj(const std::string& path, const std::string& text) {
  FlatFaces surface;
  std::istringstream lines = numbers(text);
  std::string line;
  for (int number = 1; std::getline(lines, line); ++number) {
    std::istringstream words = numbers(line);
    std::string key;
    words >> key;
    if (key == "v") {
      Eigen::Vector3d p;
      if (!(words >> p.x() >> p.y() >> p.z())) {
        refuse(path, fmt::format("line {}: a vertex needs three numbers", number));
      }
      surface.points.push_back(p);
    } else if (key == "f") {
      std::vector<int> polygon;
      for (std::string corner; words >> corner;) {
        // "7", "7/1", "7//3": the first number is the vertex; negative counts from the last one.
        std::istringstream first = numbers(corner.substr(0, corner.find('/')));
        long index = 0;
        const long n = static_cast<long>(surface.points.size());
        first >> index;
        if (index < 0) index += n + 1;
        if (index < 1 || index > n) {
          refuse(path, fmt::format("line {}: a face names vertex \"{}\", but there are {} so far",
                                   number, corner, n));
        }
        polygon.push_back(static_cast<int>(index - 1));
      }
      if (polygon.size() < 3) {
        refuse(path, fmt::format("line {}: a face needs three corners or more", number));
      }
      for (std::size_t i = 1; i + 1 < polygon.size(); ++i) {
        surface.corners.push_back({polygon[0], polygon[i], polygon[i + 1]});
      }
    }
  }
  return surface;
}

// Adds one facet, joining corners that are equal to the last bit.
class FacetJoiner {
 public:
  explicit FacetJoiner(FlatFaces& surface) : surface_(surface) {}
  void add(const std::array<Eigen::Vector3d, 3>& facet) {
    std::array<int, 3> corner{};
    for (int i = 0; i < 3; ++i) {
      const std::array<double, 3> key = {facet[i].x(), facet[i].y(), facet[i].z()};
      const auto [entry, added] = known_.emplace(key, static_cast<int>(surface_.points.size()));
      if (added) surface_.points.push_back(facet[i]);
      corner[i] = entry->second;
    }
    surface_.corners.push_back(corner);
  }

 private:
  FlatFaces& surface_;
  std::map<std::array<double, 3>, int> known_;
};

constexpr std::size_t kStlHeader = 80;
constexpr std::size_t kStlFacet = 50;  // normal and corners as 12 floats, 2 bytes of attributes

// Number of facets that the header of a binary .stl announces.
std::size_t announced_facets(const std::string& bytes) {
  std::uint32_t count = 0;
  if (bytes.size() >= kStlHeader + 4) std::memcpy(&count, bytes.data() + kStlHeader, 4);
  return count;
}

FlatFaces read_binary_stl(const std::string& path, const std::string& bytes) {
  const std::size_t n = announced_facets(bytes);
  if (bytes.size() < kStlHeader + 4 + n * kStlFacet) {
    refuse(path, fmt::format("the file is cut short: it announces {} facets", n));
  }
  FlatFaces surface;
  FacetJoiner joiner(surface);
  for (std::size_t f = 0; f < n; ++f) {
    std::array<float, 12> value{};
    std::memcpy(value.data(), bytes.data() + kStlHeader + 4 + f * kStlFacet, sizeof value);
    std::array<Eigen::Vector3d, 3> facet;
    for (std::size_t i = 0; i < 3; ++i) {
      facet[i] = {value[3 + 3 * i], value[4 + 3 * i], value[5 + 3 * i]};
    }
    joiner.add(facet);
  }
  return surface;
}

FlatFaces read_text_stl(const std::string& path, const std::string& text) {
  FlatFaces surface;
  FacetJoiner joiner(surface);
  std::istringstream words = numbers(text);
  std::array<Eigen::Vector3d, 3> facet;
  int corner = 0;
  for (std::string word; words >> word;) {
    if (word == "vertex") {
      Eigen::Vector3d p;
      if (!(words >> p.x() >> p.y() >> p.z())) refuse(path, "a vertex needs three numbers");
      if (corner == 3) refuse(path, "a facet has more than three corners");
      facet[corner++] = p;
    } else if (word == "endfacet") {
      if (corner != 3) refuse(path, "a facet has fewer than three corners");
      joiner.add(facet);
      corner = 0;
    }
  }
  if (corner != 0) refuse(path, "the file is cut short inside a facet");
  return surface;
}

void check(const std::string& path, const FlatFaces& surface) {
  if (surface.corners.empty()) refuse(path, "there is no triangle in it");
  Eigen::AlignedBox3d box;
  for (const Eigen::Vector3d& p : surface.points) {
    if (!p.allFinite()) refuse(path, "a coordinate is not a number");
    box.extend(p);
  }
  if (box.diagonal().maxCoeff() > kLargestSheet_m) {
    refuse(path,
           fmt::format("the mesh is {:.3g} m across; lengths are read as metres: was it drawn "
                       "in millimetres?",
                       box.diagonal().maxCoeff()));
  }
  const double tiny = 1e-12 * box.diagonal().squaredNorm();
  std::set<std::pair<int, int>> directed;
  for (std::size_t t = 0; t < surface.corners.size(); ++t) {
    const auto& c = surface.corners[t];
    const Eigen::Vector3d ab = surface.points[c[1]] - surface.points[c[0]];
    const Eigen::Vector3d ac = surface.points[c[2]] - surface.points[c[0]];
    if (ab.cross(ac).norm() <= tiny) {
      refuse(path, fmt::format("triangle {} has no area", t + 1));
    }
    for (int k = 0; k < 3; ++k) {
      if (!directed.emplace(c[k], c[(k + 1) % 3]).second) {
        refuse(path, fmt::format("triangle {} faces the other way than a neighbour, or lies on "
                                 "one; make all faces point to the same side",
                                 t + 1));
      }
    }
  }
}

}  // namespace

std::string file_ending(const std::string& path) {
  std::string ending = std::filesystem::path(path).extension().string();
  std::transform(ending.begin(), ending.end(), ending.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return ending;
}

solver::ShellMesh read_sheet_file(const std::string& path) {
  const std::string ending = file_ending(path);
  if (ending != ".obj" && ending != ".stl") {
    refuse(path, "sheets are read from .obj, .stl and .vtp files; save the mesh as one of these");
  }
  const std::string content = read_all(path);
  FlatFaces surface;
  if (ending == ".obj") {
    surface = read_obj(path, content);
  } else {
    // A text file starts with "solid", but so do some binary ones.
    const bool fits = content.size() == kStlHeader + 4 + announced_facets(content) * kStlFacet;
    const bool text = content.compare(0, 5, "solid") == 0 && !fits &&
                      content.substr(0, 1000).find("facet") != std::string::npos;
    surface = text ? read_text_stl(path, content) : read_binary_stl(path, content);
  }
  return sheet_of_faces(std::move(surface), path);
}

solver::ShellMesh sheet_of_faces(FlatFaces surface, const std::string& path) {
  check(path, surface);

  // Vertices that no face uses would be unknowns nothing holds.
  std::vector<int> used(surface.points.size(), -1);
  std::vector<Eigen::Vector3d> points;
  for (auto& corners : surface.corners) {
    for (int& c : corners) {
      if (used[c] < 0) {
        used[c] = static_cast<int>(points.size());
        points.push_back(surface.points[c]);
      }
      c = used[c];
    }
  }
  Eigen::Matrix3Xd position(3, static_cast<Eigen::Index>(points.size()));
  for (std::size_t i = 0; i < points.size(); ++i) {
    position.col(static_cast<Eigen::Index>(i)) = points[i];
  }
  return solver::second_order_mesh(position, surface.corners);
}

}  // namespace totebench::scenes
