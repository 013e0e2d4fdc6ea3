#include "totebench/studies/jumps.hpp"

#include <fmt/format.h>

#include "totebench/scenes/unit_text.hpp"

namespace totebench::studies {

std::vector<std::string> jump_cautions(const std::vector<solver::Jump>& jumps) {
  std::vector<std::string> list;
  for (const solver::Jump& jump : jumps) {
    list.push_back(
        fmt::format("The shape snaps through at {} % of the load, all at once; the numbers at the "
                    "full load are those of the shape after that. A bump or a small flaw can set "
                    "it off at less.",
                    scenes::rough_text(100 * jump.load_before)));
  }
  return list;
}

}  // namespace totebench::studies
