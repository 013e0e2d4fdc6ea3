#include "totebench/viz/vtk_module.hpp"

#include "viz/files/module_file.hpp"

namespace totebench::viz {

const VtkModule* vtk_module(std::string& error) {
  static const ModuleEntry loaded =
      module_entry(TOTEBENCH_VTK_MODULE, "totebench_vtk_module", "VTK 9 (libvtk9-dev)");
  error = loaded.error;
  using Entry = const VtkModule* (*)();
  return loaded.entry == nullptr ? nullptr : reinterpret_cast<Entry>(loaded.entry)();
}

}  // namespace totebench::viz
