// The material library: what cloths, interfacings, stabilizers, base sheets, straps, threads and
// stitches are made of, read at run time from JSON files in which every number has a source.
//
// Where the files are looked for, first hit wins:
//   1. the path given to MaterialLibrary::load,
//   2. the environment variable TOTEBENCH_MATERIALS,
//   3. ../share/totebench/materials beside the running program,
//   4. the source tree and then the install prefix this library was built with.
#pragma once

#include <functional>
#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace totebench::materials {

// One number with its scatter and origin. value, low and high are SI whatever the file's unit was:
// `unit` is the SI unit ("N/m", "N m", "kg/m2", "m", "Pa", "1", ...).
struct Quantity {
  double value = 0;
  double low = 0;  // usual range of such goods; low <= value <= high
  double high = 0;
  std::string unit;
  std::string source;  // id in MaterialLibrary::sources(), several joined with ", "
  std::string grade;   // one of the kGrade texts below
  std::string note;    // condition of the test, reasoning of an estimate
  std::string bound;   // "minimum" or "maximum" when the source gives a limit and no typical value

  // A number without a library behind it (a person's own measurement, a test).
  [[nodiscard]] static Quantity own(double value_si, std::string unit, std::string source = "own");
};

// Grades say how a value was come by; where the limits are known less well, the note says so.
//   seen      read in a measurement, a specification, a regulation or a handbook of such goods
//   trade     a figure passed on: trade charts and averages, pages that quote without a test, the
//             measured value of another cloth or of another property
//   memory    not looked up
//   estimate  worked out or guessed; the note has the reasoning
inline constexpr const char* kGradeSeen = "measured or specification seen";
inline constexpr const char* kGradeTrade = "trade or second-hand figure";
inline constexpr const char* kGradeMemory = "from memory";
inline constexpr const char* kGradeEstimate = "estimate";

// The less trustworthy of two grades: seen > trade > from memory > estimate.
[[nodiscard]] std::string weaker_grade(const std::string& a, const std::string& b);

// Two lists of source ids ("S2, S7") as one, each id once.
[[nodiscard]] std::string merged_sources(const std::string& a, const std::string& b);

// Property names the sections and strengths read:
//   sheet goods   areal_mass [kg/m2] or density [kg/m3]; thickness [m]; poisson_ratio [1], meaning
//                 sqrt(nu12 nu21); strip_strength, break_strain [1], peel_strength [N/m]
//   cloth etc.    tensile_stiffness_initial and tensile_stiffness_postcrimp [N/m], crimp_strain
//   [1],
//                 shear_stiffness [N/m], bending_rigidity [N m], fused_bending_ratio [1]
//   solid goods   youngs_modulus (or youngs_modulus_md along and _cd across) [Pa], shear_modulus
//                 [Pa], yield_stress or flexural_strength [Pa], creep_* (see strength.hpp)
//   straps        width [m] and, at that width, axial_stiffness_EA (and _postcrimp) [N] and
//                 breaking_strength [N]; strength_stress [Pa] for leather
// Where the two directions differ the name ends in _warp or _weft.
struct Material {
  std::string id;
  std::string name;
  std::string category;  // fabric, interfacing, stabilizer, base, strap
  std::string note;
  std::map<std::string, Quantity, std::less<>> properties;

  // nullptr when the material has no such property.
  [[nodiscard]] const Quantity* find(std::string_view property) const;
  // Throws std::invalid_argument naming material and property.
  [[nodiscard]] const Quantity& get(std::string_view property) const;
  [[nodiscard]] bool has(std::string_view property) const { return find(property) != nullptr; }
  // Property for a direction: `base`_warp or `base`_weft, else `base`; nullptr when neither is
  // there.
  [[nodiscard]] const Quantity* directional(const std::string& base, bool warp) const;
};

