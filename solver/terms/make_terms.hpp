// The energy terms of a model, made in one place.
#pragma once

#include <memory>
#include <vector>

#include "solver/mesh/topology.hpp"
#include "solver/terms/energy_term.hpp"
#include "totebench/solver/model.hpp"

namespace totebench::solver {

using EnergyTerms = std::vector<std::unique_ptr<EnergyTerm>>;

// All that the model asks for. They refer to `model` and `topology`, which must outlive them.
[[nodiscard]] EnergyTerms make_terms(const Model& model, const Topology& topology);

[[nodiscard]] std::unique_ptr<EnergyTerm> make_shell_term(const Model& model,
                                                          const Topology& topology);
[[nodiscard]] std::unique_ptr<EnergyTerm> make_hinge_term(const Topology& topology);
[[nodiscard]] std::unique_ptr<EnergyTerm> make_stitch_term(const ShellMesh& mesh,
                                                           const std::vector<Stitch>& stitches);
[[nodiscard]] std::unique_ptr<EnergyTerm> make_normal_tie_term(const ShellMesh& mesh,
                                                               const std::vector<NormalTie>& ties);
[[nodiscard]] std::unique_ptr<EnergyTerm> make_tether_term(const ShellMesh& mesh,
                                                           const std::vector<Tether>& tethers);
// Follower pressure as minus pressure times the volume under the surface, p * integral z n_z dA.
// Exact where the border is held or at height zero; elsewhere a border force p z remains.
[[nodiscard]] std::unique_ptr<EnergyTerm> make_pressure_term(const ShellMesh& mesh,
                                                             const Eigen::VectorXd& pressure_Pa);

}  // namespace totebench::solver
