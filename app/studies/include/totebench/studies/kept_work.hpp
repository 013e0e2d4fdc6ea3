// Finished pieces of a long study, kept so that one that was stopped can go on, and so that several
// processes can share its pieces.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>

namespace totebench::studies {

// Where a study's caller keeps them: one line of text by key. Empty functions keep nothing and
// share with nobody.
struct KeptWork {
  std::function<std::optional<std::string>(const std::string& key)> on_find;
  std::function<void(const std::string& key, const std::string& text)> on_keep;  // by any thread
  std::function<void()> on_end;  // the study came to its end; what was kept is of no more use
  // Takes a piece for this process until what is returned is destroyed; null while another process
  // has it. What others kept before is found from then on. By any thread.
  std::function<std::shared_ptr<void>(const std::string& key)> on_take;
  std::function<void()> on_wait;  // lets some time go by for others to work in

  [[nodiscard]] std::optional<std::string> find(const std::string& key) const {
    return on_find ? on_find(key) : std::nullopt;
  }
  void keep(const std::string& key, const std::string& text) const {
    if (on_keep) on_keep(key, text);
  }
  void end() const {
    if (on_end) on_end();
  }
  [[nodiscard]] bool is_shared() const { return static_cast<bool>(on_take); }
};

// Pieces of work that need nothing of each other.
struct Pieces {
  int count = 0;
  bool in_turn = false;  // each alone, with all threads
  std::function<std::string(int piece)> key;
  // Takes over what was kept of a piece; false where the text cannot be read.
  std::function<bool(int piece, const std::string& text)> take_over;
  // Works a piece out and takes it over; its text, or nothing where it was stopped.
  std::function<std::optional<std::string>(int piece)> work_out;
};

// Has every piece taken over or worked out, several at a time (side_by_side.hpp) or in turn. A
// piece that another process is at is left for later and then looked for again, until it is kept or
// that process is gone, so none is lost and none is missing at the end. Ends early when keep_going
// returns false; it is asked after each piece and while waiting, by one thread at a time. What
// comes of it does not depend on the number of threads or processes.
void do_pieces(const KeptWork& kept, const Pieces& pieces, const std::function<bool()>& keep_going);

}  // namespace totebench::studies
