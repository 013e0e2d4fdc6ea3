// Oracle for small deflections of rectangular Kirchhoff plates, a x b about the origin, symmetric
// about both axes, by Ritz's method with products of even Legendre polynomials:
//   D/2 int (w,xx + w,yy)^2 - 2 (1 - nu)(w,xx w,yy - w,xy^2) dA - load . w  ->  least,   D = 1
//   w = sum c_ij f_i(2x/a) f_j(2y/b),   f_i(s) = (1 - s^2)^p P_2i(s)
// p = 2 clamped, p = 1 simply supported, p = 0 free edges held at the four corners (a constraint).
// (Energy: Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed., eq. (117).)
#pragma once

#include <Eigen/Dense>
#include <cmath>
#include <vector>

namespace totebench::verification {

enum class PlateEdge { kCornersHeld = 0, kSupported = 1, kClamped = 2 };

class PlateRitz {
 public:
  PlateRitz(double a, double b, double nu, PlateEdge edge, int n = 14)
      : a_(a), b_(b), nu_(nu), p_(static_cast<int>(edge)), n_(n) {
    for (int r = 0; r < 3; ++r) {
      for (int s = 0; s < 3; ++s) integral_[r][s] = Eigen::MatrixXd::Zero(n, n);
    }
    gauss([&](double s, double weight) {
      const Eigen::MatrixX3d f = functions(s);
      for (int r = 0; r < 3; ++r) {
        for (int q = 0; q < 3; ++q) {
          integral_[r][q] += weight * f.col(r) * f.col(q).transpose();
        }
      }
    });
  }

  void solve_uniform(double q = 1) {
    Eigen::VectorXd mean = Eigen::VectorXd::Zero(n_);
    gauss([&](double s, double weight) { mean += weight * functions(s).col(0); });
    solve(q * a_ * b_ / 4 * outer(mean, mean));
  }
  void solve_central(double force = 1) {
    const Eigen::VectorXd f = functions(0).col(0);
    solve(force * outer(f, f));
  }

  [[nodiscard]] double w(double x, double y) const { return derivative(x, y, 0, 0); }
  // Moments per length, positive where the side of positive w is stretched.
  [[nodiscard]] double moment_x(double x, double y) const {
    return -derivative(x, y, 2, 0) - nu_ * derivative(x, y, 0, 2);
  }
  [[nodiscard]] double moment_y(double x, double y) const {
    return -derivative(x, y, 0, 2) - nu_ * derivative(x, y, 2, 0);
  }

 private:
  // f_i and its first two derivatives at s, one row a function.
  [[nodiscard]] Eigen::MatrixX3d functions(double s) const {
    std::vector<double> p(2 * n_ + 1);
    std::vector<double> dp(2 * n_ + 1);
    std::vector<double> ddp(2 * n_ + 1);
    p[0] = 1;
    p[1] = s;
    dp[1] = 1;
    for (int k = 1; k < 2 * n_; ++k) {  // (k+1) P_k+1 = (2k+1) s P_k - k P_k-1, and its derivatives
      const double c = (2.0 * k + 1) / (k + 1);
      const double d = static_cast<double>(k) / (k + 1);
      p[k + 1] = c * s * p[k] - d * p[k - 1];
      dp[k + 1] = c * (p[k] + s * dp[k]) - d * dp[k - 1];
      ddp[k + 1] = c * (2 * dp[k] + s * ddp[k]) - d * ddp[k - 1];
    }
    const double u = 1 - s * s;
    const double g = p_ == 0 ? 1 : (p_ == 1 ? u : u * u);
    const double dg = p_ == 0 ? 0 : (p_ == 1 ? -2 * s : -4 * s * u);
    const double ddg = p_ == 0 ? 0 : (p_ == 1 ? -2 : 12 * s * s - 4);
    Eigen::MatrixX3d f(n_, 3);
    for (int i = 0; i < n_; ++i) {
      const int k = 2 * i;
      f.row(i) << g * p[k], dg * p[k] + g * dp[k], ddg * p[k] + 2 * dg * dp[k] + g * ddp[k];
    }
    return f;
  }

  template <typename Function>
  void gauss(const Function& at) const {
    const int points = 2 * n_ + 6;
    for (int i = 0; i < points; ++i) {  // roots of P_points by Newton's method
      double s = std::cos(3.14159265358979323846 * (i + 0.75) / (points + 0.5));
      double slope = 0;
      for (int pass = 0; pass < 50; ++pass) {
        double before = 1;
        double here = s;
        for (int k = 1; k < points; ++k) {
          const double next = ((2.0 * k + 1) * s * here - k * before) / (k + 1);
          before = here;
          here = next;
        }
        slope = points * (s * here - before) / (s * s - 1);
        s -= here / slope;
      }
      at(s, 2 / ((1 - s * s) * slope * slope));
    }
  }

  [[nodiscard]] Eigen::VectorXd outer(const Eigen::VectorXd& u, const Eigen::VectorXd& v) const {
    Eigen::VectorXd out(n_ * n_);
    for (int i = 0; i < n_; ++i) out.segment(i * n_, n_) = u[i] * v;
    return out;
  }

  void solve(const Eigen::VectorXd& load) {
    const double x1 = 2 / a_;
    const double y1 = 2 / b_;
    const double area = a_ * b_ / 4;
    const int size = n_ * n_;
    Eigen::MatrixXd K(size, size);
    for (int i = 0; i < n_; ++i) {
      for (int j = 0; j < n_; ++j) {
        for (int k = 0; k < n_; ++k) {
          for (int l = 0; l < n_; ++l) {
            const auto term = [&](int ri, int rk, int rj, int rl) {
              return integral_[ri][rk](i, k) * integral_[rj][rl](j, l);
            };
            K(i * n_ + j, k * n_ + l) =
                area * (std::pow(x1, 4) * term(2, 2, 0, 0) + std::pow(y1, 4) * term(0, 0, 2, 2) +
                        x1 * x1 * y1 * y1 *
                            (nu_ * (term(2, 0, 0, 2) + term(0, 2, 2, 0)) +
                             2 * (1 - nu_) * term(1, 1, 1, 1)));
          }
        }
      }
    }
    if (p_ > 0) {
      c_ = K.ldlt().solve(load);
      return;
    }
    // One multiplier: w = 0 at the corner, and by symmetry at all four.
    Eigen::MatrixXd bordered = Eigen::MatrixXd::Zero(size + 1, size + 1);
    Eigen::VectorXd right = Eigen::VectorXd::Zero(size + 1);
    const Eigen::VectorXd corner = outer(functions(1).col(0), functions(1).col(0));
    bordered.topLeftCorner(size, size) = K;
    bordered.col(size).head(size) = corner;
    bordered.row(size).head(size) = corner.transpose();
    right.head(size) = load;
    c_ = bordered.partialPivLu().solve(right).head(size);
  }

  [[nodiscard]] double derivative(double x, double y, int along_x, int along_y) const {
    const Eigen::VectorXd fx = functions(2 * x / a_).col(along_x) * std::pow(2 / a_, along_x);
    const Eigen::VectorXd fy = functions(2 * y / b_).col(along_y) * std::pow(2 / b_, along_y);
    return outer(fx, fy).dot(c_);
  }

  double a_;
  double b_;
  double nu_;
  int p_;
  int n_;
  Eigen::MatrixXd integral_[3][3];
  Eigen::VectorXd c_;
};

}  // namespace totebench::verification