struct Thread {
  std::string id;
  std::string name;
  double tex = 0;              // g/km
  Quantity breaking_strength;  // N
  Quantity elongation;         // 1
  Quantity loop_ratio;         // 1, strength of a loop leg against the straight thread
};

struct StitchType {
  std::string id;  // ISO 4915 number: "301", "401", ...
  std::string name;
  Quantity factor;  // 1; seam force per stitch over breaking strength of the weaker thread
};

struct Source {
  std::string id;
  std::string cite;
  std::string address;  // empty when it is not kept
  std::string kind;
};

// A file of the library as text: what it is called in messages, and what is in it.
struct LibraryText {
  std::string name;
  std::string text;
};

class MaterialLibrary {
 public:
  // Reads the library. Throws std::runtime_error "file:line:column: what is wrong" for a broken
  // file, and a list of the places looked at when there is no library at all.
  [[nodiscard]] static MaterialLibrary load(const std::string& path = "");

  // Reads a library that is in memory already, in any order. Throws as load() does for a broken
  // file.
  [[nodiscard]] static MaterialLibrary parse(std::vector<LibraryText> files);

  // The materials of one file in the library's format that a person keeps beside their scenes. Its
  // numbers may name sources of the file itself and of `library`; the result holds both. Throws as
  // load() does for a broken file.
  [[nodiscard]] static MaterialLibrary load_file(const std::string& path,
                                                 const MaterialLibrary& library);
  [[nodiscard]] static MaterialLibrary parse_file(const LibraryText& file,
                                                  const MaterialLibrary& library);

  [[nodiscard]] const Material* find(std::string_view id) const;  // nullptr when unknown
  [[nodiscard]] const Thread* find_thread(std::string_view id) const;
  [[nodiscard]] const StitchType* find_stitch(std::string_view id) const;
  // A named constant of a rule (stack and seam rules, fatigue slopes). Throws
  // std::invalid_argument.
  [[nodiscard]] const Quantity& rule(std::string_view id) const;

  [[nodiscard]] std::vector<std::string> ids() const;  // in file order
  [[nodiscard]] std::vector<std::string> thread_ids() const;
  [[nodiscard]] std::vector<std::string> stitch_ids() const;

  // Plain name of a material; its id where it has none or is not known.
  [[nodiscard]] std::string name_of(const std::string& id) const;

  // The known id that a word of the trade stands for, or else the nearest to a misspelt one (ids
  // and plain names are both tried); "" where none is near. For error texts.
  [[nodiscard]] std::string closest(std::string_view name) const;
  [[nodiscard]] std::string closest_thread(std::string_view name) const;
  [[nodiscard]] std::string closest_stitch(std::string_view name) const;

  // Adds a material or replaces the one with the same id (entries a scene brings).
  void add(Material material);

  // Every number that may be varied: kind ("material", "thread", "stitch", "rule"), id, property
  // ("value" for a rule). For studies of scatter on a copy of the library.
  using OnQuantity = std::function<void(std::string_view kind, std::string_view id,
                                        std::string_view property, Quantity& quantity)>;
  void for_each_quantity(const OnQuantity& visit);

  [[nodiscard]] const std::vector<Material>& materials() const { return materials_; }
  [[nodiscard]] const std::vector<Thread>& threads() const { return threads_; }
  [[nodiscard]] const std::vector<StitchType>& stitches() const { return stitches_; }
  [[nodiscard]] const std::map<std::string, Source, std::less<>>& sources() const {
    return sources_;
  }
  [[nodiscard]] const std::map<std::string, Quantity, std::less<>>& rules() const { return rules_; }
  [[nodiscard]] const std::string& directory() const { return directory_; }

 private:
  friend class LibraryReader;
  std::string directory_;
  std::vector<Material> materials_;
  std::vector<Thread> threads_;
  std::vector<StitchType> stitches_;
  std::map<std::string, Quantity, std::less<>> rules_;
  std::map<std::string, Source, std::less<>> sources_;
};

}  // namespace totebench::materials
