// How a process learns from its environment that it is one of several.
#include "app/commands/launch.hpp"

#include <gtest/gtest.h>

#include <cstdlib>
#include <map>

namespace totebench {
namespace {

// The environment with these variables alone of those that launchers set.
app::Launch launched(const std::map<std::string, std::string>& variables) {
  for (const char* name :
       {"OMPI_COMM_WORLD_SIZE", "OMPI_COMM_WORLD_LOCAL_SIZE", "PMIX_NAMESPACE", "PMI_SIZE",
        "MPI_LOCALNRANKS", "SLURM_NTASKS", "SLURM_STEP_ID", "SLURM_JOB_ID", "SLURM_CPUS_PER_TASK",
        "SLURM_ARRAY_TASK_ID", "SLURM_ARRAY_JOB_ID"}) {
    unsetenv(name);
  }
  for (const auto& [name, value] : variables) setenv(name.c_str(), value.c_str(), 1);
  app::Launch launch = app::this_launch();
  for (const auto& [name, value] : variables) unsetenv(name.c_str());
  return launch;
}

TEST(Launch, AProcessByItselfIsAlone) {
  EXPECT_FALSE(launched({}).several);
  EXPECT_EQ(launched({}).on_this_machine, 1);
  EXPECT_FALSE(launched({{"OMPI_COMM_WORLD_SIZE", "1"}}).several);
  EXPECT_FALSE(launched({{"SLURM_NTASKS", "8"}, {"SLURM_JOB_ID", "3"}}).several)
      << "in the batch script itself, of which there is one";
}

TEST(Launch, ProcessesOfMpirunShareTheMachine) {
  const app::Launch launch = launched({{"OMPI_COMM_WORLD_SIZE", "8"},
                                       {"OMPI_COMM_WORLD_LOCAL_SIZE", "4"},
                                       {"PMIX_NAMESPACE", "prte 17@1"}});
  EXPECT_TRUE(launch.several);
  EXPECT_EQ(launch.on_this_machine, 4);
  EXPECT_EQ(launch.name, "prte-17@1");
  EXPECT_TRUE(launched({{"PMI_SIZE", "2"}, {"MPI_LOCALNRANKS", "2"}}).several);
}

TEST(Launch, TasksOfSlurmHaveAsManyProcessorsAsItGivesThem) {
  const app::Launch step =
      launched({{"SLURM_NTASKS", "8"}, {"SLURM_STEP_ID", "0"}, {"SLURM_JOB_ID", "3"}});
  EXPECT_TRUE(step.several);
  EXPECT_EQ(step.processors, 1);
  EXPECT_EQ(step.name, "slurm-3.0");
  const app::Launch array = launched(
      {{"SLURM_ARRAY_TASK_ID", "5"}, {"SLURM_ARRAY_JOB_ID", "40"}, {"SLURM_CPUS_PER_TASK", "2"}});
  EXPECT_TRUE(array.several);
  EXPECT_EQ(array.processors, 2);
  EXPECT_EQ(array.name, "slurm-40") << "the same for all tasks of the array";
}

}  // namespace
}  // namespace totebench
