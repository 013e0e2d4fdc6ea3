#include "viz/vtk/module.hpp"

#include "viz/vtk_module.hpp"

extern "C" const totebench::VtkModule* totebench_vtk_module() {
  static const totebench::VtkModule module{totebench::write_surface, totebench::write_points,
                                           totebench::draw, totebench::show, totebench::read_faces};
  return &module;
}
