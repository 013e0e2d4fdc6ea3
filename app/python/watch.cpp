#include "app/python/watch.hpp"

#include <chrono>
#include <condition_variable>
#include <exception>
#include <mutex>
#include <thread>

// Present when the BLAS is OpenBLAS.
extern "C" __attribute__((weak)) void openblas_set_num_threads(int);
extern "C" __attribute__((weak)) int openblas_get_num_threads();

namespace totebench::app::python {
namespace {

namespace py = pybind11;

constexpr std::chrono::milliseconds kBetweenLooks(50);  // for Ctrl-C

// While any work goes on the BLAS keeps to one thread, as in the program: the solver has threads of
// its own. NumPy may share that BLAS, so it is given back as it was found.
class BlasKept {
 public:
  BlasKept() {
    if (!there()) return;
    const std::lock_guard held(mutex());
    if (users()++ > 0) return;
    before() = openblas_get_num_threads();
    openblas_set_num_threads(1);
  }
  ~BlasKept() {
    if (!there()) return;
    const std::lock_guard held(mutex());
    if (--users() == 0) openblas_set_num_threads(before());
  }
  BlasKept(const BlasKept&) = delete;
  BlasKept& operator=(const BlasKept&) = delete;

 private:
  static bool there() {
    return openblas_get_num_threads != nullptr && openblas_set_num_threads != nullptr;
  }
  static std::mutex& mutex() {
    static std::mutex only;
    return only;
  }
  static int& users() {
    static int count = 0;
    return count;
  }
  static int& before() {
    static int threads = 1;
    return threads;
  }
};

// The work's thread and the caller's: the one hands its news over and waits until it was told.
class Watch {
 public:
  explicit Watch(bool wanted) : wanted_(wanted) {}

  // From the work.
  bool tell(const studies::HangProgress& news) {
    std::unique_lock lock(mutex_);
    if (wanted_ && !stopped_) {
      news_ = &news;
      changed_.notify_all();
      changed_.wait(lock, [&] { return news_ == nullptr; });
    }
    return !stopped_;
  }
  void end() {
    const std::lock_guard lock(mutex_);
    ended_ = true;
    changed_.notify_all();
  }

  // From the caller, until the work has ended. `look` gets news or null and returns false to stop.
  template <class Look>
  void attend(const Look& look) {
    std::unique_lock lock(mutex_);
    while (!ended_) {
      changed_.wait_for(lock, kBetweenLooks, [&] { return ended_ || news_ != nullptr; });
      if (stopped_) continue;
      const studies::HangProgress* news = news_;
      lock.unlock();
      const bool going = look(news);
      lock.lock();
      stopped_ = !going;
      news_ = nullptr;
      changed_.notify_all();
    }
  }

 private:
  const bool wanted_;
  std::mutex mutex_;
  std::condition_variable changed_;
  const studies::HangProgress* news_ = nullptr;
  bool stopped_ = false;
  bool ended_ = false;
};

}  // namespace

void watched(const py::object& progress,
             const std::function<void(const studies::OnHangProgress&)>& work) {
  Watch watch(!progress.is_none());
  std::exception_ptr failed, raised;
  const auto look = [&](const studies::HangProgress* news) {
    const py::gil_scoped_acquire held;
    try {
      if (PyErr_CheckSignals() != 0) throw py::error_already_set();
      if (news != nullptr) progress(*news);
      return true;
    } catch (...) {
      raised = std::current_exception();
      return false;
    }
  };
  {
    const py::gil_scoped_release released;
    const BlasKept kept;
    std::thread worker([&] {
      try {
        work([&](const studies::HangProgress& news) { return watch.tell(news); });
      } catch (...) {
        failed = std::current_exception();
      }
      watch.end();
    });
    watch.attend(look);
    worker.join();
  }
  if (raised) std::rethrow_exception(raised);
  if (failed) std::rethrow_exception(failed);
}

}  // namespace totebench::app::python
