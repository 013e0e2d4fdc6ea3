// Where the time of a search goes.
#pragma once

#include <chrono>

namespace totebench::solver {

// Wall-clock seconds.
struct WorkTimes {
  double assembly = 0;       // gradients and Hessians
  double contact = 0;        // looking for pairs, and how far a step may go
  double ordering = 0;       // analysis of the Hessian's pattern
  double factorisation = 0;  // of the Hessian
  double substitution = 0;   // solving with the factor
  double line_search = 0;    // energies of trial states
  double whole = 0;          // of the search, what is above and all else
};

// Adds the seconds of its own life to `seconds`.
class Timed {
 public:
  explicit Timed(double& seconds) : seconds_(seconds) {}
  Timed(const Timed&) = delete;
  Timed& operator=(const Timed&) = delete;
  ~Timed() {
    seconds_ += std::chrono::duration<double>(std::chrono::steady_clock::now() - begin_).count();
  }

 private:
  double& seconds_;
  std::chrono::steady_clock::time_point begin_ = std::chrono::steady_clock::now();
};

}  // namespace totebench::solver
