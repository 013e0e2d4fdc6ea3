#include "solver/linear/linear_solver.hpp"

#include <Eigen/SparseCholesky>

#ifdef TOTEBENCH_HAS_CHOLMOD
#include <cholmod.h>

#include <algorithm>
#include <mutex>
#include <stdexcept>
#include <vector>
#endif
#ifdef _OPENMP
#include <omp.h>
#endif

namespace totebench::solver {
namespace {

class EigenCholesky final : public SparseCholesky {
 public:
  void analyse(const Eigen::SparseMatrix<double>& lower) override { ldlt_.analyzePattern(lower); }
  bool factorise(const Eigen::SparseMatrix<double>& lower) override {
    ldlt_.factorize(lower);
    return ldlt_.info() == Eigen::Success && ldlt_.vectorD().minCoeff() > 0;
  }
  Eigen::VectorXd solve(const Eigen::VectorXd& rhs) override { return ldlt_.solve(rhs); }

 private:
  Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>, Eigen::Lower> ldlt_;
};

#ifdef TOTEBENCH_HAS_CHOLMOD

// CHOLMOD 3 opens a parallel region of four threads at every larger supernode; at our sizes waking
// threads costs more than the work. Here it runs on the calling thread, whose own setting (a data
// environment variable since OpenMP 5.0) is put back afterwards. Inside a parallel region it does
// so anyway. The threads of the BLAS below it are the program's to set.
class OneThread {
 public:
  OneThread() {
#ifdef _OPENMP
    nested_ = omp_in_parallel() != 0;
    if (nested_) return;
    levels_ = omp_get_max_active_levels();
    omp_set_max_active_levels(0);
#endif
  }
  ~OneThread() {
#ifdef _OPENMP
    if (!nested_) omp_set_max_active_levels(levels_);
#endif
  }
  OneThread(const OneThread&) = delete;
  OneThread& operator=(const OneThread&) = delete;
  OneThread(OneThread&&) = delete;
  OneThread& operator=(OneThread&&) = delete;

 private:
  bool nested_ = false;
  int levels_ = 1;
};

// An ordering is kept until a factorisation takes this many times the work it did at first.
constexpr double kMostWork = 1.5;

class CholmodCholesky final : public SparseCholesky {
 public:
  CholmodCholesky() {
    cholmod_start(&common_);
    common_.print = 0;  // an indefinite matrix is an answer, not a message
    common_.quick_return_if_not_posdef = 1;
    common_.supernodal = CHOLMOD_SUPERNODAL;
    common_.final_ll = 1;
    common_.nmethods = 1;
    // Larger supernodes than CHOLMOD's own choice: a fifth less time at 20 000 to 80 000 unknowns.
    common_.nrelax[0] = 16;
    common_.nrelax[1] = 64;
    common_.nrelax[2] = 128;
    common_.zrelax[0] = 0.9;
    common_.zrelax[1] = 0.3;
    common_.zrelax[2] = 0.1;
  }
  ~CholmodCholesky() override {
    if (factor_ != nullptr) cholmod_free_factor(&factor_, &common_);
    cholmod_finish(&common_);
  }
  CholmodCholesky(const CholmodCholesky&) = delete;
  CholmodCholesky& operator=(const CholmodCholesky&) = delete;
  CholmodCholesky(CholmodCholesky&&) = delete;
  CholmodCholesky& operator=(CholmodCholesky&&) = delete;

  void analyse(const Eigen::SparseMatrix<double>& lower) override {
    // The ordering draws from the C library's random numbers, of which there is one stream.
    static std::mutex one_at_a_time;
    const std::lock_guard lock(one_at_a_time);
    const OneThread one_thread;
    // A pattern that has changed a little keeps its ordering, which takes longest to find.
    if (static_cast<Eigen::Index>(order_.size()) == lower.cols()) {
      put_in_order(lower);
      analyse_in_order(ordered_, CHOLMOD_NATURAL);
      if (common_.fl <= kMostWork * work_) return;
    }
    // Nested dissection is the better ordering at every size we use.
    analyse_in_order(lower, CHOLMOD_METIS);
    const auto* permutation = static_cast<const int*>(factor_->Perm);
    order_.assign(permutation, permutation + lower.cols());
    put_in_order(lower);
    analyse_in_order(ordered_, CHOLMOD_NATURAL);
    work_ = common_.fl;
  }
  bool factorise(const Eigen::SparseMatrix<double>& lower) override {
    const OneThread one_thread;
    for (std::size_t k = 0; k < from_.size(); ++k) {
      ordered_.valuePtr()[k] = lower.valuePtr()[from_[k]];
    }
    cholmod_sparse view = sparse_view(ordered_);
    cholmod_factorize(&view, factor_, &common_);
    return common_.status == CHOLMOD_OK && factor_->minor == factor_->n;
  }
  Eigen::VectorXd solve(const Eigen::VectorXd& rhs) override {
    const OneThread one_thread;
    Eigen::VectorXd ordered(rhs.size());
    for (Eigen::Index i = 0; i < rhs.size(); ++i) ordered[i] = rhs[order_[i]];
    cholmod_dense b{};
    b.nrow = static_cast<std::size_t>(rhs.size());
    b.ncol = 1;
    b.nzmax = b.nrow;
    b.d = b.nrow;
    b.x = ordered.data();
    b.xtype = CHOLMOD_REAL;
    b.dtype = CHOLMOD_DOUBLE;
    cholmod_dense* x = cholmod_solve(CHOLMOD_A, factor_, &b, &common_);
    if (x == nullptr) throw std::runtime_error("the factorised system could not be solved");
    const auto* values = static_cast<const double*>(x->x);
    Eigen::VectorXd solution(rhs.size());
    for (Eigen::Index i = 0; i < rhs.size(); ++i) solution[order_[i]] = values[i];
    cholmod_free_dense(&x, &common_);
    return solution;
  }

