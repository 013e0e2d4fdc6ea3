// Long work called from Python: it runs on a thread of its own without the interpreter's lock, so
// that other threads of Python go on and Ctrl-C is heard at once.
#pragma once

#include <pybind11/pybind11.h>

#include <functional>

#include "totebench/studies/hang.hpp"

namespace totebench::app::python {

// Does `work` and calls `progress` (None, or what takes a HangProgress) with its steps, on the
// calling thread. What that raises, and Ctrl-C, stops the work, and is thrown once it has come to
// its end.
void watched(const pybind11::object& progress,
             const std::function<void(const studies::OnHangProgress&)>& work);

}  // namespace totebench::app::python
