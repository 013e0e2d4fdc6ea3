#include "app/studies/sweep/bag_text.hpp"

#include <cmath>
#include <nlohmann/json.hpp>

namespace totebench::studies {

using nlohmann::json;

std::string bag_text(const SweptBag& bag) {
  const json list = {bag.at_rest(),           bag.why,       bag.figures, bag.strength_used,
                     bag.strength_used_where, bag.drops_load};
  return list.dump(-1, ' ', false, json::error_handler_t::replace);
}

bool take_bag(const std::string& text, SweptBag& bag) {
  const json list = json::parse(text, nullptr, false);
  if (list.is_discarded()) return false;
  try {
    SweptBag read = bag;
    read.state = list.at(0).get<bool>() ? Swept::kAtRest : Swept::kNoRest;
    list.at(1).get_to(read.why);
    const json& figures = list.at(2);
    if (figures.size() != read.figures.size()) return false;
    for (std::size_t f = 0; f < figures.size(); ++f) {  // null is a number that is not finite
      read.figures[f] = figures[f].is_null() ? std::nan("") : figures[f].get<double>();
    }
    list.at(3).get_to(read.strength_used);
    list.at(4).get_to(read.strength_used_where);
    list.at(5).get_to(read.drops_load);
    bag = std::move(read);
  } catch (const json::exception&) {
    return false;
  }
  return true;
}

}  // namespace totebench::studies
