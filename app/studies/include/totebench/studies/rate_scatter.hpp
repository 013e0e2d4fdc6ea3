// Scatter of what a bag is made of: which numbers of the library matter to a scene, bags drawn from
// their ranges, and what first-order theory says of the same spread.
//
// Each number is drawn on its own from a triangle between its low and its high with the peak at its
// value (nothing more is known of it). n bags by Latin hypercube: every input's range is cut in n
// parts of equal chance, each part is used once, in an order shuffled for that input alone. The
// draw depends on seed, inputs and n only, never on threads.
//   variance of a triangle   (a^2 + b^2 + c^2 - ab - ac - bc) / 18
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "totebench/materials/library.hpp"
#include "totebench/scenes/scene.hpp"

namespace totebench::studies {

struct ScatterInput {
  std::string kind, id, property;  // as in MaterialLibrary::for_each_quantity
  double low = 0;
  double value = 0;
  double high = 0;
  std::string grade;
  std::string of;                           // see part_words(); empty: the id stands for it
  [[nodiscard]] std::string label() const;  // "stiffness of the base sheet"
  [[nodiscard]] double variance() const;
};

// What a material or thread is in this bag: "the base sheet", "the straps", "the thread at the
// straps"; for cloth and other layers the library's name of it.
[[nodiscard]] std::string part_words(const scenes::Scene& scene,
                                     const materials::MaterialLibrary& library,
                                     std::string_view kind, const std::string& id);

// What of `library` (the scene's own materials included) this scene draws on and has a range.
[[nodiscard]] std::vector<ScatterInput> scatter_inputs(const scenes::Scene& scene,
                                                       const materials::MaterialLibrary& library);
// A copy of the library in which the inputs have these values and no range.
[[nodiscard]] materials::MaterialLibrary with_values(const materials::MaterialLibrary& library,
                                                     const std::vector<ScatterInput>& inputs,
                                                     const std::vector<double>& values);

// Value below which a share `chance` (0 to 1) of the triangle lies.
[[nodiscard]] double triangle_quantile(const ScatterInput& input, double chance);

// n rows of one value per input.
[[nodiscard]] std::vector<std::vector<double>> draw_bags(const std::vector<ScatterInput>& inputs,
                                                         int n, unsigned seed);

struct SampleBand {
  int count = 0;
  double low = 0;  // 5 % lie below
  double middle = 0;
  double high = 0;  // 5 % lie above
  double mean = 0;
  double deviation = 0;  // standard deviation
};
// Quantiles by linear interpolation between order statistics. Empty input: all zero.
[[nodiscard]] SampleBand band_of(std::vector<double> values);

// First order about the values: deviation^2 = sum (slope_i^2 variance_i).
struct FirstOrder {
  double deviation = 0;
  std::vector<double> slope;  // per input
  std::vector<double> share;  // of the variance, per input; sums to 1
};
[[nodiscard]] FirstOrder first_order(const std::vector<ScatterInput>& inputs,
                                     std::vector<double> slope);

struct Driver {
  std::string input;  // ScatterInput::label()
  double share = 0;   // of the variance
};
// The three that count most, if they count at all: "bending rigidity of a (61 %), ...".
[[nodiscard]] std::string drivers_text(std::vector<Driver> drivers);

// Runs job(0) .. job(n - 1), several at a time (see side_by_side.hpp). Ends early when keep_going
// returns false; it is asked after each job, by one thread at a time.
void run_side_by_side(int n, const std::function<void(int)>& job,
                      const std::function<bool()>& keep_going);

}  // namespace totebench::studies
