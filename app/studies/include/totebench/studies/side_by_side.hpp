// Independent solves at the same time.
#pragma once

#include <functional>
#include <vector>

namespace totebench::studies {

// Runs pieces of work that need nothing of each other side by side, in the order given as threads
// become free, each on one thread: most of a solve is a sparse factorisation, which gains little
// from more. The first piece's exception is thrown again at the end.
void side_by_side(const std::vector<std::function<void()>>& work);

}  // namespace totebench::studies
