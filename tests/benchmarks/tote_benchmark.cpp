// The demo tote from scene to findings, empty and loaded. Argument: how many times its triangles
// are split in four beyond its own mesh. Reported as a multiple of the least a Newton method could
// cost on that mesh: one assembly and one factorisation.
#include <benchmark/benchmark.h>
#include <sys/resource.h>

#include <algorithm>
#include <chrono>

#include "solver/assembly/potential.hpp"
#include "solver/linear/linear_solver.hpp"
#include "tests/benchmarks/demo_scene.hpp"
#include "totebench/studies/hang.hpp"

namespace totebench {
namespace {

using Clock = std::chrono::steady_clock;
double seconds_since(Clock::time_point begin) {
  return std::chrono::duration<double>(Clock::now() - begin).count();
}

// Seconds of one assembly and one factorisation at the loaded state, the least of three.
double least_step_seconds(const studies::HangResult& result) {
  solver::Potential potential(result.tote.model);
  potential.set_load_factor(1);
  potential.prepare(result.loaded);
  const auto cholesky = solver::make_sparse_cholesky();
  potential.assemble(result.loaded, solver::HessianPart::kExact);
  cholesky->analyse(potential.hessian());
  double least = 1e30;
  for (int i = 0; i < 3; ++i) {
    const Clock::time_point begin = Clock::now();
    potential.assemble(result.loaded, solver::HessianPart::kExact);
    if (!cholesky->factorise(potential.hessian())) return 0;
    least = std::min(least, seconds_since(begin));
  }
  return least;
}

double peak_memory_MiB() {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  return static_cast<double>(usage.ru_maxrss) / 1024;
}

// Second argument: other starts tried in search of a second stable shape.
void hang_demo(benchmark::State& run) {
  DemoScene demo = demo_scene(static_cast<int>(run.range(0)));
  demo.scene.solve.shapes = static_cast<int>(run.range(1));
  studies::HangResult result;
  double seconds = 0;
  for (auto _ : run) {
    const Clock::time_point begin = Clock::now();
    result = studies::hang_tote(demo.scene, demo.library, nullptr);
    seconds = seconds_since(begin);
  }
  if (!result.findings.converged()) {
    run.SkipWithError("no equilibrium");
    return;
  }
  const double step = least_step_seconds(result);
  run.counters["triangles"] = result.tote.model.mesh.n_triangles();
  run.counters["unknowns"] = result.findings.loaded.degrees_of_freedom;
  run.counters["newton_steps"] = result.effort.newton_iterations;
  run.counters["sag_mm"] = 1e3 * result.findings.bottom_sag_m;
  run.counters["peak_MiB"] = peak_memory_MiB();
  // 0 where the loaded state is not a stable minimum, so that one step has no meaning.
  run.counters["times_one_step"] = step > 0 ? seconds / step : 0;
}
BENCHMARK(hang_demo)
    ->ArgNames({"splits", "other_starts"})
    ->Args({0, 0})
    ->Args({0, 2})
    ->Args({1, 0})
    ->Unit(benchmark::kSecond)
    ->UseRealTime()
    ->Iterations(1);

}  // namespace
}  // namespace totebench
