// A series of pictures, a page on which they play, and a film file of them where the program ffmpeg
// is installed.
#pragma once

#include <filesystem>
#include <functional>
#include <string>
#include <vector>

#include "totebench/viz/picture.hpp"
#include "totebench/viz/results.hpp"

namespace totebench::viz {

// Writes `name`/frame_000.png ..., `name`.html and, with ffmpeg, `name`.mp4 into `folder`, the last
// two with `frames_per_s`. An older series of that name goes. Stops, saying so, when `go_on`
// returns false.
[[nodiscard]] Written write_film(const std::string& name, const std::string& title,
                                 const std::vector<Picture>& frames, double frames_per_s,
                                 const std::filesystem::path& folder,
                                 const std::function<bool()>& go_on);

}  // namespace totebench::viz
