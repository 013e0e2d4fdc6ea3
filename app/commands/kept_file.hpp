// Finished pieces of a study kept in a file, a line each, so that a stopped run can go on and
// several processes can share the work.
//
// Together, processes on one machine or on several that see one folder, started by mpirun, by a job
// array or by hand, need nothing but this file: a process takes a piece by a POSIX record lock on a
// byte of it, far behind its end, that the piece's key stands for. The system frees the lock when
// the process ends, however it ends, over NFS too; so a piece that dies with its process is done
// again by another, and none is done at the same time by two. Lines are appended under a lock of
// their own. No message passes between processes: with MPI one dead rank would take all others with
// it, and a job array, whose tasks run when there is room, could not have it at all.
#pragma once

#include <cstdint>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

#include "totebench/studies/kept_work.hpp"

namespace totebench::app {

class KeptFile {
 public:
  enum class Use { kAlone, kTogether };

  // `title` is the file's first line; a file of another title is begun anew.
  KeptFile(std::string file, const std::string& title, Use use = Use::kAlone);
  ~KeptFile();
  KeptFile(const KeptFile&) = delete;
  KeptFile& operator=(const KeptFile&) = delete;

  // Why the file cannot be used, or not together where that is asked for; empty where it can.
  [[nodiscard]] const std::string& problem() const { return problem_; }

  [[nodiscard]] std::optional<std::string> find(const std::string& key) const;  // as read at last
  void keep(const std::string& key, const std::string& text);  // may be called by several threads
  void remove();

  // Together: see KeptWork::on_take. Keys that are equal in 61 bits of a hash wait for each other.
  [[nodiscard]] std::shared_ptr<void> take(const std::string& key);

  // Together: one process tells the result, the others are to end without a word. `what` is a text
  // that is the same for all that have this result to tell, `launch` is empty or names the launch
  // that started them. Waits while another tells; null where another has told since this process
  // began, or one of this launch ever has. Who got something tells, and then calls told().
  [[nodiscard]] std::shared_ptr<void> take_telling(const std::string& what,
                                                   const std::string& launch);
  void told(const std::string& what, const std::string& launch);

  // The functions above, for a study; refers to this file. A finished study removes it, unless it
  // is used together: others may still be reading.
  [[nodiscard]] studies::KeptWork work();

 private:
  bool lock(std::int64_t at, bool wait);
  void unlock(std::int64_t at);
  std::shared_ptr<void> held(std::int64_t at);
  void begin(const std::string& title);
  void read_on();
  void append(const std::string& line);

  std::string file_;
  int descriptor_ = -1;  // the only one of this file: closing any would free all locks of it
  bool together_;
  std::string problem_;
  std::map<std::string, std::string> kept_;
  std::int64_t read_to_ = 0;  // behind the last whole line that was read
  using Tellings =
      std::map<std::string, std::vector<std::string>>;  // what -> launches that told it
  Tellings told_, told_before_;                         // by now, before this process began
  mutable std::mutex guard_;
};

}  // namespace totebench::app
