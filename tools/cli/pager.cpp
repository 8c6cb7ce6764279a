#include "tools/cli/pager.hpp"

#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdio>
#include <cstdlib>

#include "tools/cli/console.hpp"

namespace tuft::program {
namespace {

constexpr const char* kUsual =
    "if command -v less >/dev/null; then exec less -R; "
    "elif command -v more >/dev/null; then exec more; else exec cat; fi";
constexpr int kNotFound = 127;  // the shell's status for a command that is not there

std::string environment(const char* name) {
  const char* value = std::getenv(name);
  return value == nullptr ? "" : value;
}

std::string own_pager() { return environment("PAGER"); }

// Signals that are the pager's while it runs: Ctrl-C ends a search there, and its end is no fault of ours.
class Patience {
 public:
  Patience() : interrupt_(signal(SIGINT, SIG_IGN)), pipe_(signal(SIGPIPE, SIG_IGN)) {}
  ~Patience() {
    signal(SIGINT, interrupt_);
    signal(SIGPIPE, pipe_);
  }
  Patience(const Patience&) = delete;
  Patience& operator=(const Patience&) = delete;

 private:
  void (*interrupt_)(int);
  void (*pipe_)(int);
};

// False if there is no such pager. What it does not read is not missed.
bool shown_through(const std::string& pager, const std::string& text) {
  std::fflush(stdout);
  FILE* pipe = popen(pager.c_str(), "w");
  if (pipe == nullptr) return false;
  // Not before: a program that is started while a signal is ignored ignores it as well.
  const Patience patience;
  std::fwrite(text.data(), 1, text.size(), pipe);
  const int status = pclose(pipe);
  return !(WIFEXITED(status) && WEXITSTATUS(status) == kNotFound);
}

}  // namespace

output::Look paged_look() {
  output::Look result = look();
  if (!own_pager().empty() && own_pager().rfind("less", 0) != 0) result.colour = false;
  return result;
}

void page(const std::string& text) {
  if (isatty(STDOUT_FILENO) == 0 || environment("TERM") == "dumb") {
    say(text);
    return;
  }
  setenv("LESS", "R", 0);  // less shows colour when told so
  const std::string pager = own_pager().empty() ? kUsual : own_pager();
  if (!shown_through(pager, text)) say(text);
}

}  // namespace tuft::program
