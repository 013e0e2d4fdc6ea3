#include "app/present/advice.hpp"

namespace totebench::app {

std::string advice_for(solver::SolveFailure cause, bool empty_bag) {
  const std::string smaller_steps = empty_bag ? "" : "raise solve.load_steps, or ";
  switch (cause) {
    case solver::SolveFailure::kContentsOverflow:
      return "the contents do not fit in the bag: lower their mass, raise their bulk density, or "
             "make the bag larger";
    case solver::SolveFailure::kTooManyIterations:
      return "the search was still moving when it ran out of steps: " + smaller_steps +
             "make the mesh finer where the bag folds sharply";
    case solver::SolveFailure::kStalled:
      return "the search stalled: " + smaller_steps +
             "make the softest layer stiffer (cloth with nearly no bending stiffness folds without "
             "end)";
    case solver::SolveFailure::kRoundOff:
      return "the load is lost in the round-off of the far larger forces within the sheet: raise "
             "the load, or make the sheet less stiff or the mesh coarser";
    case solver::SolveFailure::kCrossing:
      return "leave solve.contact on; where it is, a finer mesh holds the surfaces further apart, "
             "and parts that start in each other need room (straps further from the sides, a "
             "smaller base)";
    case solver::SolveFailure::kInterrupted:
    case solver::SolveFailure::kNone:
      break;
  }
  return "";
}

std::string advice_for(const solver::SolveReport& report) {
  return advice_for(report.failure, report.wanted_load_factor == 0);
}

}  // namespace totebench::app
