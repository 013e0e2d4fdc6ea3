#include "viz/vtk_module.hpp"

#include "viz/module_file.hpp"

namespace totebench {

const VtkModule* vtk_module(std::string& error) {
  static const ModuleEntry loaded =
      module_entry(TOTEBENCH_VTK_MODULE, "totebench_vtk_module", "VTK 9 (libvtk9-dev)");
  error = loaded.error;
  using Entry = const VtkModule* (*)();
  return loaded.entry == nullptr ? nullptr : reinterpret_cast<Entry>(loaded.entry)();
}

}  // namespace totebench
