// totebench draft FILE: a scene to begin with, its lines explained, the sizes asked for.
#include <fmt/format.h>
#include <unistd.h>

#include <CLI/CLI.hpp>
#include <array>
#include <cstdio>
#include <filesystem>
#include <iostream>
#include <memory>
#include <optional>

#include "app/commands/scene_job.hpp"
#include "totebench/scenes/units.hpp"
#include "totebench/viz/atomic_file.hpp"

namespace totebench::app {
namespace {

namespace fs = std::filesystem;

struct Question {
  const char* option;  // --width
  const char* asks;
  scenes::Dimension dimension;
  const char *in_inches, *in_cm;  // what is taken where nothing is said
};
constexpr std::array<Question, 5> kQuestions = {{
    {"--width", "How wide is the finished bag?", scenes::Dimension::kLength, "14 in", "36 cm"},
    {"--height", "How high?", scenes::Dimension::kLength, "13 in", "33 cm"},
    {"--depth", "How deep, from front to back?", scenes::Dimension::kLength, "5 in", "12 cm"},
    {"--handles", "How long is a handle, from panel to panel?", scenes::Dimension::kLength, "24 in",
     "60 cm"},
    {"--load", "What will it carry?", scenes::Dimension::kMass, "12 lb", "6 kg"},
}};
using Answers = std::array<std::string, kQuestions.size()>;

// What is wrong with an answer, with the cure; empty when it will do.
std::string fault_of(const Question& question, const std::string& answer) {
  const scenes::QuantityResult read = scenes::parse_quantity(answer, question.dimension);
  if (!read.quantity) return read.problem + "; " + read.cure;
  return read.quantity->si > 0 ? "" : "it must be more than nothing";
}

// Answers from the terminal, Enter for what is offered. False when the input ends before.
bool ask(const std::string& units, Answers& answers) {
  for (std::size_t i = 0; i < kQuestions.size(); ++i) {
    const Question& question = kQuestions[i];
    const std::string offered = units == "in" ? question.in_inches : question.in_cm;
    while (answers[i].empty()) {
      fmt::print("{} [{}] ", question.asks, offered);
      std::fflush(stdout);
      std::string line;
      if (!std::getline(std::cin, line)) return false;
      answers[i] = line.empty() ? offered : line;
      const std::string fault = fault_of(question, answers[i]);
      if (fault.empty()) continue;
      fmt::print("  {}\n", fault);
      answers[i].clear();
    }
  }
  return true;
}

std::string draft_text(const std::string& name, const std::string& units, const Answers& answers) {
  const bool inch = units == "in";
  const auto size = [&](const char* in_inches, const char* in_cm) {
    return inch ? in_inches : in_cm;
  };
  return fmt::format(
      R"({{
  "schema_version": 1,
  "kind": "tote",
  "name": "{name}",

  // Sizes are those of the finished bag, each with its unit: "14 in", "3/8 in", "36 cm".
  // "totebench explain bag" tells of every key here; so it does for every other part.
  "bag": {{
    "shape": "boxed",           // boxed, gusset, rounded or sack
    "width": "{width}",
    "height": "{height}",
    "depth": "{depth}",
    "hem": "{hem}"              // turned at the opening
  }},

  // From the outside in. "join" says how a layer is held to those before it:
  // "fused", "quilted", "sewn at edges" or "loose". What there is: "totebench materials canvas",
  // "totebench materials stabilizer", "totebench materials fusible".
  "layers": {{
    "upper": [
      {{ "material": "cotton_duck_10oz" }},
      {{ "material": "fusible_woven_light", "join": "fused" }},
      {{ "material": "quilting_cotton", "join": "sewn at edges" }}   // the lining
    ]
  }},

  // Two handles; "length" is from where a handle leaves the panel to where it meets it again.
  "straps": {{
    "style": "two handles",     // or "shoulder strap"
    "material": "web_cotton_38",
    "width": "{strap}",
    "length": "{handles}",
    // "totebench strap-ends" compares the ways to sew them on.
    "attachment": {{ "pattern": "box with cross", "length": "{strap}", "top_offset": "{offset}" }}
  }},

  // A stiff sheet on the bottom; take the whole part out for a bag without one.
  "base": {{ "kind": "in a pocket", "material": "hdpe_sheet", "thickness": "{sheet}" }},

  // Spread evenly over the bottom, and held by a hand.
  "contents": {{ "kind": "even", "mass": "{load}" }},
  "support": {{ "kind": "hand" }}
}}
)",
      fmt::arg("name", name), fmt::arg("width", answers[0]), fmt::arg("height", answers[1]),
      fmt::arg("depth", answers[2]), fmt::arg("handles", answers[3]), fmt::arg("load", answers[4]),
      fmt::arg("hem", size("1 in", "25 mm")), fmt::arg("strap", size("1 1/2 in", "38 mm")),
      fmt::arg("offset", size("1/2 in", "12 mm")), fmt::arg("sheet", size("1/16 in", "2 mm")));
}

