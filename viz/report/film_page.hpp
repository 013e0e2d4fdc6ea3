// A film that plays in any browser: its pictures in one page, with a button and a slider.
#pragma once

#include <string>
#include <vector>

namespace totebench::viz {

// `pictures_png` are whole files, in their order; the page asks for nothing else. It plays round
// and round, and waits to be started where a person wants no motion.
[[nodiscard]] std::string film_page(const std::string& title,
                                    const std::vector<std::string>& pictures_png,
                                    double frames_per_s);

}  // namespace totebench::viz
