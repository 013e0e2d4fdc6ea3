// Files that are not even JSON, and texts made to hurt the reader: it must answer, never crash or
// hang.
#include <gtest/gtest.h>

#include <chrono>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "../unit/reader_fixture.hpp"
#include "tests/support/source_folder.hpp"

namespace totebench {
namespace {

using test::library;
using test::read;

const std::filesystem::path kRoot = test::source_folder();

std::string text_of(const std::filesystem::path& file) {
  std::ostringstream text;
  text << std::ifstream(file, std::ios::binary).rdbuf();
  return text.str();
}

// Files of tests/robustness/scenes: places were counted by hand.
struct BadFile {
  const char* file;
  int line;
  int column;
  const char* message;
  const char* cure;
};

class BadSceneFile : public testing::TestWithParam<BadFile> {};

TEST_P(BadSceneFile, TheFirstFaultIsPlacedAndCured) {
  const BadFile& bad = GetParam();
  const scenes::ReadResult result =
      scenes::read_scene(kRoot / "tests/robustness/scenes" / bad.file, library());
  ASSERT_FALSE(result.diagnostics.empty());
  EXPECT_FALSE(result.scene.has_value());
  const scenes::Diagnostic& d = result.diagnostics.front();
  EXPECT_EQ(d.line, bad.line) << scenes::to_text(d);
  EXPECT_EQ(d.column, bad.column) << scenes::to_text(d);
  EXPECT_NE(d.message.find(bad.message), std::string::npos) << scenes::to_text(d);
  EXPECT_NE(d.hint.find(bad.cure), std::string::npos) << scenes::to_text(d);
}

INSTANTIATE_TEST_SUITE_P(
    All, BadSceneFile,
    testing::Values(
        BadFile{"trailing_comma.json", 6, 3, "not valid JSON", "take out the comma"},
        BadFile{"missing_comma.json", 4, 3, "not valid JSON", "a comma is missing before this"},
        BadFile{"comment.json", 2, 3, "not valid JSON", "/* like this */"},
        BadFile{"single_quotes.json", 2, 3, "not valid JSON", "use double quotes"},
        BadFile{"bare_key.json", 2, 3, "not valid JSON", "need double quotes"},
        BadFile{"open_quote.json", 3, 17, "not valid JSON", "a quote is not closed"},
        BadFile{"cut_short.json", 6, 1, "not valid JSON", "ends too early"},
        BadFile{"empty.json", 1, 1, "the file is empty", ""},
        BadFile{"list.json", 1, 1, "should be one object", "begin with"},
        BadFile{"number_too_large.json", 0, 0, "not valid JSON", ""},
        BadFile{"no_kind.json", 1, 1, "lacks the key \"kind\"", "\"tote\" or \"sheet\""},
        BadFile{"no_such_file.json", 0, 0, "no such file", "check the path"},
        BadFile{".", 0, 0, "this is a folder", "name a scene file in it"}));

TEST(HostileScene, DepthIsRefusedBeforeItIsParsed) {
  for (const char bracket : {'[', '{'}) {
    const scenes::ReadResult result = read(std::string(1000000, bracket));
    ASSERT_EQ(result.diagnostics.size(), 1u);
    EXPECT_NE(result.diagnostics[0].message.find("nested deeper than 64"), std::string::npos);
  }
  std::string deep = "{\"schema_version\": ";
  for (int i = 0; i < 100; ++i) deep += "{\"a\":";
  EXPECT_FALSE(read(deep).scene.has_value());
}

TEST(HostileScene, SizeIsRefused) {
  const scenes::ReadResult result = read("{ \"name\": \"" + std::string(2 << 20, 'x') + "\" }");
  ASSERT_EQ(result.diagnostics.size(), 1u);
  EXPECT_NE(result.diagnostics[0].message.find("larger than 1 MiB"), std::string::npos);
}

TEST(HostileScene, AnEndlessDeviceIsRefused) {
  if (!std::filesystem::exists("/dev/zero")) GTEST_SKIP();
  EXPECT_FALSE(scenes::read_scene("/dev/zero", library()).scene.has_value());
}

TEST(HostileScene, AHundredThousandFaultsAreAnsweredBriefly) {
  std::string text = "{";
  for (int i = 0; i < 60000; ++i) text += "\"k" + std::to_string(i) + "\":1,";
  text += "\"kind\":\"tote\"}";
  const scenes::ReadResult result = read(text);
  EXPECT_FALSE(result.scene.has_value());
  EXPECT_LE(result.diagnostics.size(), 101u);
  EXPECT_NE(result.diagnostics.back().message.find("more errors"), std::string::npos);
}

// Warnings fill the list; the error behind them must not be forgotten.
TEST(HostileScene, AnErrorBehindManyWarningsStillCounts) {
  std::string layers;
  for (int i = 0; i < 150; ++i) {
    layers += ", { \"material\": \"buckram\", \"join\": \"fused\", \"thickness\": \"20 mm\" }";
  }
  std::string text = test::changed(test::kTote, "\"fused\" }", "\"fused\" }" + layers);
  EXPECT_TRUE(read(text).scene.has_value());
  text = test::changed(text, "\"8 kg\"", "8");
  const scenes::ReadResult result = read(text);
  EXPECT_FALSE(result.scene.has_value());
  EXPECT_TRUE(scenes::has_errors(result.diagnostics));
}

TEST(HostileScene, LongNamesAreCutInMessages) {
  const std::string name(200000, 'n');
  const scenes::ReadResult result =
      read("{ \"" + name + "\": 1, \"kind\": \"" + name + "\", \"materials\": { \"" + name +
           "\": { \"like\": \"" + name + "\" } } }");
  for (const scenes::Diagnostic& d : result.diagnostics)
    EXPECT_LT(scenes::to_text(d).size(), 5000u);
}

TEST(HostileScene, BytesThatAreNotUtf8) {
  EXPECT_FALSE(read("{ \"name\": \"\xff\xfe\" }").scene.has_value());
  EXPECT_FALSE(read(std::string("\0\0\0\0", 4)).scene.has_value());
}

// Cutting a multi-byte text for a message must not spoil the JSON made of it.
TEST(HostileScene, DiagnosticsAreAlwaysValidJson) {
  std::string umlauts;
  for (int i = 0; i < 50; ++i) umlauts += "\u00fc";
  const scenes::ReadResult result =
      read("{ \"x" + umlauts + "\": 1, \"kind\": \"x" + umlauts + "\" }");
  EXPECT_NO_THROW((void)scenes::to_json(result.diagnostics));
}

std::vector<std::string> example_texts() {
  std::vector<std::string> texts;
  for (const auto& entry : std::filesystem::directory_iterator(kRoot / "scenes/examples")) {
    if (entry.path().extension() == ".json") texts.push_back(text_of(entry.path()));
  }
  return texts;
}

// A scene is given exactly when nothing is an error, whatever the text.
void expect_answer(const std::string& text) {
  const scenes::ReadResult result = read(text);
  ASSERT_EQ(result.scene.has_value(), !scenes::has_errors(result.diagnostics));
  for (const scenes::Diagnostic& d : result.diagnostics) {
    ASSERT_FALSE(d.message.empty());
    ASSERT_GE(d.line, 0);
  }
}

TEST(MutatedScene, CutAnywhereItIsAnError) {
  for (const std::string& text : example_texts()) {
    const std::size_t whole = text.find_last_of('}');
    for (std::size_t n = 0; n < whole; n += 7) {
      const scenes::ReadResult result = read(text.substr(0, n));
      ASSERT_FALSE(result.scene.has_value()) << n;
      ASSERT_FALSE(result.diagnostics.empty()) << n;
    }
  }
}

// Park and Miller's minimal standard generator: the same texts on every machine.
class Dice {
 public:
  std::size_t below(std::size_t n) {
    state_ = state_ * 48271 % 2147483647;
    return static_cast<std::size_t>(state_) % n;
  }

