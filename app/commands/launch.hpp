// How this process was started: by itself, or as one of several by mpirun, srun or a job array.
#pragma once

#include <string>

namespace totebench::app {

struct Launch {
  bool several = false;     // there may be others with the same command line
  std::string name;         // the same for all of them; empty = not known
  int on_this_machine = 1;  // of them, where it is told
  int processors = 0;       // that each is to use; 0 = not said
};

// From what the launchers say in the environment:
//   mpirun of Open MPI     OMPI_COMM_WORLD_SIZE, OMPI_COMM_WORLD_LOCAL_SIZE, PMIX_NAMESPACE
//   mpirun of MPICH        PMI_SIZE, MPI_LOCALNRANKS
//   srun of Slurm          SLURM_NTASKS with SLURM_STEP_ID, SLURM_CPUS_PER_TASK
//   a job array of Slurm   SLURM_ARRAY_TASK_ID, SLURM_ARRAY_JOB_ID
// Any other is helped by --together and OMP_NUM_THREADS.
[[nodiscard]] Launch this_launch();

}  // namespace totebench::app
