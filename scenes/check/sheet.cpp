// What contradicts itself in a sheet scene.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <optional>
#include <stdexcept>

#include "scenes/builder/sheet/chart.hpp"
#include "scenes/builder/sheet/mesh.hpp"
#include "scenes/check/scene.hpp"
#include "scenes/format/resolve.hpp"
#include "scenes/format/told_length.hpp"
#include "totebench/scenes/nearest.hpp"
#include "totebench/scenes/sheet_file.hpp"

namespace totebench::scenes {
namespace {

using Kind = SheetLoad::Kind;

constexpr double kLongestMove_m = 1e5;  // as long as the longest sheet

class SheetCheck {
 public:
  SheetCheck(const Scene& scene, const materials::MaterialLibrary& library, SceneReport& report)
      : scene_(scene), sheet_(scene.sheet), library_(library), report_(report) {}

  void run() {
    section();
    if (sheet_.geometry.shape == SheetShape::kFile) {
      file();
    } else if (sizes_known()) {
      try {
        chart_.emplace(sheet_.geometry);
      } catch (const std::invalid_argument& error) {
        report_.error("/sheet", error.what(), "correct the sizes of the sheet");
      }
    }
    supports();
    for (std::size_t i = 0; i < sheet_.loads.size(); ++i) {
      load(sheet_.loads[i], fmt::format("/loads/{}", i));
    }
    fills();
    driven();
    probes();
    if (chart_) {
      narrow();
      check_triangles({sheet_area_m2(sheet_.geometry), scene_.mesh.size_m, scene_.units},
                      kSheetLimits, report_);
    }
  }

 private:
  void section() {
    const bool layers = !sheet_.layers.empty();
    if (layers && sheet_.plain) {
      report_.error("/sheet/plain", "the sheet is given both layers and a plain section",
                    "take out one of the two");
    } else if (!layers && !sheet_.plain && report_.given("/sheet")) {
      report_.error("/sheet", "the sheet is made of nothing",
                    "add \"layers\": [{\"material\": ...}], or a \"plain\" section");
    } else if (layers) {
      check_layers(sheet_.layers, "/sheet/layers", library_, report_, true);
    }
  }

  [[nodiscard]] bool sizes_known() const {
    return !std::isnan(sheet_area_m2(sheet_.geometry)) && report_.given("/sheet/shape");
  }

  // Triangles no wider than the sheet, however large they may be.
  void narrow() {
    if (!(scene_.mesh.size_m > 0)) return;
    const double n = chart_->triangles(scene_.mesh.size_m);
    if (!(n > kMostTriangles) ||
        triangle_count(sheet_area_m2(sheet_.geometry), scene_.mesh.size_m) > kMostTriangles) {
      return;
    }
    report_.error(
        "/sheet",
        fmt::format("a sheet this long and narrow takes about {:.2g} triangles, more than "
                    "fit",
                    n),
        "make it wider or shorter");
  }

  void file() {
    const std::filesystem::path path(sheet_.geometry.file);
    if (!sheet_.geometry.faces.corners.empty()) return triangles_of_file(path.string());
    if (path.empty()) return;
    std::error_code error;
    const std::string ending = file_ending(path.string());
    if (ending != ".obj" && ending != ".stl" && ending != ".vtp") {
      report_.error("/sheet/file", "only .obj, .stl and .vtp meshes are read",
                    "save the mesh in one of these formats");
    } else if (!std::filesystem::is_regular_file(path, error)) {
      report_.error("/sheet/file", fmt::format("there is no file {}", path.string()),
                    "paths are relative to the scene file");
    } else if (ending != ".vtp") {  // needs VTK, which this room does not have
      triangles_of_file(path.string());
    }
  }

