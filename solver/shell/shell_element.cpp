#include "solver/shell/shell_element.hpp"

#include <Eigen/Dense>
#include <array>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "solver/linear/positive_part.hpp"
#include "solver/mesh/quadrature.hpp"
#include "solver/shell/normal_form.hpp"
#include "solver/shell/tension_field.hpp"

namespace totebench::solver {
namespace {

using Vector6d = Eigen::Matrix<double, 6, 1>;
using Matrix6d = Eigen::Matrix<double, 6, 6>;
using Eigen::Matrix3d;
using Eigen::Vector3d;

// Direction of each edge in the reference triangle, and a second direction with e x f along n.
constexpr double kEdgeDirection[3][2] = {{1, 0}, {-1, 1}, {0, -1}};
constexpr double kSecondDirection[3][2] = {{0, 1}, {-1, 0}, {1, 0}};

// Shape-function values that are the same for every triangle.
struct Reference {
  std::array<Vector6d, 6> edge_tangent;  // derivative along the edge, at edge point 2k+g
  std::array<Vector6d, 6> edge_second;   // derivative along the second direction
  std::array<Eigen::Vector2d, 6> edge_point;
  std::array<Vector6d, 3> d1, d2;       // derivatives at the interior points
  Vector6d d11, d22, d12;               // constant second derivatives
  std::array<Vector6d, 3> phi_at_edge;  // moment shape q at the six edge points
  Matrix9x15d regge;                    // covariant strain at the points from the samples

  Reference() {
    d11 << 4, 4, 0, -8, 0, 0;
    d22 << 4, 0, 4, 0, 0, -8;
    d12 << 4, 0, 0, -4, 4, -4;
    for (int k = 0; k < 3; ++k) {
      for (int g = 0; g < 2; ++g) {
        const double s = kGauss2[g];
        const Eigen::Vector2d corner[3] = {{0, 0}, {1, 0}, {0, 1}};
        const int e = 2 * k + g;
        edge_point[e] = (1 - s) * corner[k] + s * corner[(k + 1) % 3];
        const Eigen::Matrix<double, 6, 2> gradient =
            shape_gradient(edge_point[e].x(), edge_point[e].y());
        edge_tangent[e] = gradient * Eigen::Map<const Eigen::Vector2d>(kEdgeDirection[k]);
        edge_second[e] = gradient * Eigen::Map<const Eigen::Vector2d>(kSecondDirection[k]);
      }
    }
    for (int q = 0; q < 3; ++q) {
      const Eigen::Matrix<double, 6, 2> gradient =
          shape_gradient(kInteriorPoints[q].xi, kInteriorPoints[q].eta);
      d1[q] = gradient.col(0);
      d2[q] = gradient.col(1);
      for (int e = 0; e < 6; ++e) phi_at_edge[q][e] = moment_shape(q, edge_point[e]);
    }
    make_regge();
  }

  // Linear, one at interior point q and zero at the other two.
  static double moment_shape(int q, const Eigen::Vector2d& p) {
    const double area[3] = {1 - p.x() - p.y(), p.x(), p.y()};
    return 2 * area[q] - 1.0 / 3;
  }

