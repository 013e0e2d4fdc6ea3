// A scene as Python hands it over, read, with everything that is wrong with it.
#pragma once

#include <string>
#include <vector>

#include "totebench/materials/library.hpp"
#include "totebench/scenes/reader.hpp"

namespace totebench::app::python {

// Where the material library is; "" = where the program would find it.
[[nodiscard]] std::string& library_folder();
[[nodiscard]] materials::MaterialLibrary library();

// What a dictionary held that no scene file can: a set, a NaN.
struct Misfit {
  std::string pointer;  // JSON pointer
  std::string message, hint;
};

struct Reading {
  std::string file;                    // its path, or what stands for it
  materials::MaterialLibrary library;  // without the scene's own materials
  scenes::ReadResult read;

  [[nodiscard]] bool good() const { return read.scene.has_value(); }
  [[nodiscard]] std::string checked() const;  // JSON, as `check --json` has it
  [[nodiscard]] std::string faults() const;   // as `check` prints them

  // For studies; throws std::invalid_argument where it is not good.
  [[nodiscard]] scenes::Scene scene(const std::string& units) const;
  [[nodiscard]] scenes::Scene tote(const std::string& units, const std::string& refusal) const;
};

[[nodiscard]] Reading read_file(const std::string& path);
// A dictionary as text. It has no lines; what stands at a misfit is passed over.
[[nodiscard]] Reading read_text(const std::string& text, const std::string& name,
                                const std::vector<Misfit>& misfits);
// The JSON of a scene file, without its comments; "" where it is none, or cannot be read.
[[nodiscard]] std::string plain_text(const std::string& path);

}  // namespace totebench::app::python
