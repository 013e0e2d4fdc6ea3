#include "app/commands/interrupt.hpp"

#include <signal.h>

#include <csignal>

namespace totebench::app {
namespace {

volatile std::sig_atomic_t stop_asked = 0;

extern "C" void note_interrupt(int) { stop_asked = 1; }

}  // namespace

InterruptGuard::InterruptGuard() {
  stop_asked = 0;
  struct sigaction action = {};
  action.sa_handler = note_interrupt;
  // One shot: a second Ctrl-C finds the default again and ends the program.
  action.sa_flags = static_cast<int>(SA_RESETHAND) | SA_RESTART;
  sigaction(SIGINT, &action, nullptr);
  sigaction(SIGTERM, &action, nullptr);
}

InterruptGuard::~InterruptGuard() {
  signal(SIGINT, SIG_DFL);
  signal(SIGTERM, SIG_DFL);
}

bool InterruptGuard::asked_to_stop() { return stop_asked != 0; }

}  // namespace totebench::app
