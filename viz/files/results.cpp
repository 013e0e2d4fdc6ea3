#include "totebench/viz/results.hpp"

#include <fmt/format.h>

#include <system_error>

#include "totebench/viz/atomic_file.hpp"
#include "totebench/viz/drawn_bag.hpp"
#include "totebench/viz/fields.hpp"
#include "totebench/viz/standing_picture.hpp"
#include "totebench/viz/vtk_module.hpp"
#include "viz/pictures/sheet_picture.hpp"
#include "viz/pictures/tote_picture.hpp"

namespace totebench::viz {
namespace {

namespace fs = std::filesystem;

class Folder {
 public:
  explicit Folder(fs::path path) : path_(std::move(path)) {
    vtk_ = vtk_module(no_vtk_);
    if (vtk_ == nullptr) written_.problems.push_back("nothing to look at was written: " + no_vtk_);
  }
  void surface(const std::string& name, const SurfaceData& data) {
    put(name, [&](const fs::path& part) { return vtk_->write_surface(data, part.string()); });
  }
  void points(const std::string& name, const PointCloudData& data) {
    put(name, [&](const fs::path& part) { return vtk_->write_points(data, part.string()); });
  }
  void picture(const std::string& name, const Picture& picture) {
    if (vtk_ == nullptr) return;
    std::string problem = vtk_->draw(picture, written_.picture_png);
    written_.picture_parts = picture.parts;
    if (problem.empty()) problem = write_text_atomically(path_ / name, written_.picture_png);
    note(name, problem);
  }
  // One of an earlier run would show something else.
  void without_picture(const std::string& name) {
    std::error_code ignored;
    fs::remove(path_ / name, ignored);
    if (vtk_ != nullptr) note(name, "stopped on request");
  }
  void text(const std::string& name, const std::string& content) {
    must(name, write_text_atomically(path_ / name, content));
  }
  // `data_of(step)` gives the surface of one step.
  template <class DataOf>
  void steps(const std::vector<solver::LoadStep>& steps, const DataOf& data_of) {
    if (!begin_series("steps") || steps.empty()) return;
    for (std::size_t i = 0; i < steps.size(); ++i) {
      const std::string name = fmt::format("steps/step_{:02}.vtu", i);
      surface(name, data_of(steps[i]));
      in_series(steps[i].load_factor, 0, name);
    }
    end_series("steps");
  }
  bool begin_series(const std::string& name) {
    list_.clear();
    if (vtk_ == nullptr) return false;
    std::error_code ignored;  // what an earlier, longer run left would not belong to this one
    fs::remove_all(path_ / name, ignored);
    fs::create_directories(path_ / name, ignored);
    return true;
  }
  void in_series(double time, int part, const std::string& file) {
    list_ += fmt::format("    <DataSet timestep=\"{:.6g}\" part=\"{}\" file=\"{}\"/>\n", time, part,
                         file);
  }
  void end_series(const std::string& name) {
    text(name + ".pvd",
         "<?xml version=\"1.0\"?>\n<VTKFile type=\"Collection\" version=\"0.1\" "
         "byte_order=\"LittleEndian\">\n  <Collection>\n" +
             list_ + "  </Collection>\n</VTKFile>\n");
  }
  [[nodiscard]] Written written() const { return written_; }

