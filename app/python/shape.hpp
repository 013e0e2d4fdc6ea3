// A surface and its fields as NumPy sees them: views of memory that a result holds, read-only,
// which keep that result alive.
#pragma once

#include <pybind11/numpy.h>

#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "totebench/solver/mesh.hpp"
#include "totebench/viz/dataset.hpp"

namespace totebench::app::python {

// Strides in bytes.
template <class T>
[[nodiscard]] pybind11::array view(const T* first, std::vector<pybind11::ssize_t> shape,
                                   std::vector<pybind11::ssize_t> strides,
                                   const std::shared_ptr<const void>& owner) {
  auto* kept = new std::shared_ptr<const void>(owner);
  const pybind11::capsule base(
      kept, [](void* held) { delete static_cast<std::shared_ptr<const void>*>(held); });
  pybind11::array array(pybind11::dtype::of<T>(), std::move(shape), std::move(strides), first,
                        base);
  array.attr("setflags")(pybind11::arg("write") = false);
  return array;
}
// Of a matrix with a column for each thing: a row for each thing, or one number where the column is
// one.
[[nodiscard]] pybind11::array rows(const Eigen::Ref<const Eigen::MatrixXd>& columns,
                                   const std::shared_ptr<const void>& owner);

// One state of a surface. `mesh`, `x_m` and what `make_fields` refers to belong to `owner`; it is
// called when a field is first asked for.
class Shape {
 public:
  using MakeFields = std::function<viz::SurfaceData()>;
  Shape(std::shared_ptr<const void> owner, const solver::ShellMesh& mesh,
        const Eigen::Matrix3Xd& x_m, double load_factor, MakeFields make_fields);

  [[nodiscard]] double load_factor() const { return load_factor_; }
  [[nodiscard]] pybind11::array points() const;
  [[nodiscard]] pybind11::array triangles() const;
  [[nodiscard]] pybind11::array flat() const;
  [[nodiscard]] pybind11::dict node_fields();
  [[nodiscard]] pybind11::dict triangle_fields();
  [[nodiscard]] pybind11::dict labels();

 private:
  const std::shared_ptr<const viz::SurfaceData>& data();
  std::shared_ptr<const void> owner_;
  const solver::ShellMesh* mesh_;
  const Eigen::Matrix3Xd* x_m_;
  double load_factor_;
  MakeFields make_fields_;
  std::shared_ptr<const viz::SurfaceData> data_;
};

// Loose points with what is known at each: the stitches.
class Points {
 public:
  explicit Points(viz::PointCloudData data);
  [[nodiscard]] pybind11::array points() const;
  [[nodiscard]] pybind11::dict fields() const;
  [[nodiscard]] pybind11::dict labels() const;

 private:
  std::shared_ptr<const viz::PointCloudData> data_;
};

}  // namespace totebench::app::python
