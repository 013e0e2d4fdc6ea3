// A solved shell as what the 3-D view of the report page draws: one set of triangles, its shape at
// every computed load step, colours at full load, and stitches with their forces.
#pragma once

#include <Eigen/Core>
#include <array>
#include <memory>
#include <string>
#include <vector>

#include "totebench/scenes/build.hpp"
#include "totebench/viz/picture.hpp"
#include "totebench/viz/tessellate.hpp"

namespace totebench::viz {

struct PageField {
  std::string name;  // "hardest pull in the cloth"
  std::string unit;
  std::string at;       // when the colours hold: "at full load"
  CornerValues values;  // per triangle of the mesh, shown unit; only coloured parts are read
  double low = 0;
  double high = 1;
};

struct PageStep {
  double load_factor = 0;
  Eigen::Matrix3Xd x_m;         // node positions as drawn
  Eigen::Matrix3Xd stitches_m;  // one column a stitch
  double bottom_sag_m = 0;
  double strap_drop_m = 0;
};

struct PageStitch {
  std::string site;
  int number = 0;  // within its site, from 1
  double total_N = 0, along_N = 0, across_N = 0, peel_N = 0;
};

// Triangles drawn in one way.
struct PagePart {
  std::vector<int> triangles;
  Colour colour{0.8, 0.8, 0.8};
  bool coloured = false;  // by the field that is chosen
};

struct PageModel {
  std::string name;
  const solver::ShellMesh* mesh = nullptr;  // must outlive the call of page_model_json
  std::shared_ptr<const solver::ShellMesh> own_mesh = nullptr;  // that mesh, where it is no other's
  std::vector<int> group;  // per triangle: shading and colours are smooth within one
  std::vector<PagePart> parts;
  std::vector<PageStep> steps;  // from empty to the last one computed, at least one
  std::vector<PageField> fields;
  std::vector<PageStitch> stitches;
  std::string units;          // in, cm, si
  bool has_readings = false;  // steps know their sag and strap drop
};

// One JSON object; places are kept to within 1/65535 of the largest extent.
[[nodiscard]] std::string page_model_json(const PageModel& model);

// Coarse positions at one load step carried over to a finer mesh of the same bag whose shapes at
// both ends are known: along the straight way between the ends, bent as the coarse steps are.
// Between the nodes of the coarse mesh the bend is averaged over the nearest four of the same part.
struct StepMesh {
  const scenes::Tote& tote;
  const Eigen::Matrix3Xd& empty_x_m;
  const Eigen::Matrix3Xd& loaded_x_m;
};
[[nodiscard]] Eigen::Matrix3Xd carried_over(const StepMesh& coarse,
                                            const Eigen::Matrix3Xd& step_x_m, double load_factor,
                                            const StepMesh& fine);

[[nodiscard]] std::string base64(const void* data, std::size_t size);

}  // namespace totebench::viz
