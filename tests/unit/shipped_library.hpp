// The material library that is shipped, read once.
#pragma once

#include "materials/library.hpp"

namespace totebench {

inline const MaterialLibrary& library() {
  static const MaterialLibrary loaded = MaterialLibrary::load();
  return loaded;
}

}  // namespace totebench
