// Read before a source that includes CGAL: CGAL's own SSE code asks for instructions that
// emscripten's headers lack, Eigen's does not.
#pragma once

#include <emmintrin.h>

#include <Eigen/Dense>

#undef __SSE2__
