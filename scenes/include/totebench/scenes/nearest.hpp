// The known name closest to what a person typed, for "did you mean".
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace totebench::scenes {

// Edits (insert, delete, replace, swap of neighbours) between two names, ASCII case ignored.
[[nodiscard]] int edit_distance(std::string_view a, std::string_view b);

// The nearest of `known`, or "" when none is near enough to be meant.
[[nodiscard]] std::string nearest(std::string_view typed, const std::vector<std::string>& known);

// Up to `count` names, the nearest first; names that contain `typed` count as near.
[[nodiscard]] std::vector<std::string> nearest_few(std::string_view typed,
                                                   const std::vector<std::string>& known,
                                                   std::size_t count);

}  // namespace totebench::scenes