  void triangles_of_file(const std::string& path) {
    try {
      const FlatFaces& faces = sheet_.geometry.faces;
      const solver::ShellMesh mesh =
          faces.corners.empty() ? read_sheet_file(path) : sheet_of_faces(faces, path);
      const double size = scene_.mesh.size_m;
      if (!(size > 0)) return;
      const double n = triangles_when_split(mesh, size);
      if (mesh.n_triangles() > kMostTriangles) {
        report_.error("/sheet/file",
                      fmt::format("{} has {} triangles, more than fit", path, mesh.n_triangles()),
                      fmt::format("thin it out to {:.0f} or fewer; some {:.0f} are usual",
                                  kMostTriangles, kSheetLimits.usual));
      } else if (n > kMostTriangles) {
        const double room = kMostTriangles / mesh.n_triangles();
        const double finest = size * std::pow(2.0, std::ceil(0.5 * std::log2(n / kMostTriangles)));
        report_.error(
            "/mesh/size",
            fmt::format("the {} triangles of the mesh file, split until they are this fine, are "
                        "about {:.2g}, more than fit",
                        mesh.n_triangles(), n),
            room < 4
                ? "leave mesh.size out, and the file's triangles stay as they are"
                : fmt::format("\"{}\" or more can be solved", told_at_least(finest, scene_.units)));
      }
    } catch (const std::invalid_argument& error) {
      report_.error("/sheet/file", error.what(), "mend the mesh, or save it again");
    }
  }

  void border(const std::string& where, const std::string& pointer) {
    if (!chart_ || where.empty() || where == "border") return;
    std::vector<std::string> names = chart_->side_names();
    if (std::count(names.begin(), names.end(), where) > 0) return;
    names.emplace_back("border");
    const std::string near = nearest(where, names);
    std::string all;
    for (const std::string& name : names) all += (all.empty() ? "" : ", ") + name;
    report_.error(pointer, fmt::format("this sheet has no border \"{}\"", where.substr(0, 40)),
                  near.empty() ? "it has " + all : fmt::format("did you mean \"{}\"?", near));
  }

  void point(const Eigen::Vector3d& p, const std::string& pointer) {
    if (!chart_ || !p.allFinite() || chart_->parameters_of(p)) return;
    report_.error(pointer,
                  fmt::format("the point ({:.4g}, {:.4g}, {:.4g}) m does not lie on the sheet",
                              p.x(), p.y(), p.z()),
                  "points are points of the rest shape; see totebench explain sheet.shape");
  }

  void move(const SheetSupport& s, const std::string& at) {
    if (!s.move_m || !s.move_m->allFinite()) return;
    for (int axis = 0; axis < 3; ++axis) {
      if ((*s.move_m)[axis] == 0 || s.fix[axis]) continue;
      report_.error(at,
                    fmt::format("the support moves along {0} but does not hold {0}", "xyz"[axis]),
                    fmt::format("put \"{}\" in its \"fix\"", "xyz"[axis]));
    }
    if (s.move_m->norm() <= kLongestMove_m) return;
    report_.error(at, fmt::format("a support moved by {:.3g} m", s.move_m->norm()),
                  fmt::format("move it by {:.0e} m at most", kLongestMove_m));
  }

  void supports() {
    bool held[3] = {false, false, false};
    for (std::size_t i = 0; i < sheet_.supports.size(); ++i) {
      const SheetSupport& s = sheet_.supports[i];
      const std::string at = fmt::format("/supports/{}", i);
      if (s.where.empty() == !s.point_m) {
        report_.error(at,
                      s.point_m ? "the support is given both a border and a point"
                                : "the support does not say what it holds",
                      "give either \"where\" (a border) or \"point\"");
      }
      border(s.where, at + "/where");
      if (s.point_m) point(*s.point_m, at + "/point");
      if (s.point_m && s.clamp) {
        report_.error(at + "/clamp", "a point cannot be clamped", "clamp a border instead");
      }
      move(s, at + "/move");
      if (!s.fix[0] && !s.fix[1] && !s.fix[2] && !s.clamp) {
        report_.error(at + "/fix", "the support holds nothing", "name at least one of x, y and z");
      }
      for (int axis = 0; axis < 3; ++axis) held[axis] |= s.fix[axis];
    }
    if (sheet_.supports.empty()) return;
    for (int axis = 0; axis < 3; ++axis) {
      if (held[axis]) continue;
      report_.error("/supports", fmt::format("nothing holds the sheet along {}", "xyz"[axis]),
                    fmt::format("put \"{}\" in the \"fix\" of a support", "xyz"[axis]));
    }
  }

