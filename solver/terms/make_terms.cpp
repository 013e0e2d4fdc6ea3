#include "solver/terms/make_terms.hpp"

#include "solver/contact/contact_term.hpp"
#include "solver/contact/friction_term.hpp"
#include "solver/terms/body_weight_term.hpp"
#include "solver/terms/fill_term.hpp"
#include "solver/terms/floor_term.hpp"

namespace totebench::solver {

EnergyTerms make_terms(const Model& model, const Topology& topology) {
  EnergyTerms terms;
  terms.push_back(make_shell_term(model, topology));
  if (!topology.hinges.empty()) terms.push_back(make_hinge_term(topology));
  if (!model.stitches.empty()) terms.push_back(make_stitch_term(model.mesh, model.stitches));
  if (!model.weak_springs.empty()) {
    terms.push_back(make_stitch_term(model.mesh, model.weak_springs));
  }
  if (!model.normal_ties.empty()) {
    terms.push_back(make_normal_tie_term(model.mesh, model.normal_ties));
  }
  if (!model.tethers.empty()) terms.push_back(make_tether_term(model.mesh, model.tethers));
  if (model.payload_pressure_Pa.size() > 0) {
    terms.push_back(make_pressure_term(model.mesh, model.payload_pressure_Pa));
  }
  if (model.fill.active()) {
    terms.push_back(std::make_unique<FillTerm>(model.mesh, model.fill, model.gravity_m_per_s2));
  }
  if (model.floor.active()) {
    terms.push_back(std::make_unique<FloorTerm>(model.mesh, model.floor));
  }
  const DofMap dofs = dof_map(topology, model.bodies.size());
  if (!model.bodies.empty()) terms.push_back(std::make_unique<BodyWeightTerm>(model, dofs));
  if (model.contact.active()) {
    auto contact = std::make_unique<ContactTerm>(model, dofs);
    const ContactTerm& its = *contact;
    terms.push_back(std::move(contact));
    if (!model.bodies.empty()) {
      terms.push_back(std::make_unique<FrictionTerm>(model, dofs, its));
    }
  }
  return terms;
}

}  // namespace totebench::solver
