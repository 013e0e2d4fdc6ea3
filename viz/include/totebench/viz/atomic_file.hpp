// Files that are either whole or not there: written under a temporary name, then renamed.
#pragma once

#include <filesystem>
#include <functional>
#include <string>

namespace totebench::viz {

// `write` puts the content at the path it is given and returns an empty text or what went wrong.
// Returns the same; on failure nothing is left behind and an older file is untouched.
[[nodiscard]] std::string write_atomically(
    const std::filesystem::path& path,
    const std::function<std::string(const std::filesystem::path&)>& write);

[[nodiscard]] std::string write_text_atomically(const std::filesystem::path& path,
                                                const std::string& text);

// Makes the folder and tries to write in it. Returns an empty text, or a sentence a person can act
// on. A folder made for the attempt stays, a trial file does not. Temporary files of runs of this
// machine that were ended while they wrote there are removed.
[[nodiscard]] std::string check_writable(const std::filesystem::path& folder);

}  // namespace totebench::viz
