// Keys of the sweep: what `totebench sweep` varies from bag to bag.
#include "scenes/format/keys/build.hpp"
#include "totebench/scenes/figure.hpp"

namespace totebench::scenes::keys {
namespace {

const KeyTable& factor_keys() {
  static const KeyTable table = {
      "factor",
      "A key of the scene that differs from bag to bag.",
      {Build("key", KeyType::kText,
             "Which, as in totebench explain: \"base.thickness\". Entries of lists go by their "
             "number, from 1: \"layers.upper.2.material\".")
           .at(member(&Factor::key)),
       Build("levels", KeyType::kValues,
             "The values it has, written as in the scene itself: [\"1 mm\", \"2 mm\"]. In a Latin "
             "hypercube each is used as often as the others, or once more.")
           .at(member(&Factor::levels))
           .optional("a range"),
       Build("from", KeyType::kValue, "The low end of a range of numbers, for a Latin hypercube.")
           .at(member(&Factor::from))
           .optional("levels"),
       Build("to", KeyType::kValue, "The high end of that range.")
           .at(member(&Factor::to))
           .optional("levels")}};
  return table;
}

std::vector<std::string> figure_keys() {
  std::vector<std::string> keys;
  keys.reserve(kFigures.size());
  for (const Figure& figure : kFigures) keys.emplace_back(figure.key);
  return keys;
}

}  // namespace

const KeyTable& sweep_keys() {
  static const KeyTable table = {
      "sweep",
      "Many bags that differ in any keys of the scene, for totebench sweep.",
      {list("factors", &SweepSpec::factors, factor_keys(), "What differs. No two name one key."),
       choice("design", &SweepSpec::design, {"full factorial", "latin hypercube"},
              {"every combination of the levels, the last factor running fastest",
               "as many bags as \"bags\" says; the range of each factor is cut in that many equal "
               "parts and each part is hung once, in an order drawn by the seed"},
              "Which of all possible bags are hung.")
           .defaults("full factorial", kOurs),
       Build("bags", KeyType::kInteger,
             "How many bags. A Latin hypercube needs it; a full factorial of more than 200 has to "
             "say it too, so that nobody asks for a million by a slip.")
           .at(member(&SweepSpec::bags))
           .optional("as many as the levels make")
           .limits("1", "1000000"),
       Build("seed", KeyType::kInteger, "Start of the draw; the same seed, the same bags.")
           .at(member(&SweepSpec::seed))
           .defaults("1", kOurs)
           .limits("0", "4000000000"),
       Build("across", KeyType::kText,
             "Figure that the picture has from left to right. Where all bags have the same, the "
             "first factor stands there.")
           .at(member(&SweepSpec::across))
           .pick(figure_keys())
           .defaults("bag_mass_kg", kOurs),
       Build("up", KeyType::kText, "Figure that the picture has from bottom to top.")
           .at(member(&SweepSpec::up))
           .pick(figure_keys())
           .defaults("bottom_sag_m", kOurs)}};
  return table;
}

}  // namespace totebench::scenes::keys