  void load(const SheetLoad& l, const std::string& at) {
    border(l.where, at + "/where");
    if (l.point_m) point(*l.point_m, at + "/point");
    const bool is_vector =
        l.kind == Kind::kAreaForce || l.kind == Kind::kEdgeForce || l.kind == Kind::kPointForce;
    const bool is_scalar = l.kind == Kind::kPressure || l.kind == Kind::kEdgeMoment;
    if ((is_vector && l.vector.isZero() && !l.vector.hasNaN()) || (is_scalar && l.magnitude == 0)) {
      report_.error(at, "a load of zero", "give it a size, or take it out");
    }
    if (l.kind == Kind::kGravity && sheet_.plain && sheet_.plain->areal_mass_kg_per_m2 == 0) {
      report_.error(at, "gravity on a sheet without mass", "give sheet.plain.areal_mass");
    }
  }

  // Of a program's own scene, loads may come later, at the model.
  void driven() {
    if (!report_.is_of_a_file()) return;
    const bool moves = std::any_of(sheet_.supports.begin(), sheet_.supports.end(),
                                   [](const SheetSupport& s) { return s.move_m.has_value(); });
    if (moves || !sheet_.loads.empty()) return;
    report_.error("/loads", "nothing pulls on this sheet and no support is moved",
                  "add \"loads\": [{\"kind\": \"gravity\"}], or \"move\" to a support");
  }

  void fills() {
    const auto n = std::count_if(sheet_.loads.begin(), sheet_.loads.end(),
                                 [](const SheetLoad& l) { return l.kind == Kind::kFill; });
    if (n > 1) report_.error("/loads", "a sheet can hold one fill only", "take out the others");
  }

  void probes() {
    std::vector<std::string> names;
    for (std::size_t i = 0; i < sheet_.probes.size(); ++i) {
      const Probe& p = sheet_.probes[i];
      const std::string at = fmt::format("/probes/{}", i);
      point(p.point_m, at + "/point");
      if (!p.name.empty() && std::count(names.begin(), names.end(), p.name) > 0) {
        report_.error(at + "/name", fmt::format("two probes are called \"{}\"", p.name),
                      "give each its own name");
      }
      names.push_back(p.name);
    }
    for (const Expectation& e : scene_.expect) {
      const std::string name = probe_name(e.key);
      if (name.empty()) {
        report_.error("/expect", fmt::format("a sheet has no result {}", e.key),
                      "for a sheet expect a probe and an axis, as in \"tip.z\"");
      } else if (std::count(names.begin(), names.end(), name) == 0) {
        const std::string near = nearest(name, names);
        report_.error(
            "/expect", fmt::format("there is no probe \"{}\"", name),
            near.empty() ? "add it to probes" : fmt::format("did you mean \"{}\"?", near));
      }
    }
  }

  // "tip" of "probes.tip.displacement_z_m"
  static std::string probe_name(const std::string& key) {
    const auto end = key.rfind(".displacement_");
    if (key.rfind("probes.", 0) != 0 || end == std::string::npos) return "";
    return key.substr(7, end - 7);
  }

  const Scene& scene_;
  const SheetScene& sheet_;
  const materials::MaterialLibrary& library_;
  SceneReport& report_;
  std::optional<SheetChart> chart_;
};

}  // namespace

void check_sheet(const Scene& scene, const materials::MaterialLibrary& library,
                 SceneReport& report) {
  SheetCheck(scene, library, report).run();
}

}  // namespace totebench::scenes
