#include "totebench/studies/kept_work.hpp"

#include <algorithm>
#include <atomic>
#include <numeric>
#include <vector>

#include "totebench/studies/rate_scatter.hpp"

namespace totebench::studies {
namespace {

void run(bool in_turn, int n, const std::function<void(int)>& job,
         const std::function<bool()>& keep_going) {
  if (!in_turn) return run_side_by_side(n, job, keep_going);
  for (int i = 0; i < n; ++i) {
    job(i);
    if (!keep_going()) return;
  }
}

// Whether what is kept of a piece was taken over.
bool found(const KeptWork& kept, const Pieces& pieces, int piece, const std::string& key) {
  const std::optional<std::string> text = kept.find(key);
  return text && pieces.take_over(piece, *text);
}

// False while another process is at it.
bool do_piece(const KeptWork& kept, const Pieces& pieces, int piece) {
  const std::string key = pieces.key(piece);
  if (found(kept, pieces, piece, key)) return true;
  std::shared_ptr<void> taken;
  if (kept.is_shared()) {
    taken = kept.on_take(key);
    if (!taken) return false;
    if (found(kept, pieces, piece, key)) return true;  // another ended it just before
  }
  if (const std::optional<std::string> text = pieces.work_out(piece)) kept.keep(key, *text);
  return true;
}

}  // namespace

void do_pieces(const KeptWork& kept, const Pieces& pieces,
               const std::function<bool()>& keep_going) {
  std::vector<int> left(static_cast<std::size_t>(std::max(0, pieces.count)));
  std::iota(left.begin(), left.end(), 0);
  for (;;) {
    std::vector<char> elsewhere(left.size(), 0);
    std::atomic<bool> go{true};
    run(
        pieces.in_turn, static_cast<int>(left.size()),
        [&](int i) {
          const auto k = static_cast<std::size_t>(i);
          if (!do_piece(kept, pieces, left[k])) elsewhere[k] = 1;
        },
        [&] {
          if (!keep_going()) go = false;
          return go.load();
        });
    std::vector<int> next;
    for (std::size_t k = 0; k < left.size(); ++k) {
      if (elsewhere[k] != 0) next.push_back(left[k]);
    }
    if (next.empty() || !go) return;
    left = std::move(next);
    if (kept.on_wait) kept.on_wait();
    if (!keep_going()) return;
  }
}

}  // namespace totebench::studies
