#include "viz/vtk/module.hpp"

#include "totebench/viz/vtk_module.hpp"

extern "C" const totebench::viz::VtkModule* totebench_vtk_module() {
  static const totebench::viz::VtkModule module{totebench::viz::write_surface,
                                                totebench::viz::write_points, totebench::viz::draw,
                                                totebench::viz::show, totebench::viz::read_faces};
  return &module;
}
