// Small SVG pictures of solved sheets for the verification book.
#pragma once

#include <string>

#include "sheet_case.hpp"

namespace totebench::verification {

// From where a sheet is looked at, degrees: azimuth turns about z, elevation tips towards the eye.
struct View {
  double azimuth_deg = -60;
  double elevation_deg = 25;
  double exaggeration = 1;  // of the displacement
};

// Leaves the picture of a family: the deformed triangles, shaded by how they face the eye, and the
// border of the start in grey.
void draw(const std::string& family, const solver::Model& model, const solver::State& state,
          View view = {});

}  // namespace totebench::verification
