// Keys of the bag's use: what `totebench wear` counts.
#include "scenes/format/keys/build.hpp"

namespace totebench::scenes::keys {

const KeyTable& use_keys() {
  static const KeyTable table = {
      "use",
      "How the bag is used, for totebench wear.",
      {Build("times_a_week", KeyType::kNumber, "How often it is loaded and carried.")
           .at(member(&UseSpec::times_a_week))
           .defaults("5", kOurs)
           .usual("0.1", "30")
           .limits("0.01", "1000"),
       Build("walk", KeyType::kQuantity, "How far it is carried each time.")
           .unit(Dimension::kLength)
           .at(member(&UseSpec::walk_m))
           .defaults("500 m", kOurs)
           .usual("0 m", "5000 m")
           .limits("0 m", "100000 m"),
       Build("lifts", KeyType::kInteger, "How often it is picked up from the floor each time.")
           .at(member(&UseSpec::lifts))
           .defaults("1", kOurs)
           .usual("0", "50")
           .limits("0", "10000"),
       Build("loaded_hours", KeyType::kNumber, "How many hours it hangs loaded each time.")
           .at(member(&UseSpec::loaded_hours))
           .defaults("1", kOurs)
           .usual("0.01", "24")
           .limits("0.001", "10000"),
       Build("uses", KeyType::kInteger,
             "A carry test: how many times the bag must endure; 0 = no test.")
           .at(member(&UseSpec::uses))
           .defaults("0", kOurs)
           .limits("0", "1000000")}};
  return table;
}

}  // namespace totebench::scenes::keys
