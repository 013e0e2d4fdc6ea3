// Single values of a scene text: quantities, numbers, names, and what may be wrong with each.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>

#include "scenes/format/value_reader.hpp"
#include "totebench/scenes/figure.hpp"
#include "totebench/scenes/nearest.hpp"

namespace totebench::scenes {
namespace {

using nlohmann::json;

constexpr double kMissing = std::numeric_limits<double>::quiet_NaN();
constexpr std::size_t kLongestText = 4000;
constexpr std::size_t kLongestName = 80;

std::string found_text(const json& value) {
  switch (value.type()) {
    case json::value_t::null:
      return "null";
    case json::value_t::boolean:
      return value.get<bool>() ? "true" : "false";
    case json::value_t::string:
      return fmt::format("\"{}\"", value.get<std::string>().substr(0, 40));
    case json::value_t::array:
      return "a list";
    case json::value_t::object:
      return "an object";
    default:
      return value.dump();
  }
}

// The same figure in the units in which it would be usual: "15 in" or "15 cm" for 15 (m).
std::string usual_readings(double number, const Key& key, std::string_view except) {
  if (key.plausible.text.empty()) return "";
  std::string out;
  std::vector<double> told = {to_si(1, except, key.dimension).value_or(0)};
  std::size_t n = 0;
  for (const Unit& unit : units_of(key.dimension)) {
    const double one = unit.numerator / unit.denominator;
    const bool again = std::count(told.begin(), told.end(), one) > 0;  // another spelling
    if (again || !key.plausible.contains(number * one) || n == 2) continue;
    told.push_back(one);
    out += fmt::format("{}\"{} {}\"", n == 0 ? "" : " or ", number, unit.name);
    ++n;
  }
  return out;
}

// The first sign of the text that is not seen but turns text around (Unicode's marks and overrides
// of direction, UAX 9) or is a control code other than a line's end or tab, as "U+202E"; else
// empty.
std::string hidden_sign(const std::string& text) {
  for (std::size_t i = 0; i < text.size(); ++i) {
    const auto byte = [&](std::size_t k) {
      return i + k < text.size() ? static_cast<unsigned char>(text[i + k]) : 0u;
    };
    unsigned sign = byte(0);
    if (sign >> 5 == 6) {
      sign = (sign & 31) << 6 | (byte(1) & 63);
    } else if (sign >> 4 == 14) {
      sign = (sign & 15) << 12 | (byte(1) & 63) << 6 | (byte(2) & 63);
    } else if (sign > 127) {
      continue;  // of a sign that is seen, or within one that was looked at
    }
    const bool control = (sign < 32 && sign != '\n' && sign != '\t') || (sign >= 127 && sign < 160);
    const bool turns = sign == 0x61c || sign == 0x200e || sign == 0x200f ||
                       (sign >= 0x202a && sign <= 0x202e) || (sign >= 0x2066 && sign <= 0x2069);
    if (control || turns) return fmt::format("U+{:04X}", sign);
  }
  return "";
}

}  // namespace

std::string expected_text(const Key& key) {
  switch (key.type) {
    case KeyType::kQuantity:
      return fmt::format("{} with its unit, such as {}", dimension_name(key.dimension),
                         unit_examples(key.dimension));
    case KeyType::kReadings:
      return fmt::format("{} with its unit, such as {}, or a list of them",
                         dimension_name(key.dimension), unit_examples(key.dimension));
    case KeyType::kNumber:
      return "a plain number";
    case KeyType::kInteger:
      return "a whole number without quotes";
    case KeyType::kBoolean:
      return "true or false, without quotes";
    case KeyType::kText:
      return "text in quotes";
    case KeyType::kChoice:
      return "one of its names in quotes";
    case KeyType::kMaterial:
      return "the id of a material in quotes";
    case KeyType::kThread:
      return "the id of a thread in quotes";
    case KeyType::kStitch:
      return "an ISO 4915 number in quotes, such as \"301\"";
    case KeyType::kVector:
      return fmt::format("three texts [x, y, z], each {} such as {}", dimension_name(key.dimension),
                         unit_examples(key.dimension));
    case KeyType::kAxes:
      return "axes in quotes, such as \"xyz\" or \"z\"";
    case KeyType::kProperty:
      return key.dimension == Dimension::kNone
                 ? "a plain number, or {\"value\": ..., \"low\": ..., \"high\": ...}"
                 : fmt::format(
                       "{} with its unit, such as {}, or {{\"value\": ..., \"low\": ..., "
                       "\"high\": ...}}",
                       dimension_name(key.dimension), unit_examples(key.dimension));
    case KeyType::kObject:
    case KeyType::kNamed:
    case KeyType::kExpect:
    case KeyType::kPatch:
      return "an object in curly braces";
    case KeyType::kList:
      return "a list in square brackets";
    case KeyType::kValue:
      return "a value as that key takes it";
    case KeyType::kValues:
      return "a list in square brackets of values as that key takes them";
  }
  return "";
}

void ValueReader::wrong_type(const json& value, const Key& key, const std::string& pointer,
                             const std::string& hint) {
  std::string cure = hint;
  if (cure.empty() && value.is_string()) {
    const auto text = value.get<std::string>();
    const json inner = json::parse(text.substr(0, 40), nullptr, false);
    if (inner.is_number() || inner.is_boolean()) {
      cure = fmt::format("take the quotes off: {}", inner.dump());
    }
  }
  if (cure.empty() && key.type == KeyType::kChoice && !key.choices.empty()) {
    cure = fmt::format("for example \"{}\"", key.choices.front());
  }
  if (cure.empty()) cure = fmt::format("see totebench explain {}", key.name);
  report_.error(
      pointer,
      fmt::format("\"{}\" should be {}, not {}", key.name, expected_text(key), found_text(value)),
      cure);
}

void ValueReader::check_range(double si, const Key& key, const std::string& pointer,
                              const std::string& written, const std::string& unit, double number) {
  const auto bounds = [&](const Range& range) {
    if (key.dimension == Dimension::kNone) return range.text;
    return fmt::format("{} to {}", quantity_in(range.low, unit, key.dimension),
                       quantity_in(range.high, unit, key.dimension));
  };
  const std::string slip = usual_readings(number, key, unit);
  const bool low = si < key.possible.low && !key.too_low.empty();
  const std::string cure =
      low            ? key.too_low
      : slip.empty() ? fmt::format("see totebench explain {}", key.name)
                     : fmt::format("was the unit meant to be another? {} would be usual", slip);
  if (!key.possible.contains(si)) {
    report_.error(pointer,
                  fmt::format("{} = {} is outside what is possible here, {}", key.name, written,
                              bounds(key.possible)),
                  cure);
  } else if (!key.plausible.contains(si)) {
    report_.warning(
        pointer,
        fmt::format("{} = {} is outside the usual {}", key.name, written, bounds(key.plausible)),
        slip.empty() ? "leave it if it is meant" : cure);
  }
}

double ValueReader::take_quantity(const json& value, const Key& key, const std::string& pointer) {
  if (value.is_number()) {
    std::string readings = usual_readings(value.get<double>(), key, "");
    if (readings.empty()) {
      int n = 0;
      for (const Unit& unit : units_of(key.dimension)) {
        if (++n > 2) break;
        readings += fmt::format("{}\"{} {}\"", n == 1 ? "" : " or ", value.dump(), unit.name);
      }
    }
    report_.error(pointer,
                  fmt::format("{} = {} has no unit: {} is meant here", key.name, value.dump(),
                              dimension_name(key.dimension)),
                  fmt::format("write {}", readings));
    return kMissing;
  }
  if (!value.is_string()) {
    wrong_type(value, key, pointer);
    return kMissing;
  }
  const auto text = value.get<std::string>();
  const QuantityResult parsed = parse_quantity(text, key.dimension);
  if (!parsed.quantity) {
    report_.error(pointer, fmt::format("{}: {}", key.name, parsed.problem), parsed.cure);
    return kMissing;
  }
  check_range(parsed.quantity->si, key, pointer, fmt::format("\"{}\"", text.substr(0, 40)),
              parsed.quantity->unit, parsed.quantity->number);
  return parsed.quantity->si;
}

void ValueReader::take_readings(const json& value, const Key& key, const std::string& pointer,
                                const Slot& slot) {
  auto& readings = *std::get<std::vector<double>*>(slot);
  if (!value.is_array()) {
    readings.push_back(take_quantity(value, key, pointer));
    return;
  }
  if (value.empty()) {
    report_.error(pointer, fmt::format("\"{}\" is empty", key.name), "give at least one reading");
  }
  for (std::size_t i = 0; i < value.size(); ++i) {
    readings.push_back(take_quantity(value[i], key, pointer + "/" + std::to_string(i)));
  }
}

double ValueReader::take_number(const json& value, const Key& key, const std::string& pointer) {
  if (!value.is_number()) {
    wrong_type(value, key, pointer);
    return kMissing;
  }
  const auto number = value.get<double>();
  check_range(number, key, pointer, value.dump(), "", number);
  return number;
}

void ValueReader::take_integer(const json& value, const Key& key, const std::string& pointer,
                               const Slot& slot) {
  if (!value.is_number_integer()) return wrong_type(value, key, pointer);
  const auto number = value.get<double>();  // huge whole numbers fail the range check below
  check_range(number, key, pointer, value.dump(), "", number);
  if (!key.possible.contains(number)) return;
  if (auto* const* target = std::get_if<int*>(&slot)) **target = static_cast<int>(number);
  if (auto* const* target = std::get_if<unsigned*>(&slot)) **target = static_cast<unsigned>(number);
}

// The scene's name becomes a folder name.
void ValueReader::check_name(const std::string& text, const Key& key, const std::string& pointer) {
  const bool bad_sign = std::any_of(text.begin(), text.end(), [](char c) {
    return static_cast<unsigned char>(c) < 32 || c == '/' || c == '\\' || c == ':';
  });
  if (text.empty() || text.size() > kLongestName || text.front() == '.' || bad_sign) {
    report_.error(pointer, fmt::format("\"{}\" cannot serve as a {}", text.substr(0, 40), key.name),
                  fmt::format("use 1 to {} characters, no slash, backslash or colon, and no dot in "
                              "front",
                              kLongestName));
  }
}

void ValueReader::take_text(const json& value, const Key& key, const std::string& pointer,
                            const Slot& slot) {
  if (!value.is_string()) {
    std::string hint;
    if (value.is_number()) hint = fmt::format("put it in quotes: \"{}\"", value.dump());
    return wrong_type(value, key, pointer, hint);
  }
  const auto text = value.get<std::string>();
  if (text.size() > kLongestText) {
    report_.error(pointer,
                  fmt::format("\"{}\" is longer than {} characters", key.name, kLongestText),
                  "shorten it");
    return;
  }
  if (const std::string sign = hidden_sign(text); key.type == KeyType::kText && !sign.empty()) {
    report_.error(
        pointer,
        fmt::format("\"{}\" holds {}, a sign that is not seen and can turn the text around",
                    key.name, sign),
        "write it anew without that sign");
    return;
  }
  const auto unknown = [&](const char* what, const std::string& meant, const char* list) {
    report_.error(pointer, fmt::format("unknown {} \"{}\"", what, text.substr(0, 60)),
                  meant.empty() ? fmt::format("{} lists them", list)
                                : fmt::format("did you mean \"{}\"?", meant));
  };
  // The library's own guess knows plain names too; what is no name at all is not looked up.
  const auto near = [&](const std::vector<std::string>& ids, const auto& guess) {
    const std::string id = nearest(text, ids);
    return id.empty() && text.size() <= kLongestName ? guess() : id;
  };
  if (key.type == KeyType::kMaterial) {
    const bool own = std::count(own_ids_.begin(), own_ids_.end(), text) > 0;
    if (!own && library_.find(text) == nullptr) {
      std::vector<std::string> ids = own_ids_;
      for (const std::string& id : library_.ids()) ids.push_back(id);
      unknown("material", near(ids, [&] { return library_.closest(text); }), "totebench materials");
    }
  } else if (key.type == KeyType::kThread && library_.find_thread(text) == nullptr) {
    unknown("thread", near(library_.thread_ids(), [&] { return library_.closest_thread(text); }),
            "totebench materials");
  } else if (key.type == KeyType::kStitch && library_.find_stitch(text) == nullptr) {
    unknown("stitch type",
            near(library_.stitch_ids(), [&] { return library_.closest_stitch(text); }),
            "totebench materials");
  } else if (key.type == KeyType::kText && !key.choices.empty() &&
             std::count(key.choices.begin(), key.choices.end(), text) == 0) {
    unknown(key.name.c_str(), nearest(text, key.choices), "totebench explain");
  } else if (key.name == "name" && !key.label) {
    check_name(text, key, pointer);
  } else if (key.name == "file" && text.empty()) {
    report_.error(pointer, "no file is named", "write its path, relative to the scene file");
  }
  if (auto* const* target = std::get_if<std::string*>(&slot)) **target = text;
}

void ValueReader::take_vector(const json& value, const Key& key, const std::string& pointer,
                              const Slot& slot) {
  if (!value.is_array() || value.size() != 3) {
    const std::string unit(si_unit(key.dimension));
    return wrong_type(value, key, pointer,
                      fmt::format("write [\"0 {0}\", \"0 {0}\", \"1 {0}\"]", unit));
  }
  Eigen::Vector3d vector;
  for (int i = 0; i < 3; ++i) {
    vector[i] =
        take_quantity(value[static_cast<std::size_t>(i)], key, pointer + "/" + std::to_string(i));
  }
  if (auto* const* target = std::get_if<Eigen::Vector3d*>(&slot)) **target = vector;
  if (auto* const* target = std::get_if<std::optional<Eigen::Vector3d>*>(&slot)) **target = vector;
}

void ValueReader::take_axes(const json& value, const Key& key, const std::string& pointer,
                            const Slot& slot) {
  if (!value.is_string()) return wrong_type(value, key, pointer);
  const auto text = value.get<std::string>();
  if (text.find_first_not_of("xyz") != std::string::npos || text.size() > 3) {
    return wrong_type(value, key, pointer, "use only the letters x, y and z");
  }
  bool* axes = std::get<AxesSlot>(slot).axes;
  for (int i = 0; i < 3; ++i) axes[i] = text.find("xyz"[i]) != std::string::npos;
}

void ValueReader::take_expect(const json& value, const std::string& pointer, const Slot& slot) {
  auto& expectations = *std::get<std::vector<Expectation>*>(slot);
  if (!value.is_object()) {
    report_.error(pointer, "\"expect\" should be an object in curly braces",
                  "write {\"bottom_sag\": [\"5 mm\", \"20 mm\"]}");
    return;
  }
  std::vector<std::string> names;
  for (const Figure& figure : kFigures) {
    if (figure.expect_key != nullptr) names.emplace_back(figure.expect_key);
  }
  for (const auto& item : value.items()) {
    const std::string here = child_pointer(pointer, item.key());
    Key key;
    key.name = item.key().substr(0, 60);
    key.type = KeyType::kQuantity;
    key.dimension = Dimension::kLength;
    Expectation expectation;
    const Figure* known = expected_figure(item.key());
    const auto dot = item.key().rfind('.');
    const bool probe = dot != std::string::npos && dot > 0 && dot + 2 == item.key().size() &&
                       std::string("xyz").find(item.key()[dot + 1]) != std::string::npos;
    if (known != nullptr) {
      expectation.key = known->key;
      key.dimension = known->dimension;
    } else if (probe) {
      expectation.key = fmt::format("probes.{}.displacement_{}_m", item.key().substr(0, dot),
                                    item.key()[dot + 1]);
    } else {
      const std::string near = nearest(item.key(), names);
      report_.error_at_key(here, fmt::format("unknown result \"{}\"", key.name),
                           near.empty() ? "totebench explain expect lists them; a probe is written "
                                          "with an axis, as in \"tip.z\""
                                        : fmt::format("did you mean \"{}\"?", near));
      continue;
    }
    const json& bounds = item.value();
    if (!bounds.is_array() || bounds.size() != 2) {
      report_.error(here, fmt::format("{} should be a lowest and a highest value", key.name),
                    "write [\"5 mm\", \"20 mm\"]");
      continue;
    }
    expectation.low = take_quantity(bounds[0], key, here + "/0");
    expectation.high = take_quantity(bounds[1], key, here + "/1");
    if (expectation.low > expectation.high) {
      report_.error(here, fmt::format("{}: the lowest value is above the highest", key.name),
                    "swap the two");
    }
    expectations.push_back(expectation);
  }
}

}  // namespace totebench::scenes
