// Whether the shape jumped between two equilibria on the way of a load, and at which load.
//
// Let L be the potential energy, linear in the load factor: L(s, x) = U(x) - s W(x). Along stable
// equilibria x(s), dW/ds > 0, so that for a < b
//   L(a, x(b)) - L(a, x(a)) = int_a^b (W(x(b)) - W(x(s))) ds > 0.
// A shape found at b that has less energy at a than the one that was found there lies on another
// branch: at a limit load between, the shape snapped through. Over a long step that may be missed,
// for the new shape may be the worse one at a; so the first step, and each on which the shape moved
// out of proportion to the one before, is halved, towards the first half whose energies tell of a
// jump, else towards the larger move. What moves smoothly moves by ever less; a jump stays. Jumps
// within the first eighth of the first step are not looked for.
//
// A search that leaps over several jumps may land anywhere: which of many shapes it meets hangs on
// the last digit. So the way goes on from just behind the first one.
#pragma once

#include <optional>

#include "totebench/solver/continuation.hpp"

namespace totebench::solver {

struct SolvedStep : LoadStep {
  SolveReport report;
};

class JumpSearch {
 public:
  // Looks for nothing where `energy` is empty or `width` is 0.
  JumpSearch(const SolveAt& solve, const EnergyAt& energy, double width)
      : solve_(solve), energy_(energy), width_(width) {}

  struct Found {
    Jump jump;
    LoadStep before;
  };
  // The first jump between neighbours on the way, told in their order. `b` becomes the equilibrium
  // to go on from: just behind the jump; or where its shape proves to be one that the load does not
  // lead to (from the last shape before it the same load leads to another, near one), that one.
  [[nodiscard]] std::optional<Found> find(const LoadStep& a, SolvedStep& b);

 private:
  [[nodiscard]] bool is_suspect(const LoadStep& a, const LoadStep& b) const;
  [[nodiscard]] double energy_drop(const LoadStep& a, const LoadStep& b) const;
  [[nodiscard]] SolvedStep from(const LoadStep& a, double load_factor) const;
  void note_rate(const LoadStep& a, const LoadStep& b);

  const SolveAt& solve_;
  const EnergyAt& energy_;
  double width_;
  double rate_ = -1;  // m per unit of the load factor, on the step before; < 0: none yet
};

}  // namespace totebench::solver
