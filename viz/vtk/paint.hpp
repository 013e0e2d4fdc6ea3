// From a Picture to VTK's actors, inside the drawing module.
#pragma once

#include "totebench/viz/picture.hpp"

class vtkCamera;
class vtkRenderer;

namespace totebench::viz {

// The bags themselves, with lights: what may be turned.
void paint_scene(const Picture& picture, vtkRenderer* scene);

// What stands still in front of them: dimensions, colour bar, words.
void paint_notes(const Picture& picture, vtkRenderer* overlay);

void aim(vtkCamera* camera, const Picture& picture);

}  // namespace totebench::viz
