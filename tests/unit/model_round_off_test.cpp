// Last digits of a bag's measures choose nothing of the model that is made of it.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <string>
#include <utility>
#include <vector>

#include "shipped_library.hpp"
#include "tests/support/source_folder.hpp"
#include "totebench/scenes/build.hpp"
#include "totebench/scenes/reader.hpp"

namespace totebench {
namespace {

// Everything the solver hears of a bag, in rows of numbers with a name.
class Told {
 public:
  explicit Told(const solver::Model& model) {
    row("places", model.mesh.position.reshaped());
    for (std::size_t t = 0; t < model.mesh.triangles.size(); ++t) {
      const solver::Triangle& triangle = model.mesh.triangles[t];
      row("nodes", Eigen::Map<const Eigen::Array<int, 6, 1>>(triangle.node.data()).cast<double>());
      const solver::Section& section = model.sections[triangle.section];
      row("membrane", section.A.reshaped());
      row("coupling", section.B.reshaped());
      row("bending", section.D.reshaped());
      row("mass", Eigen::Vector<double, 1>(section.areal_mass_kg_per_m2));
      row("rest", model.mesh.rest[t].reshaped());
      row("warp", model.mesh.warp[t]);
    }
    for (const solver::LabelledEdge& edge : model.mesh.labelled_edges) {
      row("labelled edge", Eigen::Vector3d(edge.a, edge.b, edge.label));
    }
    for (const solver::Stitch& stitch : model.stitches) told("stitch", model, stitch);
    for (const solver::WeakSpring& spring : model.weak_springs) told("weak spring", model, spring);
    for (const solver::NormalTie& tie : model.normal_ties) {
      at("tie", model, tie.slave);
      at("tie", model, tie.master);
      row("tie", Eigen::Vector2d(tie.stiffness_N_per_m, tie.gap_m));
    }
    for (const solver::Tether& tether : model.tethers) {
      at("tether", model, tether.a);
      at("tether", model, tether.b);
      row("tether", Eigen::Vector2d(tether.stiffness_N_per_m, tether.slack_m));
    }
    for (const solver::FixedDof& fixed : model.fixed) {
      row("fixed", Eigen::Vector2d(fixed.node, fixed.axis));
    }
    row("own weight", model.permanent_force_N.reshaped());
    row("load", model.payload_force_N.reshaped());
    row("pressure", model.payload_pressure_Pa);
    row("wetted", Eigen::Map<const Eigen::ArrayXi>(model.fill.triangles.data(),
                                                   static_cast<int>(model.fill.triangles.size()))
                      .cast<double>());
    row("thickness", Eigen::Map<const Eigen::VectorXd>(
                         model.contact.thickness_m.data(),
                         static_cast<Eigen::Index>(model.contact.thickness_m.size())));
    row("contact group",
        Eigen::Map<const Eigen::ArrayXi>(model.contact.group.data(),
                                         static_cast<int>(model.contact.group.size()))
            .cast<double>());
    for (const solver::Body& body : model.bodies) {
      row("thing", body.start.position);
      row("its skin", body.skin.point_m.reshaped());
    }
  }

  // The first thing that is not the same but for `share` of the largest number of its row.
  [[nodiscard]] std::string differs(const Told& other, double share) const {
    if (rows_.size() != other.rows_.size()) return "a number of things";
    for (std::size_t i = 0; i < rows_.size(); ++i) {
      const auto& [name, mine] = rows_[i];
      const auto& [its_name, its] = other.rows_[i];
      if (name != its_name || mine.size() != its.size()) return "how many: " + name;
      if (mine.size() > 0 &&
          (mine - its).cwiseAbs().maxCoeff() > share * std::max(1e-6, mine.cwiseAbs().maxCoeff())) {
        return name + " of row " + std::to_string(i);
      }
    }
    return "";
  }

 private:
  void row(const std::string& name, const Eigen::VectorXd& numbers) {
    rows_.emplace_back(name, numbers);
  }
  // A point on an edge may be told as one of either triangle.
  void at(const std::string& name, const solver::Model& model, const solver::SurfacePoint& point) {
    const solver::Triangle& t = model.mesh.triangles[point.triangle];
    const auto corner = [&](int k) { return model.mesh.position.col(t.node[k]); };
    row(name, corner(0) + point.xi * (corner(1) - corner(0)) + point.eta * (corner(2) - corner(0)));
  }
  void told(const std::string& name, const solver::Model& model, const solver::Stitch& stitch) {
    row(name, Eigen::Vector2d(stitch.stiffness_N_per_m, stitch.group));
    for (const solver::StitchPoint& point : solver::points_of(stitch)) {
      at(name, model, point.a);
      at(name, model, point.b);
      row(name, Eigen::Vector<double, 1>(point.share));
    }
  }
  std::vector<std::pair<std::string, Eigen::VectorXd>> rows_;
};

// Lengths made of the width differ by no more than it; what is found by iteration, such as the way
// of a strap, may by ten times as much.
constexpr double kSame = 1e-10;

TEST(EveryExample, HasOneModelWhateverTheLastDigit) {
  const std::filesystem::path folder = test::source_folder() / "scenes/examples";
  int n = 0;
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    if (entry.path().extension() != ".json") continue;
    const scenes::ReadResult read = scenes::read_scene(entry.path(), library());
    ASSERT_TRUE(read.scene) << entry.path();
    if (read.scene->kind != scenes::SceneKind::kTote) continue;
    for (int level = 0; level <= scenes::finest_level(*read.scene); ++level) {
      const auto told = [&](double wider) {
        scenes::Scene scene = *read.scene;
        scene.bag.width_m *= wider;
        return Told(scenes::build_tote(scene, library(), level).model);
      };
      const Told as_it_is = told(1);
      for (const double hair : {-1e-14, 1e-14, 1e-12}) {
        EXPECT_EQ(as_it_is.differs(told(1 + hair), kSame), "")
            << entry.path().stem() << ", mesh " << level << ", width by " << hair;
        ++n;
      }
    }
  }
  EXPECT_GE(n, 3 * 2 * 10);  // of ten bags and two meshes each
}

}  // namespace
}  // namespace totebench
