// How a strap's end comes off, fastening by fastening: the study behind `totebench unzip`.
//
//   hang -> load raised by solving until the first fastening is used up -> that one let go, the bag
//   solved anew at the same load -> load brought to where the next is used up -> ... -> an end is
//   off
//
// Loads are quasi-static, as on a testing machine that eases off while the seam tears: each
// fastening goes at the load that just breaks it with all before it gone. Contents that stay on do
// not ease off: the fastenings whose own load is no higher than one that has already been on go
// with it in one run.
//
// Energy. P . x is the work of the contents' weight at load factor 1. At a break the load is held,
// so what the break sets free is the drop of the total potential,
//   D = E(before) - E(after),   not less than what the fastening itself had stored, k g^2 / 2,
// since without it the bag can only move further downhill. Between breaks nothing is lost: the work
//   W = integral of load factor d(P . x)   equals the rise of U = E + load factor P . x,
// unless the shape jumps on the way (a wall snaps to its other side): at the load where its rest
// ceases to be one the bag moves to the next, and what the total potential drops by at that held
// load is set free. A step that loses more than a fiftieth of its work is therefore halved: on a
// smooth way the loss is the error of the trapezoid and shrinks with the step, at a jump it stays.
// What is lost within a step of one per cent of the load is booked as a jump. U is taken from the
// solver's energies; W is summed from loads and displacements alone (trapezoids), so that the two
// check one another.
#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "totebench/studies/hang.hpp"

namespace totebench::studies {

struct Break {
  int stitch = 0;                                     // index into Model::stitches
  std::string site;                                   // "front left"
  Eigen::Vector2d place_m = Eigen::Vector2d::Zero();  // as in StitchRows::points
  bool by_cloth = false;  // torn out of the cloth; else its thread (or rivet) parted
  double load_factor = 0;
  double force_N = 0;        // it carried
  double sink_before_m = 0;  // of the contents, from where they hang at the set load
  double sink_after_m = 0;   // at the same load
  double own_J = 0;          // stored in the fastening
  double set_free_J = 0;     // by the break in all; 0 where not known
  std::vector<double>
      gaps_m;           // per strap end: mean distance of its fastenings from the panel, after
  solver::State after;  // at rest without it
};

struct NearestFastening {
  std::string site;  // "front left"; empty where no strength is known
  double load_factor = 0;
  double share = 0;  // of its strength, or of the cloth's that it holds
  // Load at which it would go if its pull kept in proportion.
  [[nodiscard]] double load_in_proportion() const { return load_factor / share; }
};

struct Unzipping {
  HangResult hang;
  std::vector<Eigen::Vector2d> rising;  // load factor and sink (m) before the first break
  std::vector<Break> breaks;            // in their order
  std::string why_ended;                // when no end came off
  bool at_limit = false;                // then: bags are not loaded any further
  std::string end_off;                  // the strap's end that came off, "" = none
  int fastenings_of_end = 0;            // it had
  // The fastening nearest to its strength hanging still at the set load, and at the largest load
  // looked at.
  NearestFastening nearest_at_set, nearest;
  // Of another mode that reached its strength on the way: what, and after how many breaks.
  std::string meanwhile;
  int meanwhile_after = 0;
  // Energies of the whole way from the first break on, J. Contents that press like a heap have no
  // potential: nothing is known of theirs.
  bool energy_known = false;
  double work_J = 0;       // of the contents' weight, from loads and displacements
  double stored_J = 0;     // rise of what bag and weight have stored
  double set_free_J = 0;   // by all breaks
  int jumps = 0;           // of the shape between breaks
  double jumped_J = 0;     // set free by them
  double widest_jump = 0;  // largest step of log load within which one was closed in on
  bool interrupted = false;
  double seconds = 0;
  [[nodiscard]] double imbalance_J() const { return work_J - stored_J - set_free_J - jumped_J; }
  // Strap ends with a break, that of the first break first.
  [[nodiscard]] std::vector<std::string> ends_with_breaks() const;
  // The break at the largest load: under contents that stay on everything after it goes in one run.
  [[nodiscard]] std::size_t last_held() const;
};

// `library`, `level` and what is thrown as for hang_tote().
[[nodiscard]] Unzipping unzip_tote(const scenes::Scene& scene,
                                   const materials::MaterialLibrary& library,
                                   const OnHangProgress& on_progress,
                                   std::optional<int> level = std::nullopt);

}  // namespace totebench::studies
