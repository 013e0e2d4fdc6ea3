// The folder of results as a whole: which files are there, and that none is half there.
#include <gtest/gtest.h>
#include <vtkNew.h>
#include <vtkUnstructuredGrid.h>
#include <vtkXMLUnstructuredGridReader.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <regex>

#include "tests/unit/viz_sample.hpp"
#include "totebench/viz/results.hpp"

namespace totebench {
namespace {

namespace fs = std::filesystem;

class VizResults : public testing::Test {
 protected:
  void SetUp() override {
    folder_ = fs::path(testing::TempDir()) /
              ("totebench_results_" +
               std::string(testing::UnitTest::GetInstance()->current_test_info()->name()));
    fs::remove_all(folder_);
    fs::create_directories(folder_);
    solver::Section section;
    section.A = Eigen::Vector3d(1e5, 1e5, 1e3).asDiagonal();
    section.D = Eigen::Vector3d(1e-4, 1e-4, 1e-5).asDiagonal();
    sample_.tote.model.sections = {section};
    empty_ = solver::start_state(sample_.tote.model);
    loaded_ = empty_;
    loaded_.x = sample_.loaded_x_m;
    findings_.loaded_fields = solver::shell_fields(sample_.tote.model, loaded_);
  }
  void TearDown() override { fs::remove_all(folder_); }

  viz::Written write(int n_steps) {
    std::vector<solver::LoadStep> steps;
    for (int i = 0; i <= n_steps; ++i) {
      solver::State between = empty_;
      between.x += (loaded_.x - empty_.x) * i / n_steps;
      steps.push_back({double(i) / n_steps, between});
    }
    return viz::write_tote_files({sample_.tote, empty_, loaded_, findings_, sample_.tote, steps},
                                 "cm", "with 8 kg", folder_);
  }
  static std::string content(const fs::path& path) {
    std::ifstream file(path);
    return {std::istreambuf_iterator<char>(file), {}};
  }

  sample::SampleTote sample_ = sample::make_sample();
  solver::State empty_, loaded_;
  scenes::Findings findings_;
  fs::path folder_;
};

TEST_F(VizResults, EveryFileIsThereAndNoneIsHalfThere) {
  const viz::Written written = write(4);
  for (const std::string& problem : written.problems) ADD_FAILURE() << problem;
  for (const std::string& failure : written.failures) ADD_FAILURE() << failure;
  for (const char* name : {"tote_empty.vtu", "tote_loaded.vtu", "stitches.vtp", "steps.pvd"}) {
    EXPECT_GT(fs::file_size(folder_ / name), 100u) << name;
    EXPECT_EQ(std::count(written.files.begin(), written.files.end(), name), 1) << name;
  }
  for (const auto& entry : fs::recursive_directory_iterator(folder_)) {
    EXPECT_NE(entry.path().extension(), ".part") << entry.path();
  }
}

TEST_F(VizResults, TheStepListNamesFilesThatCanBeRead) {
  ASSERT_TRUE(write(4).failures.empty());
  const std::string list = content(folder_ / "steps.pvd");
  const std::regex entry("<DataSet timestep=\"([^\"]*)\" part=\"0\" file=\"([^\"]*)\"/>");
  int n = 0;
  for (auto it = std::sregex_iterator(list.begin(), list.end(), entry);
       it != std::sregex_iterator(); ++it, ++n) {
    EXPECT_NEAR(std::stod((*it)[1]), n / 4.0, 1e-6);
    vtkNew<vtkXMLUnstructuredGridReader> reader;
    reader->SetFileName((folder_ / (*it)[2].str()).c_str());
    reader->Update();
    EXPECT_EQ(reader->GetOutput()->GetNumberOfCells(),
              static_cast<vtkIdType>(sample_.tote.part.size()));
  }
  EXPECT_EQ(n, 5);
}

TEST_F(VizResults, AShorterRunLeavesNoStepsOfTheLongerOne) {
  ASSERT_TRUE(write(6).failures.empty());
  ASSERT_TRUE(write(2).failures.empty());
  EXPECT_EQ(std::distance(fs::directory_iterator(folder_ / "steps"), fs::directory_iterator()), 3);
}

}  // namespace
}  // namespace totebench
