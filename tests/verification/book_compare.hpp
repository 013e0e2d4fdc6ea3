// When a line of the verification book still says what the tests found.
#pragma once

#include <string>

namespace totebench::verification {

// Same words, and numbers that differ by no more than one in their last digit: another machine
// rounds the other way now and then.
[[nodiscard]] bool same_line(const std::string& a, const std::string& b);

}  // namespace totebench::verification
