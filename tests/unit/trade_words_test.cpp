// What people who sew call things, held against the library that is shipped.
#include "totebench/materials/trade_words.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "shipped_library.hpp"

namespace totebench {
namespace {

using Ids = std::vector<std::string>;

Ids called(std::string_view words) { return materials::materials_called(library(), words); }

TEST(TradeWords, FindWhatIsMeant) {
  const Ids canvas = {"cotton_duck_7oz", "cotton_duck_10oz", "cotton_duck_12oz", "cotton_duck_no8"};
  EXPECT_EQ(called("canvas"), canvas);
  EXPECT_EQ(called("Duck"), canvas);
  EXPECT_EQ(called("fusible fleece"), Ids{"batting_needled_cotton"});
  EXPECT_EQ(called("fleece"), Ids{"batting_needled_cotton"});
  const Ids firm = {"stabilizer_nonwoven_1mm", "stabilizer_nonwoven_1p7mm"};
  EXPECT_EQ(called("ultra-firm"), firm);
  EXPECT_EQ(called("ultra firm stabiliser"), firm);
  EXPECT_EQ(called("canvas 10oz"), Ids{"cotton_duck_10oz"});
  EXPECT_EQ(called("hdpe_sheet"), Ids{"hdpe_sheet"});
  EXPECT_EQ(called("plastic canvas"), Ids{"plastic_canvas_mesh"});
}

TEST(TradeWords, AllOfACategory) {
  for (const auto& [word, category] :
       {std::pair("stabiliser", "stabilizer"), std::pair("stabilizers", "stabilizer"),
        std::pair("handles", "strap"), std::pair("interfacings", "interfacing")}) {
    const Ids ids = called(word);
    EXPECT_GE(ids.size(), 3U) << word;
    for (const materials::Material& m : library().materials()) {
      if (m.category != category) continue;
      EXPECT_EQ(std::count(ids.begin(), ids.end(), m.id), 1) << word << ": " << m.id;
    }
  }
  for (const std::string& id : called("webbing")) EXPECT_TRUE(id.starts_with("web_")) << id;
  EXPECT_GE(called("webbing").size(), 8U);
}

TEST(TradeWords, NothingFarOffIsSuggested) {
  for (const char* word : {"unobtanium", "ripstop", "elephant hide", "", "x"}) {
    EXPECT_TRUE(called(word).empty()) << word;
  }
  EXPECT_EQ(library().closest("unobtanium"), "");
  EXPECT_EQ(library().closest("hpde_sheet"), "hdpe_sheet");
  EXPECT_EQ(library().closest("fusible fleece"), "batting_needled_cotton");
}

}  // namespace
}  // namespace totebench
