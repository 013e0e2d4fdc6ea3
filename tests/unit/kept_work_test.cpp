// Kept work: pieces that are found, left to others and come back to, and the file that keeps them
// for several processes, however these end.
#include "totebench/studies/kept_work.hpp"

#include <gtest/gtest.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <atomic>
#include <filesystem>
#include <fstream>
#include <map>
#include <mutex>
#include <sstream>

#include "app/commands/kept_file.hpp"

namespace totebench {
namespace {

namespace fs = std::filesystem;
using app::KeptFile;

// Squares of numbers, in a store of which `busy` keys are another's for some rounds.
struct Squares {
  std::map<std::string, std::string> store, seen;  // all that was kept; as read at last
  std::map<std::string, int> busy;                 // rounds until the other is done, or gone
  bool other_ends = true;                          // else it is gone without a result
  std::vector<int> found = std::vector<int>(6, -1);
  std::atomic<int> worked{0};
  int waits = 0;
  std::mutex guard;

  studies::KeptWork kept() {
    studies::KeptWork work;
    work.on_find = [this](const std::string& key) -> std::optional<std::string> {
      const std::lock_guard<std::mutex> lock(guard);
      const auto it = seen.find(key);
      return it == seen.end() ? std::nullopt : std::optional(it->second);
    };
    work.on_keep = [this](const std::string& key, const std::string& text) {
      const std::lock_guard<std::mutex> lock(guard);
      store[key] = text;
    };
    work.on_take = [this](const std::string& key) -> std::shared_ptr<void> {
      const std::lock_guard<std::mutex> lock(guard);
      if (busy[key] > 0) return nullptr;
      seen = store;
      return std::make_shared<int>(0);
    };
    work.on_wait = [this] {
      ++waits;
      for (auto& [key, rounds] : busy) {
        if (rounds > 0 && --rounds == 0 && other_ends) {
          store[key] = std::to_string(std::stoi(key) * std::stoi(key));
        }
      }
    };
    return work;
  }

  void run(const studies::KeptWork& kept, bool in_turn = false) {
    studies::Pieces pieces;
    pieces.count = static_cast<int>(found.size());
    pieces.in_turn = in_turn;
    pieces.key = [](int i) { return std::to_string(i); };
    pieces.take_over = [this](int i, const std::string& text) {
      if (text == "unreadable") return false;
      found[static_cast<std::size_t>(i)] = std::stoi(text);
      return true;
    };
    pieces.work_out = [this](int i) -> std::optional<std::string> {
      ++worked;
      found[static_cast<std::size_t>(i)] = i * i;
      return std::to_string(i * i);
    };
    studies::do_pieces(kept, pieces, [] { return true; });
  }
};

const std::vector<int> kSquares = {0, 1, 4, 9, 16, 25};

TEST(Pieces, AreWorkedOutOnceAndFoundAfterwards) {
  Squares squares;
  squares.run(squares.kept());
  EXPECT_EQ(squares.found, kSquares);
  EXPECT_EQ(squares.worked, 6);
  squares.found.assign(6, -1);
  squares.store["4"] = "unreadable";
  squares.seen = squares.store;
  squares.run(squares.kept());
  EXPECT_EQ(squares.found, kSquares);
  EXPECT_EQ(squares.worked, 7) << "what cannot be read is worked out anew, and nothing else";
  EXPECT_EQ(squares.store["4"], "16");
  squares.found.assign(6, -1);
  squares.run({});
  EXPECT_EQ(squares.found, kSquares) << "where nothing is kept";
}

TEST(Pieces, OfAnotherProcessAreWaitedForAndTakenOver) {
  for (const bool in_turn : {false, true}) {
    Squares squares;
    squares.busy = {{"0", 3}, {"5", 1}};
    squares.run(squares.kept(), in_turn);
    EXPECT_EQ(squares.found, kSquares);
    EXPECT_EQ(squares.worked, 4) << "the others' pieces were worked out a second time";
    EXPECT_EQ(squares.waits, 3);
  }
}

TEST(Pieces, OfAProcessThatIsGoneAreDoneAgain) {
  Squares squares;
  squares.busy = {{"2", 2}};
  squares.other_ends = false;
  squares.run(squares.kept());
  EXPECT_EQ(squares.found, kSquares);
  EXPECT_EQ(squares.worked, 6);
}

TEST(Pieces, AStopEndsTheWaiting) {
  Squares squares;
  squares.busy = {{"2", 1000000}};
  studies::Pieces pieces;
  pieces.count = 3;
  pieces.key = [](int i) { return std::to_string(i); };
  pieces.take_over = [](int, const std::string&) { return true; };
  pieces.work_out = [](int) { return std::optional<std::string>("0"); };
  studies::do_pieces(squares.kept(), pieces, [&] { return squares.waits < 2; });
  EXPECT_EQ(squares.waits, 2);
}

class KeptFiles : public testing::Test {
 protected:
  void SetUp() override {
    std::string name = (fs::temp_directory_path() / "totebench-kept-XXXXXX").string();
    ASSERT_NE(mkdtemp(name.data()), nullptr);
    folder_ = name;
  }
  void TearDown() override { fs::remove_all(folder_); }
  [[nodiscard]] std::string file() const { return (folder_ / "work").string(); }
  [[nodiscard]] std::string text() const {
    std::ostringstream out;
    out << std::ifstream(file()).rdbuf();
    return out.str();
  }
  void add(const std::string& text) const { std::ofstream(file(), std::ios::app) << text; }

