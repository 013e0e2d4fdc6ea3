#include "totebench/viz/pdf_module.hpp"

#include "viz/files/module_file.hpp"

namespace totebench::viz {

WritePdf pdf_module(std::string& error) {
  static const ModuleEntry loaded =
      module_entry(TOTEBENCH_PDF_MODULE, "totebench_pdf_module", "Cairo (libcairo2-dev)");
  error = loaded.error;
  using Entry = WritePdf (*)();
  return loaded.entry == nullptr ? nullptr : reinterpret_cast<Entry>(loaded.entry)();
}

}  // namespace totebench::viz