 private:
  template <class Write>
  void put(const std::string& name, const Write& write) {
    if (vtk_ == nullptr) return;
    must(name, write_atomically(path_ / name, write));
  }
  void must(const std::string& name, const std::string& problem) {
    list(name, problem, written_.failures);
  }
  void note(const std::string& name, const std::string& problem) {
    list(name, problem, written_.problems);
  }
  void list(const std::string& name, const std::string& problem,
            std::vector<std::string>& missing) {
    if (problem.empty()) {
      written_.files.push_back(name);
    } else {
      missing.push_back(name + " is missing: " + problem);
    }
  }
  fs::path path_;
  std::string no_vtk_;
  const VtkModule* vtk_ = nullptr;
  std::string list_;  // of the series being written
  Written written_;
};

// The skins of the things, with a number for each.
SurfaceData things_data(const scenes::Tote& tote, const std::vector<solver::BodyPose>& bodies) {
  const MeshWithThings all = mesh_with_things(tote);
  const Eigen::Matrix3Xd x = places_with_things(tote, tote.model.mesh.position, bodies);
  const int first = tote.model.mesh.n_nodes();
  SurfaceData data;
  data.points = x.rightCols(x.cols() - first);
  NamedArray number{"thing", Eigen::MatrixXd(1, static_cast<Eigen::Index>(all.things.size())), {}};
  Eigen::Index cell = 0;
  for (const int t : all.things) {
    std::array<int, 6> nodes = all.mesh.triangles[t].node;
    for (int& node : nodes) node -= first;
    data.triangles.push_back(nodes);
  }
  for (std::size_t b = 0; b < bodies.size(); ++b) {
    for (std::size_t f = 0; f < tote.model.bodies[b].skin.face.size(); ++f) {
      number.values(0, cell++) = static_cast<double>(b);
    }
  }
  data.cell_arrays.push_back(std::move(number));
  return data;
}

}  // namespace

Written write_tote_files(const ToteResult& result, const std::string& units,
                         const std::string& load_text, const fs::path& folder,
                         std::optional<BagField> colour, const std::vector<PictureMark>& marks) {
  const scenes::Tote& tote = result.tote;
  const Eigen::Matrix3Xd& start = tote.model.mesh.position;
  const solver::ShellFields& loaded_fields = result.findings.loaded_fields;
  const Eigen::Matrix3Xd forces = solver::stitch_forces(tote.model, result.loaded);
  Folder out(folder);
  out.surface("tote_empty.vtu", tote_data(tote, result.empty.x, start,
                                          solver::shell_fields(tote.model, result.empty)));
  out.surface("tote_loaded.vtu", tote_data(tote, result.loaded.x, result.empty.x, loaded_fields));
  out.points("stitches.vtp", stitch_data(tote, result.loaded.x, forces));
  if (!result.loaded.bodies.empty()) {
    out.surface("things.vtu", things_data(tote, result.loaded.bodies));
  }
  if (!result.steps.empty()) {
    const scenes::Tote& coarse = result.steps_tote;
    const Eigen::Matrix3Xd from = result.steps.front().state.x;
    out.steps(result.steps, [&](const solver::LoadStep& step) {
      return tote_data(coarse, step.state.x, from, solver::shell_fields(coarse.model, step.state));
    });
  }
  if (!colour) {
    out.without_picture("tote.png");
    return out.written();
  }
  const double factor = result.steps.empty() ? 1 : result.steps.back().load_factor;
  const ShownField shown = shown_field(*colour, tote, result.loaded, loaded_fields, factor, units);
  out.picture("tote.png",
              tote_picture({tote, result.empty.x, result.loaded.x, shown, forces, units, load_text,
                            result.findings.bottom_sag_m, result.findings.overall_lengthening_m,
                            result.findings.strap_drop_empty_m, result.findings.strap_drop_loaded_m,
                            result.findings.converged(), marks, result.loaded.bodies}));
  return out.written();
}

Written write_standing_files(const Eigen::Matrix3Xd& as_placed, const std::vector<StoodView>& views,
                             const std::string& units, const fs::path& folder, bool picture) {
  Folder out(folder);
  for (const StoodView& view : views) {
    const solver::Model& model = view.tote.model;
    out.surface("tote_" + view.name + ".vtu", tote_data(view.tote, view.state.x, as_placed,
                                                        solver::shell_fields(model, view.state)));
  }
  const StoodView& last = views.back();
  out.surface("things.vtu",
              things_data(with_table_trimmed(last.tote, last.state), last.state.bodies));
  if (picture) {
    out.picture("stand.png", standing_picture(as_placed, views, units));
  } else {
    out.without_picture("stand.png");
  }
  return out.written();
}

Written write_sheet_files(const SheetResult& result, const std::string& units,
                          const fs::path& folder, bool picture) {
  const solver::Model& model = result.sheet.model;
  const solver::State& loaded = result.steps.back().state;
  const auto data_of = [&](const solver::LoadStep& step) {
    return surface_data(model, step.state.x, model.mesh.position,
                        solver::shell_fields(model, step.state));
  };
  Folder out(folder);
  out.surface("sheet.vtu", data_of(result.steps.back()));
  out.steps(result.steps, data_of);
  if (!picture) {
    out.without_picture("sheet.png");
    return out.written();
  }
  std::vector<std::string> names;
  for (const scenes::Probe& probe : result.scene.sheet.probes) names.push_back(probe.name);
  std::vector<Eigen::Matrix3Xd> ways;
  for (const int node : result.sheet.probe_nodes) {
    Eigen::Matrix3Xd way(3, static_cast<Eigen::Index>(result.steps.size()));
    for (std::size_t i = 0; i < result.steps.size(); ++i) {
      way.col(static_cast<Eigen::Index>(i)) = result.steps[i].state.x.col(node);
    }
    ways.push_back(std::move(way));
  }
  out.picture("sheet.png", sheet_picture({model.mesh, loaded.x, result.sheet.probe_nodes, names,
                                          units, result.scene.name, result.converged, ways}));
  return out.written();
}

Written write_series(const scenes::Tote& tote, const Eigen::Matrix3Xd& from_x_m,
                     const std::vector<SeriesStep>& steps, const std::string& name,
                     const fs::path& folder) {
  Folder out(folder);
  if (!out.begin_series(name)) return out.written();
  for (std::size_t i = 0; i < steps.size(); ++i) {
    const solver::State& state = steps[i].state;
    const std::string surface = fmt::format("{}/step_{:02}.vtu", name, i);
    const std::string stitches = fmt::format("{}/stitches_{:02}.vtp", name, i);
    out.surface(surface,
                tote_data(tote, state.x, from_x_m, solver::shell_fields(tote.model, state)));
    out.points(stitches, stitch_data(tote, state.x, steps[i].stitch_forces_N));
    out.in_series(steps[i].time, 0, surface);
    out.in_series(steps[i].time, 1, stitches);
  }
  out.end_series(name);
  return out.written();
}

Written write_comparison_files(const std::vector<std::pair<std::string, std::string>>& texts,
                               const std::vector<ComparedView>& views, const std::string& units,
                               const fs::path& folder) {
  Folder out(folder);
  // Numbers first: who stops a run while it draws has them all.
  for (const auto& [name, text] : texts) out.text(name, text);
  if (!views.empty()) out.picture("compare.png", compare_picture(views, units));
  return out.written();
}

}  // namespace totebench::viz
