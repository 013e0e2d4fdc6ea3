#include "app/python/shape.hpp"

#include <pybind11/stl.h>

#include <utility>

namespace totebench::app::python {
namespace {

namespace py = pybind11;

constexpr auto kNumber = static_cast<py::ssize_t>(sizeof(double));

py::dict fields_of(const std::vector<viz::NamedArray>& arrays,
                   const std::shared_ptr<const void>& owner) {
  py::dict fields;
  for (const viz::NamedArray& array : arrays) {
    fields[py::str(array.name)] = rows(array.values, owner);
  }
  return fields;
}

template <class Names>
py::dict labels_of(const Names& label_names) {
  py::dict labels;
  for (const auto& [name, names] : label_names) labels[py::str(name)] = py::cast(names);
  return labels;
}

}  // namespace

py::array rows(const Eigen::Ref<const Eigen::MatrixXd>& columns,
               const std::shared_ptr<const void>& owner) {
  const auto count = static_cast<py::ssize_t>(columns.cols());
  const auto size = static_cast<py::ssize_t>(columns.rows());
  const auto step = static_cast<py::ssize_t>(columns.outerStride()) * kNumber;
  if (size == 1) return view(columns.data(), {count}, {step}, owner);
  return view(columns.data(), {count, size}, {step, kNumber}, owner);
}

Shape::Shape(std::shared_ptr<const void> owner, const solver::ShellMesh& mesh,
             const Eigen::Matrix3Xd& x_m, double load_factor, MakeFields make_fields)
    : owner_(std::move(owner)),
      mesh_(&mesh),
      x_m_(&x_m),
      load_factor_(load_factor),
      make_fields_(std::move(make_fields)) {}

const std::shared_ptr<const viz::SurfaceData>& Shape::data() {
  if (!data_) data_ = std::make_shared<const viz::SurfaceData>(make_fields_());
  return data_;
}

py::array Shape::points() const { return rows(*x_m_, owner_); }

py::array Shape::triangles() const {
  const std::vector<solver::Triangle>& all = mesh_->triangles;
  return view(
      all.empty() ? nullptr : all.front().node.data(), {static_cast<py::ssize_t>(all.size()), 6},
      {static_cast<py::ssize_t>(sizeof(solver::Triangle)), static_cast<py::ssize_t>(sizeof(int))},
      owner_);
}

py::array Shape::flat() const {
  const std::vector<solver::Matrix36d>& all = mesh_->rest;
  return view(all.empty() ? nullptr : all.front().data(),
              {static_cast<py::ssize_t>(all.size()), 6, 3},
              {static_cast<py::ssize_t>(sizeof(solver::Matrix36d)), 3 * kNumber, kNumber}, owner_);
}

py::dict Shape::node_fields() {
  const std::shared_ptr<const viz::SurfaceData>& made = data();
  return fields_of(made->point_arrays, made);
}
py::dict Shape::triangle_fields() {
  const std::shared_ptr<const viz::SurfaceData>& made = data();
  return fields_of(made->cell_arrays, made);
}
py::dict Shape::labels() { return labels_of(data()->label_names); }

Points::Points(viz::PointCloudData data)
    : data_(std::make_shared<const viz::PointCloudData>(std::move(data))) {}
py::array Points::points() const { return rows(data_->points, data_); }
py::dict Points::fields() const { return fields_of(data_->arrays, data_); }
py::dict Points::labels() const { return labels_of(data_->label_names); }

}  // namespace totebench::app::python
