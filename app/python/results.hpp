// What studies found, as Python holds it: what the commands say of it and, of a bag that hung,
// its shapes.
#pragma once

#include <pybind11/pybind11.h>

#include <filesystem>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "app/python/shape.hpp"
#include "totebench/materials/library.hpp"
#include "totebench/scenes/reader.hpp"
#include "totebench/studies/carry.hpp"
#include "totebench/studies/hang.hpp"
#include "totebench/studies/stand.hpp"

namespace totebench::app::python {

[[nodiscard]] pybind11::object dictionary(const std::string& json);

struct Told {
  std::string json;    // as the command prints it with --json
  std::string text;    // as it prints it without
  bool found = true;   // it would exit with 0
  std::string advice;  // where it is not found; may be empty
};

class Result {
 public:
  explicit Result(Told told) : told_(std::move(told)) {}
  virtual ~Result() = default;  // so that Python sees which one it is
  Result(const Result&) = delete;
  Result& operator=(const Result&) = delete;
  [[nodiscard]] pybind11::object findings();  // a dictionary, made once
  [[nodiscard]] const std::string& text() const { return told_.text; }
  [[nodiscard]] std::string sentence() const { return told_.text.substr(0, told_.text.find('\n')); }
  [[nodiscard]] bool found() const { return told_.found; }
  [[nodiscard]] const std::string& advice() const { return told_.advice; }

 private:
  Told told_;
  pybind11::object findings_;
};

// Names of the files written. Raises OSError where one is missing.
using FileNames = std::vector<std::string>;

// Where a search for rest ended, with its scene and that scene's library (library_of(scene, ...)).
template <class Study>
class AtRest : public Result {
 public:
  // By reference: what is told is read from the others before they are moved.
  AtRest(Told told, scenes::Scene&& scene, materials::MaterialLibrary&& library,
         std::shared_ptr<const Study>&& result)
      : Result(std::move(told)),
        scene_(std::move(scene)),
        library_(std::move(library)),
        result_(std::move(result)) {}
  [[nodiscard]] pybind11::object scene() const {  // a dictionary
    return dictionary(scenes::resolved_json(scene_));
  }

 protected:
  scenes::Scene scene_;
  materials::MaterialLibrary library_;
  std::shared_ptr<const Study> result_;
};

class Hung : public AtRest<studies::HangResult> {
 public:
  Hung(scenes::Scene scene, materials::MaterialLibrary library,
       std::shared_ptr<const studies::HangResult> result);

  [[nodiscard]] pybind11::array placed() const;
  [[nodiscard]] Shape empty() const;
  [[nodiscard]] Shape loaded() const;
  [[nodiscard]] std::vector<Shape> steps() const;
  [[nodiscard]] Points stitches() const;
  [[nodiscard]] FileNames write(const std::filesystem::path& folder, bool picture) const;
};

class HungSheet : public AtRest<studies::SheetHangResult> {
 public:
  HungSheet(scenes::Scene scene, materials::MaterialLibrary library,
            std::shared_ptr<const studies::SheetHangResult> result);

  [[nodiscard]] pybind11::array placed() const;
  [[nodiscard]] Shape loaded() const;
  [[nodiscard]] std::vector<Shape> steps() const;
  [[nodiscard]] FileNames write(const std::filesystem::path& folder, bool picture) const;

 private:
  [[nodiscard]] Shape shape_of(const solver::LoadStep& step) const;
};

class Stood : public AtRest<studies::Standing> {
 public:
  Stood(scenes::Scene scene, materials::MaterialLibrary library,
        std::shared_ptr<const studies::Standing> result);

  [[nodiscard]] pybind11::array placed() const;
  [[nodiscard]] Shape empty() const;
  [[nodiscard]] Shape loaded() const;
  [[nodiscard]] FileNames write(const std::filesystem::path& folder, bool picture) const;
};

class Carried : public Result {
 public:
  Carried(Told told, std::shared_ptr<const studies::CarryResult> result)
      : Result(std::move(told)), result_(std::move(result)) {}
  // By event, the columns of carry.csv over time.
  [[nodiscard]] pybind11::dict events() const;

 private:
  std::shared_ptr<const studies::CarryResult> result_;
};

// A result that holds bags which hung.
class WithBags : public Result {
 public:
  WithBags(Told told, std::vector<std::shared_ptr<Hung>> bags)
      : Result(std::move(told)), bags_(std::move(bags)) {}
  [[nodiscard]] const std::vector<std::shared_ptr<Hung>>& bags() const { return bags_; }
  [[nodiscard]] std::shared_ptr<Hung> first() const {
    return bags_.empty() ? nullptr : bags_.front();
  }

 private:
  std::vector<std::shared_ptr<Hung>> bags_;
};
class Rated : public WithBags {
 public:
  using WithBags::WithBags;
};
class Chosen : public WithBags {
 public:
  using WithBags::WithBags;
};
class Compared : public WithBags {
 public:
  using WithBags::WithBags;
};

}  // namespace totebench::app::python
