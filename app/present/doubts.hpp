// What makes the answer of a hanging bag doubtful: told in its headline, marked in its picture.
#pragma once

#include <string>
#include <vector>

#include "totebench/studies/hang.hpp"
#include "totebench/viz/picture_mark.hpp"

namespace totebench::app {

struct Doubt {
  std::string words;      // for the headline
  viz::PictureMark mark;  // the same in short, and where
};

// Of a bag at rest; none where nothing is known to make it doubtful.
[[nodiscard]] std::vector<Doubt> doubts(const studies::HangResult& result,
                                        const std::string& units);
// Of them all; none of a bag that is not at rest.
[[nodiscard]] std::vector<viz::PictureMark> doubt_marks(const studies::HangResult& result,
                                                        const std::string& units);

}  // namespace totebench::app
