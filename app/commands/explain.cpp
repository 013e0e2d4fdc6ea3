// totebench explain: what a key of the scene file means, its unit, default and source.
#include "totebench/scenes/explain.hpp"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <cstdio>
#include <memory>

#include "app/commands/common.hpp"
#include "app/present/fields/schemas.hpp"
#include "totebench/scenes/schema.hpp"

namespace totebench::app {
namespace {

// Of scene files where no result is named.
int print_schema(const std::string& result) {
  if (result.empty()) {
    std::fputs(scenes::scene_schema_json().c_str(), stdout);
    return kExitDone;
  }
  std::string known;
  for (const ResultSchema& schema : kResultSchemas) {
    if (schema.name == result) {
      std::fputs(schema.text().c_str(), stdout);
      return kExitDone;
    }
    known += (known.empty() ? "" : ", ") + std::string(schema.name);
  }
  fmt::print(stderr, "totebench explain: there is no result \"{}\"; the results are: {}\n", result,
             known);
  return kExitBadInput;
}

int run_explain(const std::string& key, bool schema, const Common& common) {
  if (schema) return print_schema(key);
  const scenes::Explanation told = scenes::explain(key);
  if (!told.found) {
    fmt::print(stderr, "totebench explain: {}", told.text);
    return kExitBadInput;
  }
  std::fputs((common.json ? scenes::explain_json(key) : told.text).c_str(), stdout);
  return kExitDone;
}

}  // namespace

void add_explain_command(CLI::App& app, Common& common, int& exit_code) {
  CLI::App* command = app.add_subcommand(
      "explain", "What a key of the scene file means: unit, default, range, source");
  const auto key = std::make_shared<std::string>();
  const auto schema = std::make_shared<bool>(false);
  command->add_option("key", *key, "Key such as bag.width; left out: every key");
  command->add_flag("--schema", *schema,
                    "Print the JSON Schema of scene files, or of the result named as KEY "
                    "(findings, rating, ...)");
  add_common_options(*command, common);
  command->callback(
      [key, schema, &common, &exit_code] { exit_code = run_explain(*key, *schema, common); });
}

}  // namespace totebench::app
