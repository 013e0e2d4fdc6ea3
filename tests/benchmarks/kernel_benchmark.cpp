// The two pieces of work a Newton step is made of, on the demo tote's own mesh. Argument: how many
// times its triangles are split in four.
#include <benchmark/benchmark.h>

#include "solver/assembly/potential.hpp"
#include "solver/linear/linear_solver.hpp"
#include "tests/benchmarks/demo_scene.hpp"
#include "totebench/scenes/build.hpp"

namespace totebench {
namespace {

// The bag as it starts, with the potential ready to be assembled.
struct Workpiece {
  explicit Workpiece(int extra_levels) {
    const DemoScene demo = demo_scene(extra_levels);
    tote = scenes::build_tote(demo.scene, demo.library, scenes::finest_level(demo.scene));
    state = solver::start_state(tote.model);
    potential = std::make_unique<solver::Potential>(tote.model);
    potential->set_load_factor(0);
    potential->prepare(state);
  }
  scenes::Tote tote;
  solver::State state;
  std::unique_ptr<solver::Potential> potential;
};

void describe(benchmark::State& run, const Workpiece& work) {
  run.counters["triangles"] = work.tote.model.mesh.n_triangles();
  run.counters["unknowns"] = work.potential->n_free();
}

void assembly(benchmark::State& run) {
  Workpiece work(static_cast<int>(run.range(0)));
  for (auto _ : run) {
    benchmark::DoNotOptimize(work.potential->assemble(work.state, solver::HessianPart::kPositive));
  }
  describe(run, work);
  run.counters["per_triangle"] = benchmark::Counter(
      work.tote.model.mesh.n_triangles(),
      benchmark::Counter::kIsIterationInvariantRate | benchmark::Counter::kInvert);
}
BENCHMARK(assembly)->Arg(0)->Arg(1)->Unit(benchmark::kMillisecond)->UseRealTime();

void factorisation(benchmark::State& run) {
  Workpiece work(static_cast<int>(run.range(0)));
  work.potential->assemble(work.state, solver::HessianPart::kPositive);
  // A shift makes the matrix definite whatever the state; the work is the same.
  Eigen::SparseMatrix<double> matrix = work.potential->hessian();
  const double shift = 1e-6 * matrix.diagonal().maxCoeff();
  for (int i = 0; i < matrix.cols(); ++i) matrix.coeffRef(i, i) += shift;
  const auto cholesky = solver::make_sparse_cholesky();
  cholesky->analyse(matrix);
  for (auto _ : run) {
    if (!cholesky->factorise(matrix)) run.SkipWithError("the matrix is not positive definite");
  }
  describe(run, work);
}
BENCHMARK(factorisation)->Arg(0)->Arg(1)->Unit(benchmark::kMillisecond)->UseRealTime();

}  // namespace
}  // namespace totebench
