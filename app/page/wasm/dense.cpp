// The dense kernels that CHOLMOD's supernodal factorisation calls, by their BLAS and LAPACK names,
// on Eigen. Only the cases it asks for: lower triangles, as the comments say.
//
// Matrices are column by column; `ld` is the distance between columns.

// Here Eigen uses SIMD by itself, elsewhere in the module it does not: functions of one name and
// two codes must not meet, so this one has a name of its own.
#define Eigen EigenWithSimd  // NOLINT(bugprone-reserved-identifier)
#include <Eigen/Dense>
#include <cstdlib>

namespace {

using Matrix = Eigen::Map<Eigen::MatrixXd, 0, Eigen::OuterStride<>>;
using ConstMatrix = Eigen::Map<const Eigen::MatrixXd, 0, Eigen::OuterStride<>>;

Matrix matrix(double* a, int rows, int cols, int ld) {
  return {a, rows, cols, Eigen::OuterStride<>(ld)};
}
ConstMatrix matrix(const double* a, int rows, int cols, int ld) {
  return {a, rows, cols, Eigen::OuterStride<>(ld)};
}
bool is(const char* given, char letter) { return (*given | 0x20) == letter; }

}  // namespace

extern "C" {

// C = alpha op(A) op(B) + beta C
void dgemm_(const char* op_a, const char* op_b, const int* m, const int* n, const int* k,
            const double* alpha, const double* a, const int* lda, const double* b, const int* ldb,
            const double* beta, double* c, const int* ldc) {
  if (*m == 0 || *n == 0) return;
  Matrix C = matrix(c, *m, *n, *ldc);
  if (*beta == 0) {
    C.setZero();
  } else if (*beta != 1) {
    C *= *beta;
  }
  if (*k == 0) return;
  const bool turned_a = !is(op_a, 'n'), turned_b = !is(op_b, 'n');
  const ConstMatrix A = turned_a ? matrix(a, *k, *m, *lda) : matrix(a, *m, *k, *lda);
  const ConstMatrix B = turned_b ? matrix(b, *n, *k, *ldb) : matrix(b, *k, *n, *ldb);
  if (turned_a && turned_b) {
    C.noalias() += *alpha * A.transpose() * B.transpose();
  } else if (turned_a) {
    C.noalias() += *alpha * A.transpose() * B;
  } else if (turned_b) {
    C.noalias() += *alpha * A * B.transpose();
  } else {
    C.noalias() += *alpha * A * B;
  }
}

// Lower triangle of C = alpha A A^T + beta C
void dsyrk_(const char* uplo, const char* op, const int* n, const int* k, const double* alpha,
            const double* a, const int* lda, const double* beta, double* c, const int* ldc) {
  if (!is(uplo, 'l') || !is(op, 'n')) std::abort();
  if (*n == 0) return;
  Matrix C = matrix(c, *n, *n, *ldc);
  if (*beta == 0) {
    C.triangularView<Eigen::Lower>().setZero();
  } else if (*beta != 1) {
    C.triangularView<Eigen::Lower>() *= *beta;
  }
  if (*k > 0) C.selfadjointView<Eigen::Lower>().rankUpdate(matrix(a, *n, *k, *lda), *alpha);
}

// B L^-T from the right, or L^-1 B and L^-T B from the left; L is lower triangular
void dtrsm_(const char* side, const char* uplo, const char* op, const char* diagonal, const int* m,
            const int* n, const double* alpha, const double* a, const int* lda, double* b,
            const int* ldb) {
  if (!is(uplo, 'l') || !is(diagonal, 'n') || *alpha != 1) std::abort();
  if (*m == 0 || *n == 0) return;
  const bool left = is(side, 'l');
  const int size = left ? *m : *n;
  const ConstMatrix L = matrix(a, size, size, *lda);
  Matrix B = matrix(b, *m, *n, *ldb);
  if (left && is(op, 'n')) {
    L.triangularView<Eigen::Lower>().solveInPlace(B);
  } else if (left) {
    L.triangularView<Eigen::Lower>().transpose().solveInPlace(B);
  } else if (!is(op, 'n')) {
    L.triangularView<Eigen::Lower>().transpose().solveInPlace<Eigen::OnTheRight>(B);
  } else {
    std::abort();
  }
}

// L^-1 x or L^-T x
void dtrsv_(const char* uplo, const char* op, const char* diagonal, const int* n, const double* a,
            const int* lda, double* x, const int* incx) {
  const double one = 1;
  const int columns = 1;
  if (*incx != 1) std::abort();
  dtrsm_("L", uplo, op, diagonal, n, &columns, &one, a, lda, x, n);
}

// y = alpha op(A) x + beta y
void dgemv_(const char* op, const int* m, const int* n, const double* alpha, const double* a,
            const int* lda, const double* x, const int* incx, const double* beta, double* y,
            const int* incy) {
  if (*incx != 1 || *incy != 1) std::abort();
  const int one = 1;
  const bool turned = !is(op, 'n');
  const int rows = turned ? *n : *m, inner = turned ? *m : *n;
  dgemm_(op, "N", &rows, &one, &inner, alpha, a, lda, x, &inner, beta, y, &rows);
}

// Lower Cholesky factor in place; info = the first column that is not positive, from 1
void dpotrf_(const char* uplo, const int* n, double* a, const int* lda, int* info) {
  if (!is(uplo, 'l')) std::abort();
  *info = 0;
  if (*n == 0) return;
  Matrix A = matrix(a, *n, *n, *lda);
  *info = 1 + static_cast<int>(Eigen::internal::llt_inplace<double, Eigen::Lower>::blocked(A));
}

// CHOLMOD holds the same code for complex matrices, which we have none of; as many arguments each.
using P = const void*;
void ztrsv_(P, P, P, P, P, P, P, P) { std::abort(); }
void zgemv_(P, P, P, P, P, P, P, P, P, P, P) { std::abort(); }
void ztrsm_(P, P, P, P, P, P, P, P, P, P, P) { std::abort(); }
void zgemm_(P, P, P, P, P, P, P, P, P, P, P, P, P) { std::abort(); }
void zherk_(P, P, P, P, P, P, P, P, P, P) { std::abort(); }
void zpotrf_(P, P, P, P, P) { std::abort(); }
}
