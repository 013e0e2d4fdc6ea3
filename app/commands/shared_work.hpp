// A study whose finished pieces are kept in the folder of its results, alone or together with other
// processes.
#pragma once

#include <functional>
#include <memory>
#include <string>

#include "app/commands/kept_file.hpp"

namespace totebench::app {

// Opens the file; null, with the reason on stderr, where it cannot be used, or not shared.
[[nodiscard]] std::unique_ptr<KeptFile> open_kept(const std::string& file, const std::string& title,
                                                  bool together);

// Calls `tell`, which writes and says a finished result and returns the exit code, in one of the
// processes that have it; the others return kExitDone at once. `what` is the same for all of them.
[[nodiscard]] int tell_once(KeptFile& kept, const std::string& what,
                            const std::function<int()>& tell);

}  // namespace totebench::app
