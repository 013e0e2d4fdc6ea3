// The JSON Schemas of every file that programs read. scenes/<name>.schema.json is that text; a test
// compares the two, and `totebench explain <name> --schema` prints it.
#pragma once

#include <array>
#include <string>

namespace totebench::app {

[[nodiscard]] std::string findings_schema();
[[nodiscard]] std::string rating_schema();
[[nodiscard]] std::string carry_schema();
[[nodiscard]] std::string wear_schema();
[[nodiscard]] std::string unzip_schema();
[[nodiscard]] std::string strap_ends_schema();
[[nodiscard]] std::string stand_schema();
[[nodiscard]] std::string choose_schema();
[[nodiscard]] std::string sweep_schema();
[[nodiscard]] std::string comparison_schema();
[[nodiscard]] std::string swatch_schema();
[[nodiscard]] std::string cutlist_schema();

struct ResultSchema {
  const char* name;  // of the file, without .json
  std::string (*text)();
};
inline constexpr std::array<ResultSchema, 12> kResultSchemas = {{{"findings", findings_schema},
                                                                 {"rating", rating_schema},
                                                                 {"carry", carry_schema},
                                                                 {"wear", wear_schema},
                                                                 {"unzip", unzip_schema},
                                                                 {"strap_ends", strap_ends_schema},
                                                                 {"stand", stand_schema},
                                                                 {"choose", choose_schema},
                                                                 {"sweep", sweep_schema},
                                                                 {"comparison", comparison_schema},
                                                                 {"swatch", swatch_schema},
                                                                 {"cutlist", cutlist_schema}}};

}  // namespace totebench::app
