// Keys of the rating: how the load at first failure becomes a rated mass.
#include "scenes/format/keys/build.hpp"

namespace totebench::scenes::keys {

const KeyTable& rating_keys() {
  static const KeyTable table = {
      "rating",
      "How totebench rate turns the load at first failure into a rated mass.",
      {Build("design_factor", KeyType::kNumber,
             "What the load at which the bag would drop its contents is divided by.")
           .at(member(&RatingSpec::design_factor))
           .defaults("5", "published factor of sewn lifting bags for a single trip")
           .usual("3", "10")
           .limits("1", "50")
           .when_too_low("a factor below 1 would rate the bag above the load that breaks it"),
       Build("samples", KeyType::kInteger,
             "Bags drawn at random from the scatter of the materials' data; 0 = none.")
           .at(member(&RatingSpec::samples))
           .defaults("200", kOurs)
           .limits("0", "10000"),
       Build("seed", KeyType::kInteger, "Start of the random draw; the same seed, the same bags.")
           .at(member(&RatingSpec::seed))
           .defaults("1", kOurs)
           .limits("0", "4000000000")}};
  return table;
}

}  // namespace totebench::scenes::keys