 private:
  unsigned long long state_ = 20240229;
};

TEST(MutatedScene, BytesChangedTakenOutAndPutInAtRandom) {
  const std::string bytes = "{}[]:,\"\\/ 0159.-+eE\n\t\xc3\x9f\x00trufalsn";
  Dice dice;
  for (const std::string& original : example_texts()) {
    for (int round = 0; round < 150; ++round) {
      std::string text = original;
      const std::size_t changes = 1 + dice.below(4);
      for (std::size_t i = 0; i < changes && !text.empty(); ++i) {
        const std::size_t at = dice.below(text.size());
        switch (dice.below(4)) {
          case 0:
            text[at] = bytes[dice.below(bytes.size())];
            break;
          case 1:
            text.erase(at, 1 + dice.below(12));
            break;
          case 2:
            text.insert(at, 1, bytes[dice.below(bytes.size())]);
            break;
          default:
            text.insert(at, text.substr(dice.below(text.size()), 1 + dice.below(30)));
            break;
        }
      }
      expect_answer(text);
    }
  }
}

// Still valid JSON, but every value in turn is replaced by one of another type or size.
TEST(MutatedScene, ValuesOfTheWrongKind) {
  const std::vector<std::string> strange = {
      "null", "true", "[]", "{}", "-1e308", "\"\"", "\"1e308 in\"", "[[[1]]]", "{\"\": {}}"};
  for (const std::string& original : example_texts()) {
    std::size_t at = 0;
    std::size_t turn = 0;
    while ((at = original.find(": ", at)) != std::string::npos) {
      at += 2;
      if (original[at] == '{' || original[at] == '[') continue;
      const std::size_t end = original.find_first_of(",\n}", at);
      const std::string& value = strange[turn++ % strange.size()];
      expect_answer(original.substr(0, at) + value + original.substr(end));
    }
  }
}

}  // namespace
}  // namespace totebench
