#include "app/commands/process.hpp"

#ifdef __GLIBC__
#include <malloc.h>
#endif

// Present when the BLAS is OpenBLAS.
extern "C" __attribute__((weak)) void openblas_set_num_threads(int);

namespace totebench::app {

void tune_process() {
  if (openblas_set_num_threads != nullptr) openblas_set_num_threads(1);
#ifdef __GLIBC__
  constexpr int kKept_bytes = 1 << 30;
  mallopt(M_MMAP_THRESHOLD, kKept_bytes);
  mallopt(M_TRIM_THRESHOLD, kKept_bytes);
#endif
}

}  // namespace totebench::app
