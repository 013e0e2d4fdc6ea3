#include "totebench/materials/trade_words.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <sstream>

namespace totebench::materials {
namespace {

// What a word stands for: ids, beginnings of ids (with *) or a category (with a colon in front).
// Common usage in sewing (common practice, no source).
struct TradeWord {
  std::string_view word, means;
};

constexpr auto kTradeWords = std::to_array<TradeWord>({
    {"canvas", "cotton_duck_*"},
    {"duck", "cotton_duck_*"},
    {"drill", "cotton_twill_8oz"},
    {"chino", "cotton_twill_8oz"},
    {"jean", "denim_*"},
    {"patchwork cotton", "quilting_cotton"},
    {"calico", "osnaburg_spec quilting_cotton"},
    {"muslin", "osnaburg_spec quilting_cotton"},
    {"lining", "lining_polyester_taffeta quilting_cotton"},
    {"microsuede", "faux_suede"},
    {"quilted", "quilted_cotton_batting"},
    {"interfacing", ":interfacing"},
    {"fusible", ":interfacing"},
    {"iron on", ":interfacing"},
    {"stabilizer", ":stabilizer"},
    {"stabiliser", ":stabilizer"},
    {"sew in", "stabilizer_nonwoven_* stabilizer_foam_4mm buckram"},
    {"ultra firm", "stabilizer_nonwoven_1p7mm stabilizer_nonwoven_1mm"},
    {"extra firm", "stabilizer_nonwoven_1p7mm stabilizer_nonwoven_1mm"},
    {"firm", "stabilizer_nonwoven_* buckram"},
    {"stiff", "stabilizer_nonwoven_* buckram"},
    {"fleece", "batting_needled_cotton"},
    {"fusible fleece", "batting_needled_cotton"},
    {"wadding", "batting_needled_cotton"},
    {"batting", "batting_needled_cotton quilted_cotton_batting"},
    {"foam", "stabilizer_foam_4mm foam_polyethylene"},
    {"base", ":base"},
    {"bottom", ":base"},
    {"base board", "chipboard_2mm hardboard_3mm hdpe_sheet pp_sheet"},
    {"cardboard", "chipboard_2mm"},
    {"card", "chipboard_2mm"},
    {"board", "chipboard_2mm hardboard_3mm"},
    {"plastic", "hdpe_sheet pp_sheet petg_sheet pvc_rigid_sheet plastic_canvas_mesh"},
    {"plastic canvas", "plastic_canvas_mesh"},
    {"polypropylene", "pp_sheet web_pp_*"},
    {"polyethylene", "hdpe_sheet foam_polyethylene"},
    {"webbing", "web_*"},
    {"strap", ":strap"},
    {"strapping", "web_*"},
    {"handle", ":strap"},
    {"belting", "web_*"},
    {"thread", ":thread"},
});

std::string plain_words(std::string_view text) {
  std::string out;
  for (const char c : text) {
    const auto u = static_cast<unsigned char>(c);
    if (std::isalnum(u) != 0) {
      out += static_cast<char>(std::tolower(u));
    } else if (!out.empty() && out.back() != ' ') {
      out += ' ';
    }
  }
  while (!out.empty() && out.back() == ' ') out.pop_back();
  return out;
}

// "strap" of "straps"; short words and "canvas" keep their s.
std::string singular(const std::string& word) {
  const bool plural = word.size() > 3 && word.ends_with("s") && !word.ends_with("ss") &&
                      !word.ends_with("us") && word != "canvas";
  return plural ? word.substr(0, word.size() - 1) : word;
}

struct Named {
  std::string id, text, category;  // text: id and name, plain
};

std::vector<Named> named_of(const MaterialLibrary& library) {
  std::vector<Named> list;
  for (const Material& m : library.materials()) {
    list.push_back({m.id, plain_words(m.id + " " + m.name + " " + m.category), m.category});
  }
  for (const Thread& t : library.threads()) {
    list.push_back({t.id, plain_words(t.id + " " + t.name), "thread"});
  }
  return list;
}

bool stands_for(std::string_view means, const Named& named) {
  std::istringstream parts{std::string(means)};
  for (std::string part; parts >> part;) {
    if (part.front() == ':' ? part.substr(1) == named.category
        : part.back() == '*'
            ? named.id.starts_with(std::string_view(part).substr(0, part.size() - 1))
            : part == named.id) {
      return true;
    }
  }
  return false;
}

const TradeWord* trade_word(std::string_view word) {
  const auto* const found =
      std::find_if(kTradeWords.begin(), kTradeWords.end(),
                   [&](const TradeWord& known) { return known.word == word; });
  return found == kTradeWords.end() ? nullptr : &*found;
}

// The words of a query; two that the trade says as one stay together.
std::vector<std::string> queries_of(std::string_view words) {
  std::vector<std::string> single;
  std::istringstream parts(plain_words(words));
  for (std::string part; parts >> part;) single.push_back(singular(part));
  std::vector<std::string> out;
  for (std::size_t i = 0; i < single.size(); ++i) {
    if (i + 1 < single.size() && trade_word(single[i] + " " + single[i + 1]) != nullptr) {
      out.push_back(single[i] + " " + single[i + 1]);
      ++i;
    } else {
      out.push_back(single[i]);
    }
  }
  return out;
}

}  // namespace

std::vector<std::string> materials_called(const MaterialLibrary& library, std::string_view words) {
  const std::vector<std::string> queries = queries_of(words);
  std::vector<std::string> ids;
  if (queries.empty()) return ids;
  const std::string whole = plain_words(words);
  for (const Named& named : named_of(library)) {
    if (plain_words(named.id) == whole) return {named.id};
    const bool all = std::all_of(queries.begin(), queries.end(), [&](const std::string& query) {
      // A word of the trade stands for certain things and not for any other that contains it.
      if (const TradeWord* known = trade_word(query)) return stands_for(known->means, named);
      return query.size() > 1 && named.text.find(query) != std::string::npos;
    });
    if (all) ids.push_back(named.id);
  }
  return ids;
}

}  // namespace totebench::materials
