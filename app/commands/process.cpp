#include "app/commands/process.hpp"

#include <fcntl.h>
#include <unistd.h>

#ifdef __GLIBC__
#include <malloc.h>
#endif

// Present when the BLAS is OpenBLAS.
extern "C" __attribute__((weak)) void openblas_set_num_threads(int);

namespace totebench::app {

void tune_process() {
  // Where a standard stream is closed, the next file opened would take its place. What is written
  // to a file that can only be read is an error, as on the closed stream itself.
  for (int stream = STDIN_FILENO; stream <= STDERR_FILENO; ++stream) {
    if (fcntl(stream, F_GETFD) == -1) (void)open("/dev/null", O_RDONLY);
  }
  if (openblas_set_num_threads != nullptr) openblas_set_num_threads(1);
#ifdef __GLIBC__
  constexpr int kKept_bytes = 1 << 30;
  mallopt(M_MMAP_THRESHOLD, kKept_bytes);
  mallopt(M_TRIM_THRESHOLD, kKept_bytes);
#endif
}

}  // namespace totebench::app
