// Settings of the whole process, which no library may touch.
#pragma once

namespace totebench::app {

// One thread for the BLAS, since the solver shares work among threads at a higher level; of several
// processes that were launched together, each its share of the processors; and an allocator that
// keeps the factor's memory from one factorisation to the next. Call it first.
void tune_process();

}  // namespace totebench::app