 private:
  void analyse_in_order(const Eigen::SparseMatrix<double>& lower, int ordering) {
    if (factor_ != nullptr) cholmod_free_factor(&factor_, &common_);
    common_.method[0].ordering = ordering;
    common_.postorder = ordering == CHOLMOD_NATURAL ? 0 : 1;
    cholmod_sparse view = sparse_view(lower);
    factor_ = cholmod_analyze(&view, &common_);
    if (factor_ == nullptr) throw std::runtime_error("the sparse matrix could not be analysed");
  }
  // CHOLMOD would permute and transpose the matrix at every factorisation, a sixth of its time.
  // Keeping it in order needs one pass over the values.
  void put_in_order(const Eigen::SparseMatrix<double>& lower) {
    std::vector<int> place(order_.size());
    for (std::size_t i = 0; i < order_.size(); ++i) {
      place[static_cast<std::size_t>(order_[i])] = static_cast<int>(i);
    }
    std::vector<Eigen::Triplet<int>> entries;
    entries.reserve(static_cast<std::size_t>(lower.nonZeros()));
    for (int c = 0; c < lower.cols(); ++c) {
      for (int k = lower.outerIndexPtr()[c]; k < lower.outerIndexPtr()[c + 1]; ++k) {
        const auto [low, high] =
            std::minmax(place[static_cast<std::size_t>(c)],
                        place[static_cast<std::size_t>(lower.innerIndexPtr()[k])]);
        entries.emplace_back(high, low, k);
      }
    }
    Eigen::SparseMatrix<int> from(lower.rows(), lower.cols());
    from.setFromTriplets(entries.begin(), entries.end());
    from_.assign(from.valuePtr(), from.valuePtr() + from.nonZeros());
    ordered_ = from.cast<double>();
  }
  static cholmod_sparse sparse_view(const Eigen::SparseMatrix<double>& lower) {
    cholmod_sparse view{};
    view.nrow = static_cast<std::size_t>(lower.rows());
    view.ncol = static_cast<std::size_t>(lower.cols());
    view.nzmax = static_cast<std::size_t>(lower.nonZeros());
    view.p = const_cast<int*>(lower.outerIndexPtr());  // NOLINT: CHOLMOD reads it only
    view.i = const_cast<int*>(lower.innerIndexPtr());  // NOLINT: CHOLMOD reads it only
    view.x = const_cast<double*>(lower.valuePtr());    // NOLINT: CHOLMOD reads it only
    view.stype = -1;
    view.itype = CHOLMOD_INT;
    view.xtype = CHOLMOD_REAL;
    view.dtype = CHOLMOD_DOUBLE;
    view.sorted = 1;
    view.packed = 1;
    return view;
  }
  cholmod_common common_{};
  cholmod_factor* factor_ = nullptr;
  double work_ = 0;                      // of a factorisation when the ordering was found
  std::vector<int> order_;               // of the rows and columns: place -> unknown
  std::vector<int> from_;                // of each value of ordered_: its place in the matrix given
  Eigen::SparseMatrix<double> ordered_;  // lower triangle, rows and columns in order
};

#endif

}  // namespace

std::unique_ptr<SparseCholesky> make_eigen_cholesky() { return std::make_unique<EigenCholesky>(); }

std::unique_ptr<SparseCholesky> make_sparse_cholesky() {
#ifdef TOTEBENCH_HAS_CHOLMOD
  return std::make_unique<CholmodCholesky>();
#else
  return make_eigen_cholesky();
#endif
}

}  // namespace totebench::solver
