#include "app/studies/rate/change_text.hpp"

#include <nlohmann/json.hpp>

namespace totebench::studies {
namespace {

using nlohmann::json;

json use_json(const scenes::Utilisation& u) {
  return {u.mode,  u.what,   u.demand, u.capacity,   u.unit,
          u.ratio, u.source, u.grade,  u.drops_load, u.triangle};
}

scenes::Utilisation use_of(const json& list) {
  scenes::Utilisation u;
  list.at(0).get_to(u.mode);
  list.at(1).get_to(u.what);
  list.at(2).get_to(u.demand);
  list.at(3).get_to(u.capacity);
  list.at(4).get_to(u.unit);
  list.at(5).get_to(u.ratio);
  list.at(6).get_to(u.source);
  list.at(7).get_to(u.grade);
  list.at(8).get_to(u.drops_load);
  list.at(9).get_to(u.triangle);
  return u;
}

json failure_json(const FirstFailure& f) {
  return {f.found,   f.load_factor, use_json(f.governing), f.why_not, use_json(f.nearest),
          f.at_jump, f.at_limit};
}

FirstFailure failure_of(const json& list) {
  FirstFailure f;
  list.at(0).get_to(f.found);
  list.at(1).get_to(f.load_factor);
  f.governing = use_of(list.at(2));
  list.at(3).get_to(f.why_not);
  f.nearest = use_of(list.at(4));
  list.at(5).get_to(f.at_jump);
  list.at(6).get_to(f.at_limit);
  return f;
}

}  // namespace

std::string change_text(const Change& change) {
  const json list = {change.solved, change.why_not, failure_json(change.drops),
                     failure_json(change.spoilt)};
  return list.dump(-1, ' ', false, json::error_handler_t::replace);
}

bool take_change(const std::string& text, Change& change) {
  const json list = json::parse(text, nullptr, false);
  if (list.is_discarded()) return false;
  try {
    Change read = change;
    list.at(0).get_to(read.solved);
    list.at(1).get_to(read.why_not);
    read.drops = failure_of(list.at(2));
    read.spoilt = failure_of(list.at(3));
    change = std::move(read);
  } catch (const json::exception&) {
    return false;
  }
  return true;
}

}  // namespace totebench::studies
