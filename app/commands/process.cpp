#include "app/commands/process.hpp"

#include <fcntl.h>
#include <unistd.h>

#include <algorithm>
#include <cstdlib>

#ifdef __GLIBC__
#include <malloc.h>
#endif
#ifdef _OPENMP
#include <omp.h>
#endif

#include "app/commands/launch.hpp"

// Present when the BLAS is OpenBLAS.
extern "C" __attribute__((weak)) void openblas_set_num_threads(int);

namespace totebench::app {
namespace {

// One of several processes takes its share of the processors that it may run on, unless
// OMP_NUM_THREADS says how many. Where a launcher binds it to some of the machine's, these may be
// its own or those of several.
void take_share_of_processors() {
#ifdef _OPENMP
  const Launch launch = this_launch();
  if (!launch.several || std::getenv("OMP_NUM_THREADS") != nullptr) return;
  const int bound_to = omp_get_num_procs();
  const auto all = static_cast<int>(sysconf(_SC_NPROCESSORS_ONLN));
  const int share = launch.processors > 0 ? launch.processors : all / launch.on_this_machine;
  omp_set_num_threads(std::clamp(share, 1, std::max(1, bound_to)));
#endif
}

}  // namespace

void tune_process() {
  // Where a standard stream is closed, the next file opened would take its place. What is written
  // to a file that can only be read is an error, as on the closed stream itself.
  for (int stream = STDIN_FILENO; stream <= STDERR_FILENO; ++stream) {
    if (fcntl(stream, F_GETFD) == -1) (void)open("/dev/null", O_RDONLY);
  }
  if (openblas_set_num_threads != nullptr) openblas_set_num_threads(1);
  take_share_of_processors();
#ifdef __GLIBC__
  constexpr int kKept_bytes = 1 << 30;
  mallopt(M_MMAP_THRESHOLD, kKept_bytes);
  mallopt(M_TRIM_THRESHOLD, kKept_bytes);
#endif
}

}  // namespace totebench::app