int draft(const std::string& file, Answers answers, const Common& common) {
  const fs::path path(file);
  std::error_code error;
  if (fs::exists(path, error)) {
    complain(file + ": error: there is such a file already\n    name another, or move it away");
    return kExitBadInput;
  }
  for (std::size_t i = 0; i < kQuestions.size(); ++i) {
    if (answers[i].empty()) continue;
    if (const std::string fault = fault_of(kQuestions[i], answers[i]); !fault.empty()) {
      complain(fmt::format("{}: error: {}", kQuestions[i].option, fault));
      return kExitBadInput;
    }
  }
  const std::string units = common.units.empty() ? "in" : common.units;
  const bool asking = isatty(STDIN_FILENO) == 1 && isatty(STDOUT_FILENO) == 1 && !common.quiet;
  if (asking && !ask(units, answers)) {
    complain("Nothing was written.");
    return kExitBadInput;
  }
  for (std::size_t i = 0; i < kQuestions.size(); ++i) {
    if (answers[i].empty())
      answers[i] = units == "in" ? kQuestions[i].in_inches : kQuestions[i].in_cm;
  }
  const std::optional<materials::MaterialLibrary> library = load_library();
  if (!library) return kExitBadInput;
  const std::string text = draft_text(path.stem().string(), units, answers);
  // Sizes that are good each by itself need not go together.
  const scenes::ReadResult read = scenes::read_scene_text(text, file, *library);
  if (!read.scene) {
    std::fputs(scenes::to_text(read.diagnostics).c_str(), stderr);
    complain("Nothing was written.");
    return kExitBadInput;
  }
  if (const std::string problem = viz::write_text_atomically(path, text); !problem.empty()) {
    complain(problem);
    return kExitBadInput;
  }
  fmt::print(
      "{0} is a scene to begin with: change a line, then\n"
      "    totebench check {0}      what is wrong with it, and the bag in a sentence\n"
      "    totebench hang {0}       how it hangs\n",
      file);
  return kExitDone;
}

}  // namespace

void add_draft_command(CLI::App& app, Common& common, int& exit_code) {
  CLI::App* command = app.add_subcommand(
      "draft", "Write a scene to begin with, explained line by line, in the sizes you say");
  auto file = std::make_shared<std::string>();
  auto answers = std::make_shared<Answers>();
  command->add_option("FILE", *file, "The scene to write, such as my-bag.json")->required();
  for (std::size_t i = 0; i < kQuestions.size(); ++i) {
    command->add_option(kQuestions[i].option, (*answers)[i],
                        fmt::format("{} (otherwise {}, or {} with --units cm)", kQuestions[i].asks,
                                    kQuestions[i].in_inches, kQuestions[i].in_cm));
  }
  add_common_options(*command, common);
  command->callback(
      [&common, &exit_code, file, answers] { exit_code = draft(*file, *answers, common); });
}

}  // namespace totebench::app