  // Another process that takes the piece and says so, then waits to be ended; its id.
  [[nodiscard]] pid_t other_with(const std::string& piece) const {
    int said[2];
    EXPECT_EQ(pipe(said), 0);
    const pid_t other = fork();
    if (other == 0) {
      KeptFile kept(file(), "work 1", KeptFile::Use::kTogether);
      const auto taken = kept.take(piece);
      const char word = taken ? 'y' : 'n';
      if (::write(said[1], &word, 1) != 1) _exit(1);
      for (;;) pause();
    }
    char word = 0;
    EXPECT_EQ(::read(said[0], &word, 1), 1);
    EXPECT_EQ(word, 'y');
    close(said[0]);
    close(said[1]);
    return other;
  }
  static void end(pid_t process) {
    kill(process, SIGKILL);
    waitpid(process, nullptr, 0);
  }

  fs::path folder_;
};

TEST_F(KeptFiles, KeepLinesByTheirKeys) {
  {
    KeptFile kept(file(), "work 1");
    kept.keep("a/1", "one two");
    kept.keep("a/2", "[0.1,null]");
  }
  const KeptFile again(file(), "work 1");
  EXPECT_EQ(again.find("a/1"), "one two");
  EXPECT_EQ(again.find("a/2"), "[0.1,null]");
  EXPECT_FALSE(again.find("a/3"));
  EXPECT_EQ(text(), "work 1\na/1 one two .\na/2 [0.1,null] .\n");
}

TEST_F(KeptFiles, OfAnotherTitleAreBegunAnew) {
  add("work 0\na 1 .\n");
  const KeptFile kept(file(), "work 1");
  EXPECT_FALSE(kept.find("a"));
  EXPECT_EQ(text(), "work 1\n");
}

TEST_F(KeptFiles, ALineCutShortCountsForNothingAndSpoilsNoOther) {
  add("work 1\na 1 .\nb 22");
  KeptFile kept(file(), "work 1", KeptFile::Use::kTogether);
  EXPECT_FALSE(kept.find("b"));
  kept.keep("c", "3");
  EXPECT_EQ(text(), "work 1\na 1 .\nb 22\nc 3 .\n");
  const KeptFile again(file(), "work 1");
  EXPECT_EQ(again.find("a"), "1");
  EXPECT_EQ(again.find("c"), "3");
  EXPECT_FALSE(again.find("b"));
}

TEST_F(KeptFiles, APieceIsOneProcesssUntilThatEndsHoweverItEnds) {
  KeptFile kept(file(), "work 1", KeptFile::Use::kTogether);
  const pid_t other = other_with("a");
  EXPECT_EQ(kept.take("a"), nullptr);
  EXPECT_NE(kept.take("b"), nullptr);
  end(other);
  const auto taken = kept.take("a");
  EXPECT_NE(taken, nullptr) << "the piece died with its process";
  EXPECT_FALSE(kept.find("a"));
}

TEST_F(KeptFiles, WhatOthersKeptIsFoundOnceAPieceIsTaken) {
  KeptFile kept(file(), "work 1", KeptFile::Use::kTogether);
  const pid_t other = fork();
  if (other == 0) {
    KeptFile its(file(), "work 1", KeptFile::Use::kTogether);
    const auto taken = its.take("a");
    its.keep("a", "by another");
    _exit(0);
  }
  waitpid(other, nullptr, 0);
  EXPECT_FALSE(kept.find("a"));
  const auto taken = kept.take("a");
  EXPECT_EQ(kept.find("a"), "by another");
}

TEST_F(KeptFiles, OnlyOneProcessOfThoseThatBeganBeforeTells) {
  KeptFile first(file(), "work 1", KeptFile::Use::kTogether);
  KeptFile second(file(), "work 1", KeptFile::Use::kTogether);
  {
    const auto telling = first.take_telling("the result", "");
    ASSERT_NE(telling, nullptr);
    first.told("the result", "");
  }
  EXPECT_EQ(second.take_telling("the result", ""), nullptr);
  EXPECT_NE(second.take_telling("another result", ""), nullptr);
  KeptFile later(file(), "work 1", KeptFile::Use::kTogether);
  EXPECT_NE(later.take_telling("the result", ""), nullptr) << "a later call tells it again";
  later.told("the result", "array-7");
  KeptFile late(file(), "work 1", KeptFile::Use::kTogether);
  EXPECT_EQ(late.take_telling("the result", "array-7"), nullptr) << "its launch has told it";
  EXPECT_NE(late.take_telling("the result", "array-8"), nullptr);
}

TEST_F(KeptFiles, AloneAreRemovedAtTheEndTogetherTheyStay) {
  {
    KeptFile kept(file(), "work 1", KeptFile::Use::kTogether);
    kept.work().end();
    EXPECT_TRUE(kept.work().is_shared());
  }
  EXPECT_TRUE(fs::exists(file()));
  KeptFile kept(file(), "work 1");
  EXPECT_FALSE(kept.work().is_shared());
  kept.work().end();
  EXPECT_FALSE(fs::exists(file()));
}

TEST_F(KeptFiles, ThatCannotBeWrittenSaySo) {
  const KeptFile kept((folder_ / "no folder" / "work").string(), "work 1",
                      KeptFile::Use::kTogether);
  EXPECT_NE(kept.problem().find("cannot write"), std::string::npos);
}

}  // namespace
}  // namespace totebench
