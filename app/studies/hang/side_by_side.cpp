#include "totebench/studies/side_by_side.hpp"

#include <exception>

namespace totebench::studies {

void side_by_side(const std::vector<std::function<void()>>& work) {
  std::vector<std::exception_ptr> failures(work.size());
#pragma omp parallel for schedule(dynamic, 1)
  for (std::size_t i = 0; i < work.size(); ++i) {
    try {
      work[i]();
    } catch (...) {
      failures[i] = std::current_exception();
    }
  }
  for (const std::exception_ptr& failure : failures) {
    if (failure) std::rethrow_exception(failure);
  }
}

}  // namespace totebench::studies
