// The material library that is shipped, read once.
#pragma once

#include "totebench/materials/library.hpp"

namespace totebench {

inline const materials::MaterialLibrary& library() {
  static const materials::MaterialLibrary loaded = materials::MaterialLibrary::load();
  return loaded;
}

}  // namespace totebench
