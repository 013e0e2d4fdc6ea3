#include "app/commands/kept_file.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <chrono>
#include <cstring>
#include <filesystem>
#include <thread>
#include <utility>

namespace totebench::app {
namespace {

constexpr const char* kLineEnd = " .";  // a line cut short by a stop lacks it
constexpr const char* kToldKey = "told/";
constexpr std::chrono::milliseconds kBetweenLooks(200);  // at what other processes do

// Bytes that locks stand for, far behind any end of the file.
constexpr std::int64_t kAppending = std::int64_t{1} << 61;
constexpr std::int64_t kTelling = kAppending + 1;
constexpr std::int64_t kFirstPiece = std::int64_t{1} << 62;

std::uint64_t hash_of(const std::string& text) {  // FNV-1a
  std::uint64_t hash = 14695981039346656037ull;
  for (const char c : text) hash = (hash ^ static_cast<unsigned char>(c)) * 1099511628211ull;
  return hash;
}
std::int64_t byte_of(const std::string& key) {
  return kFirstPiece + static_cast<std::int64_t>(hash_of(key) >> 3);
}
std::string told_key(const std::string& what) {
  return fmt::format("{}{:016x}", kToldKey, hash_of(what));
}

bool write_at(int descriptor, const std::string& text, off_t at) {
  return pwrite(descriptor, text.data(), text.size(), at) == static_cast<ssize_t>(text.size());
}

}  // namespace

KeptFile::KeptFile(std::string file, const std::string& title, Use use)
    : file_(std::move(file)), together_(use == Use::kTogether) {
  descriptor_ = open(file_.c_str(), O_RDWR | O_CREAT | O_CLOEXEC, 0666);
  if (descriptor_ < 0) {
    problem_ = fmt::format("cannot write {}: {}", file_, std::strerror(errno));
    return;
  }
  const bool locked = lock(kAppending, true);
  if (!locked && together_) {
    problem_ =
        fmt::format("several processes cannot share {}: its file system has no record locks ({})",
                    file_, std::strerror(errno));
    return;
  }
  begin(title);
  read_on();
  told_before_ = told_;
  if (locked) unlock(kAppending);
}

KeptFile::~KeptFile() {
  if (descriptor_ >= 0) close(descriptor_);
}

bool KeptFile::lock(std::int64_t at, bool wait) {
  struct flock range = {};
  range.l_type = F_WRLCK;
  range.l_whence = SEEK_SET;
  range.l_start = at;
  range.l_len = 1;
  int done = 0;
  do {
    done = fcntl(descriptor_, wait ? F_SETLKW : F_SETLK, &range);
  } while (done != 0 && errno == EINTR);
  return done == 0;
}

void KeptFile::unlock(std::int64_t at) {
  struct flock range = {};
  range.l_type = F_UNLCK;
  range.l_whence = SEEK_SET;
  range.l_start = at;
  range.l_len = 1;
  (void)fcntl(descriptor_, F_SETLK, &range);
}

std::shared_ptr<void> KeptFile::held(std::int64_t at) {
  return {this, [this, at](void*) { unlock(at); }};
}

// Leaves the file as it is where its first line is the title.
void KeptFile::begin(const std::string& title) {
  const std::string head = title + "\n";
  std::string there(head.size(), '\0');
  const ssize_t n = pread(descriptor_, there.data(), there.size(), 0);
  if (n == static_cast<ssize_t>(head.size()) && there == head) return;
  if (ftruncate(descriptor_, 0) != 0 || !write_at(descriptor_, head, 0)) {
    if (together_) problem_ = fmt::format("cannot write {}: {}", file_, std::strerror(errno));
  }
}

// Whole lines that were added since.
void KeptFile::read_on() {
  std::string more;
  std::array<char, 1 << 16> part;
  std::int64_t at = read_to_;
  for (;;) {
    const ssize_t n = pread(descriptor_, part.data(), part.size(), at);
    if (n <= 0) break;
    more.append(part.data(), static_cast<std::size_t>(n));
    at += n;
  }
  std::size_t start = 0;
  for (std::size_t end = more.find('\n'); end != std::string::npos; end = more.find('\n', start)) {
    const std::string line = more.substr(start, end - start);
    start = end + 1;
    const std::size_t space = line.find(' ');
    const std::size_t stop = line.rfind(kLineEnd);
    if (space == std::string::npos || stop == std::string::npos || stop + 2 != line.size() ||
        stop <= space) {
      continue;
    }
    const std::string key = line.substr(0, space);
    const std::string text = line.substr(space + 1, stop - space - 1);
    if (key.starts_with(kToldKey)) {
      told_[key].push_back(text);
    } else {
      kept_[key] = text;
    }
  }
  read_to_ += static_cast<std::int64_t>(start);
}

// A line that a process left unfinished when it was ended is closed first.
void KeptFile::append(const std::string& line) {
  const bool locked = lock(kAppending, true);
  const off_t size = lseek(descriptor_, 0, SEEK_END);
  char last = '\n';
  if (size > 0 && pread(descriptor_, &last, 1, size - 1) != 1) last = '\n';
  // Where there is no room the piece is not kept, and done again by who wants it.
  (void)write_at(descriptor_, (last == '\n' ? "" : "\n") + line + kLineEnd + "\n", size);
  if (locked) unlock(kAppending);
}

std::optional<std::string> KeptFile::find(const std::string& key) const {
  const std::lock_guard<std::mutex> lock(guard_);
  const auto it = kept_.find(key);
  return it == kept_.end() ? std::nullopt : std::optional<std::string>(it->second);
}

void KeptFile::keep(const std::string& key, const std::string& text) {
  const std::lock_guard<std::mutex> lock(guard_);
  append(key + " " + text);
}

void KeptFile::remove() {
  std::error_code ignored;
  std::filesystem::remove(file_, ignored);
}

std::shared_ptr<void> KeptFile::take(const std::string& key) {
  const std::lock_guard<std::mutex> guard(guard_);
  if (!lock(byte_of(key), false) && (errno == EAGAIN || errno == EACCES)) return nullptr;
  // Should the file system have lost its locks, a piece is done twice at worst, to the same digits.
  read_on();
  return held(byte_of(key));
}

std::shared_ptr<void> KeptFile::take_telling(const std::string& what, const std::string& launch) {
  if (!together_) return {this, [](void*) {}};
  (void)lock(kTelling, true);
  const std::lock_guard<std::mutex> guard(guard_);
  std::shared_ptr<void> telling = held(kTelling);
  read_on();
  const std::string key = told_key(what);
  const std::vector<std::string>& by = told_[key];
  const bool by_this_launch =
      !launch.empty() && std::find(by.begin(), by.end(), launch) != by.end();
  return by_this_launch || by.size() > told_before_[key].size() ? nullptr : telling;
}

void KeptFile::told(const std::string& what, const std::string& launch) {
  if (together_) keep(told_key(what), launch.empty() ? "-" : launch);
}

studies::KeptWork KeptFile::work() {
  studies::KeptWork work;
  work.on_find = [this](const std::string& key) { return find(key); };
  work.on_keep = [this](const std::string& key, const std::string& text) { keep(key, text); };
  if (together_) {
    work.on_take = [this](const std::string& key) { return take(key); };
    work.on_wait = [] { std::this_thread::sleep_for(kBetweenLooks); };
  } else {
    work.on_end = [this] { remove(); };
  }
  return work;
}

}  // namespace totebench::app