  // Unknowns: E11, E22, E12 at the three interior points. Six conditions on edges, three on means.
  void make_regge() {
    Eigen::Matrix<double, 9, 9> condition = Eigen::Matrix<double, 9, 9>::Zero();
    Matrix9x15d target = Matrix9x15d::Zero();
    for (int e = 0; e < 6; ++e) {
      const double t1 = kEdgeDirection[e / 2][0];
      const double t2 = kEdgeDirection[e / 2][1];
      for (int q = 0; q < 3; ++q) {
        const double phi = phi_at_edge[q][e];
        condition(e, 3 * q + 0) = phi * t1 * t1;
        condition(e, 3 * q + 1) = phi * t2 * t2;
        condition(e, 3 * q + 2) = 2 * phi * t1 * t2;
      }
      target(e, e) = 1;
    }
    for (int c = 0; c < 3; ++c) {
      for (int q = 0; q < 3; ++q) {
        condition(6 + c, 3 * q + c) = 1;
        target(6 + c, 6 + 3 * q + c) = 1;
      }
    }
    regge = condition.partialPivLu().solve(target);
  }
};

const Reference& reference() {
  static const Reference constants;
  return constants;
}

// Voigt (11, 22, 2*12) in section axes from covariant (11, 22, 12), where `in` =
// d(reference)/d(axes).
Matrix3d to_section_axes(const Eigen::Matrix2d& in) {
  Matrix3d t;
  t << in(0, 0) * in(0, 0), in(1, 0) * in(1, 0), 2 * in(0, 0) * in(1, 0),  //
      in(0, 1) * in(0, 1), in(1, 1) * in(1, 1), 2 * in(0, 1) * in(1, 1),   //
      2 * in(0, 0) * in(0, 1), 2 * in(1, 0) * in(1, 1),
      2 * (in(0, 0) * in(1, 1) + in(1, 0) * in(0, 1));
  return t;
}

struct TangentFrame {
  Vector3d g1, g2, normal, axis1, axis2;
  double area;
};

TangentFrame tangent_frame(const Matrix36d& rest, const Vector6d& d1, const Vector6d& d2,
                           const Vector3d& warp) {
  TangentFrame f;
  f.g1 = rest * d1;
  f.g2 = rest * d2;
  const Vector3d n = f.g1.cross(f.g2);
  f.area = n.norm();
  const double size_sq = f.g1.squaredNorm() + f.g2.squaredNorm();
  if (!(f.area > 1e-9 * size_sq)) {
    throw std::invalid_argument("a triangle of the rest shape has no area");
  }
  f.normal = n / f.area;
  f.axis1 = warp - f.normal.dot(warp) * f.normal;
  if (!(f.axis1.norm() > 1e-6 * warp.norm())) {
    throw std::invalid_argument("the warp direction of a triangle is normal to it");
  }
  f.axis1.normalize();
  f.axis2 = f.normal.cross(f.axis1);
  return f;
}

NormalForm normal_at(const Reference& r, const Matrix36d& x, int q) {
  return {x * r.d1[q], x * r.d2[q]};
}

double wrapped(double angle) { return std::remainder(angle, 2 * std::numbers::pi); }

double edge_angle(const ShellInput& input, int e, const Vector3d& tangent, const Vector3d& second) {
  const Vector3d n = tangent.cross(second).normalized();
  return wrapped(angle_about(tangent.normalized(), n, input.director.col(e)) - input.rest_angle[e]);
}

Eigen::Matrix<double, 15, 1> strain_samples(const Reference& r, const ShellRest& rest,
                                            const Matrix36d& x) {
  Eigen::Matrix<double, 15, 1> s;
  for (int e = 0; e < 6; ++e) s[e] = 0.5 * (x * r.edge_tangent[e]).squaredNorm();
  for (int q = 0; q < 3; ++q) {
    const Vector3d g1 = x * r.d1[q];
    const Vector3d g2 = x * r.d2[q];
    s[6 + 3 * q + 0] = 0.5 * g1.squaredNorm();
    s[6 + 3 * q + 1] = 0.5 * g2.squaredNorm();
    s[6 + 3 * q + 2] = 0.5 * g1.dot(g2);
  }
  return s - rest.metric;
}

// Row i: derivative of sample i by the 18 positions.
Eigen::Matrix<double, 15, 18> sample_gradient(const Reference& r, const Matrix36d& x) {
  Eigen::Matrix<double, 15, 18> g;
  for (int e = 0; e < 6; ++e) {
    const Vector3d t = x * r.edge_tangent[e];
    for (int i = 0; i < 6; ++i) g.block<1, 3>(e, 3 * i) = r.edge_tangent[e][i] * t.transpose();
  }
  for (int q = 0; q < 3; ++q) {
    const Vector3d g1 = x * r.d1[q];
    const Vector3d g2 = x * r.d2[q];
    for (int i = 0; i < 6; ++i) {
      g.block<1, 3>(6 + 3 * q, 3 * i) = r.d1[q][i] * g1.transpose();
      g.block<1, 3>(7 + 3 * q, 3 * i) = r.d2[q][i] * g2.transpose();
      g.block<1, 3>(8 + 3 * q, 3 * i) = 0.5 * (r.d1[q][i] * g2 + r.d2[q][i] * g1).transpose();
    }
  }
  return g;
}

// Sum of sample forces times second derivatives of the samples: a 6 x 6 matrix over nodes, the same
// for x, y and z.
Matrix6d membrane_geometric(const Reference& r, const Eigen::Matrix<double, 15, 1>& force) {
  Matrix6d k = Matrix6d::Zero();
  for (int e = 0; e < 6; ++e) {
    k.noalias() += force[e] * r.edge_tangent[e] * r.edge_tangent[e].transpose();
  }
  for (int q = 0; q < 3; ++q) {
    k.noalias() += force[6 + 3 * q] * r.d1[q] * r.d1[q].transpose();
    k.noalias() += force[7 + 3 * q] * r.d2[q] * r.d2[q].transpose();
    const Matrix6d mixed = r.d1[q] * r.d2[q].transpose();
    k += 0.5 * force[8 + 3 * q] * (mixed + mixed.transpose());
  }
  return k;
}

// Gradient of the turn psi of the normal about an edge (tangent e, second tangent f) against a
// frame that does not twist, and its Hessian by (e, f).
struct Turn {
  Vector3d by_e, by_f;
  Matrix6d hessian;
};

Turn normal_turn(const Vector3d& e, const Vector3d& f, bool with_hessian) {
  const Vector3d normal = e.cross(f);
  const double q = normal.squaredNorm();
  const double s = e.norm();
  const double p = e.dot(f);
  const Vector3d w = normal / q;
  Turn turn;
  turn.by_f = s * w;
  turn.by_e = -(p / s) * w;
  if (!with_hessian) return turn;
  const Vector3d n = normal / std::sqrt(q);
  const Matrix3d v = (Matrix3d::Identity() - 2 * n * n.transpose()) / q;
  const Matrix3d w_by_e = -v * cross_matrix(f);
  const Matrix3d w_by_f = v * cross_matrix(e);
  Matrix6d h;
  h.block<3, 3>(0, 0) = -w * (f / s - p * e / (s * s * s)).transpose() - (p / s) * w_by_e;
  h.block<3, 3>(0, 3) = -w * (e / s).transpose() - (p / s) * w_by_f;
  h.block<3, 3>(3, 0) = w * (e / s).transpose() + s * w_by_e;
  h.block<3, 3>(3, 3) = s * w_by_f;
  // The antisymmetric part is the holonomy of the non-twisting frame; it does no work.
  turn.hessian = 0.5 * (h + h.transpose());
  return turn;
}

}  // namespace

ShellRest make_shell_rest(const Matrix36d& rest, const Vector3d& warp) {
  const Reference& r = reference();
  ShellRest out;
  out.metric.setZero();
  out.metric = strain_samples(r, out, rest);
  out.rest_curvature.setZero();
  out.curvature_from_angle.setZero();
  for (int q = 0; q < 3; ++q) {
    const TangentFrame f = tangent_frame(rest, r.d1[q], r.d2[q], warp);
    out.weight[q] = kInteriorPoints[q].weight * f.area;
    Eigen::Matrix2d to_axes;  // d(axes)/d(reference)
    to_axes << f.axis1.dot(f.g1), f.axis1.dot(f.g2), f.axis2.dot(f.g1), f.axis2.dot(f.g2);
    const Matrix3d voigt = to_section_axes(to_axes.inverse());
    out.strain_from_samples.middleRows<3>(3 * q) = voigt * r.regge.middleRows<3>(3 * q);
    out.curvature_from_second[q] = -voigt;
    const Vector3d second(f.normal.dot(rest * r.d11), f.normal.dot(rest * r.d22),
                          f.normal.dot(rest * r.d12));
    out.rest_curvature.segment<3>(3 * q) = -voigt * second;
  }
  for (int e = 0; e < 6; ++e) {
    const Vector3d tangent = rest * r.edge_tangent[e];
    const TangentFrame f =
        tangent_frame(rest, shape_gradient(r.edge_point[e].x(), r.edge_point[e].y()).col(0),
                      shape_gradient(r.edge_point[e].x(), r.edge_point[e].y()).col(1), warp);
    const Vector3d mu = tangent.normalized().cross(f.normal);
    const double m1 = mu.dot(f.axis1);
    const double m2 = mu.dot(f.axis2);
    for (int q = 0; q < 3; ++q) {
      out.curvature_from_angle.block<3, 1>(3 * q, e) = 0.5 * tangent.norm() * r.phi_at_edge[q][e] /
                                                       out.weight[q] *
                                                       Vector3d(m1 * m1, m2 * m2, 2 * m1 * m2);
    }
  }
  return out;
}

ShellStrain shell_strain(const ShellRest& rest, const ShellInput& input) {
  const Reference& r = reference();
  ShellStrain strain;
  strain.membrane = rest.strain_from_samples * strain_samples(r, rest, input.x);
  Vector6d theta;
  for (int e = 0; e < 6; ++e) {
    theta[e] = edge_angle(input, e, input.x * r.edge_tangent[e], input.x * r.edge_second[e]);
  }
  strain.curvature = rest.curvature_from_angle * theta - rest.rest_curvature;
  const Vector3d x11 = input.x * r.d11;
  const Vector3d x22 = input.x * r.d22;
  const Vector3d x12 = input.x * r.d12;
  for (int q = 0; q < 3; ++q) {
    const NormalForm p = normal_at(r, input.x, q);
    strain.curvature.segment<3>(3 * q) +=
        rest.curvature_from_second[q] * Vector3d(p.n.dot(x11), p.n.dot(x22), p.n.dot(x12));
  }
  return strain;
}

Vector3d membrane_force(const Section& section, const Vector3d& strain, const Vector3d& curvature) {
  if (section.tension_field) return tension_field(section.A, strain).force;
  return section.A * strain + section.B * curvature;
}

double shell_energy(const ShellRest& rest, const Section& section, const ShellInput& input) {
  const ShellStrain strain = shell_strain(rest, input);
  double energy = 0;
  for (int q = 0; q < 3; ++q) {
    const Vector3d e = strain.membrane.segment<3>(3 * q);
    const Vector3d k = strain.curvature.segment<3>(3 * q);
    const double membrane =
        section.tension_field ? tension_field(section.A, e).energy : 0.5 * e.dot(section.A * e);
    energy += rest.weight[q] * (membrane + e.dot(section.B * k) + 0.5 * k.dot(section.D * k));
  }
  return energy;
}

ShellStrainGradient shell_strain_gradient(const ShellRest& rest, const ShellInput& input) {
  const Reference& r = reference();
  ShellStrainGradient out;
  out.membrane.setZero();
  out.membrane.leftCols<18>().noalias() = rest.strain_from_samples * sample_gradient(r, input.x);
  Eigen::Matrix<double, 6, 24> theta = Eigen::Matrix<double, 6, 24>::Zero();
  for (int e = 0; e < 6; ++e) {
    const Turn turn = normal_turn(input.x * r.edge_tangent[e], input.x * r.edge_second[e], false);
    for (int i = 0; i < 6; ++i) {
      theta.block<1, 3>(e, 3 * i) =
          -(r.edge_tangent[e][i] * turn.by_e + r.edge_second[e][i] * turn.by_f).transpose();
    }
    theta(e, 18 + e) = input.sign[e];
  }
  out.curvature.noalias() = rest.curvature_from_angle.lazyProduct(theta);
  const Vector3d second[3] = {input.x * r.d11, input.x * r.d22, input.x * r.d12};
  const Vector6d* shape_second[3] = {&r.d11, &r.d22, &r.d12};
  for (int q = 0; q < 3; ++q) {
    const NormalForm p = normal_at(r, input.x, q);
    Eigen::Matrix<double, 3, 18> h;
    for (int c = 0; c < 3; ++c) {
      const Matrix3d g = p.gradient(second[c]);
      for (int i = 0; i < 6; ++i) {
        h.block<1, 3>(c, 3 * i) =
            (r.d1[q][i] * g.col(0) + r.d2[q][i] * g.col(1) + (*shape_second[c])[i] * g.col(2))
                .transpose();
      }
    }
    out.curvature.block<3, 18>(3 * q, 0) += rest.curvature_from_second[q].lazyProduct(h);
  }
  return out;
}

double shell_derivatives(const ShellRest& rest, const Section& section, const ShellInput& input,
                         HessianPart part, Vector24d& gradient, Matrix24d* hessian,
                         const ShellStrain* predicted) {
  const Reference& r = reference();
  const ShellStrain strain = shell_strain(rest, input);
  const ShellStrainGradient by = shell_strain_gradient(rest, input);
  Vector9d force;                     // weighted membrane forces
  Vector9d moment;                    // weighted bending moments
  std::array<Matrix3d, 3> stiffness;  // derivative of the membrane force by the strain
  double energy = 0;
  for (int q = 0; q < 3; ++q) {
    const Vector3d e = strain.membrane.segment<3>(3 * q);
    const Vector3d k = strain.curvature.segment<3>(3 * q);
    const Vector3d m = rest.weight[q] * (section.B.transpose() * e + section.D * k);
    Vector3d n;
    if (section.tension_field) {
      const MembraneResponse membrane = tension_field(section.A, e);
      n = rest.weight[q] * membrane.force;
      stiffness[q] = membrane.stiffness;
      energy += rest.weight[q] * membrane.energy + 0.5 * k.dot(m);
    } else {
      n = rest.weight[q] * (section.A * e + section.B * k);
      stiffness[q] = section.A;
      energy += 0.5 * (e.dot(n) + k.dot(m));
    }
    force.segment<3>(3 * q) = n;
    moment.segment<3>(3 * q) = m;
  }
  gradient.noalias() = by.membrane.transpose() * force + by.curvature.transpose() * moment;
  if (hessian == nullptr) return energy;

  if (predicted != nullptr) {
    for (int q = 0; q < 3; ++q) {
      const Vector3d e = predicted->membrane.segment<3>(3 * q);
      const Vector3d k = predicted->curvature.segment<3>(3 * q);
      force.segment<3>(3 * q) = rest.weight[q] * membrane_force(section, e, k);
      moment.segment<3>(3 * q) = rest.weight[q] * (section.B.transpose() * e + section.D * k);
    }
  }
  Matrix24d& h = *hessian;
  h.setZero();
  const bool coupled = !section.B.isZero();
  for (int q = 0; q < 3; ++q) {
    const Eigen::Matrix<double, 3, 18> me = by.membrane.block<3, 18>(3 * q, 0);
    const Eigen::Matrix<double, 3, 24> ke = by.curvature.middleRows<3>(3 * q);
    const Eigen::Matrix<double, 3, 18> a_me = rest.weight[q] * stiffness[q] * me;
    const Eigen::Matrix<double, 3, 24> d_ke = rest.weight[q] * section.D * ke;
    // Products this small are faster without Eigen's blocking for large ones.
    h.topLeftCorner<18, 18>() += me.transpose().lazyProduct(a_me);
    h += ke.transpose().lazyProduct(d_ke);
    if (coupled) {
      const Eigen::Matrix<double, 18, 24> mixed =
          me.transpose().lazyProduct((rest.weight[q] * section.B * ke).eval());
      h.topRows<18>() += mixed;
      h.leftCols<18>() += mixed.transpose();
    }
  }
  Matrix6d geometric = membrane_geometric(r, rest.strain_from_samples.transpose() * force);
  if (part == HessianPart::kPositive) geometric = positive_part(geometric);
  for (int j = 0; j < 6; ++j) {
    for (int i = 0; i < 6; ++i) {
      for (int c = 0; c < 3; ++c) h(3 * i + c, 3 * j + c) += geometric(i, j);
    }
  }
  if (part == HessianPart::kPositive) return energy;

  const Vector6d angle_moment = rest.curvature_from_angle.transpose() * moment;
  for (int e = 0; e < 6; ++e) {
    const Turn turn = normal_turn(input.x * r.edge_tangent[e], input.x * r.edge_second[e], true);
    const Matrix6d k = -angle_moment[e] * turn.hessian;
    const Vector6d& a = r.edge_tangent[e];
    const Vector6d& b = r.edge_second[e];
    for (int j = 0; j < 6; ++j) {
      const Eigen::Matrix<double, 6, 3> right = k.leftCols<3>() * a[j] + k.rightCols<3>() * b[j];
      for (int i = 0; i < 6; ++i) {
        h.block<3, 3>(3 * i, 3 * j) += a[i] * right.topRows<3>() + b[i] * right.bottomRows<3>();
      }
    }
  }
  const Vector3d x11 = input.x * r.d11;
  const Vector3d x22 = input.x * r.d22;
  const Vector3d x12 = input.x * r.d12;
  for (int q = 0; q < 3; ++q) {
    const Vector3d mu = rest.curvature_from_second[q].transpose() * moment.segment<3>(3 * q);
    const Eigen::Matrix<double, 9, 9> k =
        normal_at(r, input.x, q).hessian(mu[0] * x11 + mu[1] * x22 + mu[2] * x12);
    const Vector6d c = mu[0] * r.d11 + mu[1] * r.d22 + mu[2] * r.d12;
    const Vector6d& a = r.d1[q];
    const Vector6d& b = r.d2[q];
    for (int j = 0; j < 6; ++j) {
      const Eigen::Matrix<double, 9, 3> right =
          k.leftCols<3>() * a[j] + k.middleCols<3>(3) * b[j] + k.rightCols<3>() * c[j];
      for (int i = 0; i < 6; ++i) {
        h.block<3, 3>(3 * i, 3 * j) += a[i] * right.topRows<3>() + b[i] * right.middleRows<3>(3) +
                                       c[i] * right.bottomRows<3>();
      }
    }
  }
  return energy;
}

ShellInput shell_input(const ShellMesh& mesh, const Topology& topology, const State& state,
                       int triangle) {
  ShellInput input;
  for (int n = 0; n < 6; ++n) input.x.col(n) = state.x.col(mesh.triangles[triangle].node[n]);
  for (int e = 0; e < 6; ++e) {
    const EdgeUse& use = topology.edge_uses[triangle][e / 2];
    input.director.col(e) = state.director.col(use.director[e % 2]);
    input.sign[e] = use.sign;
    input.rest_angle[e] = use.rest_angle[e % 2];
  }
  return input;
}

}  // namespace totebench::solver
