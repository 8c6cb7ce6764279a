#include "tests/program/terminal.hpp"

#include <fcntl.h>
#include <pty.h>
#include <signal.h>
#include <stdlib.h>
#include <sys/wait.h>
#include <termios.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <chrono>
#include <thread>

#include "tests/io/sample.hpp"

namespace tuft::test {
namespace {

[[noreturn]] void become_tuft(const std::vector<std::string>& arguments,
                              const std::filesystem::path& folder) {
  std::vector<std::string> words = {std::string(TUFT_BINARY_DIR) + "/bin/tuft"};
  words.insert(words.end(), arguments.begin(), arguments.end());
  std::vector<char*> pointers;
  for (std::string& word : words) pointers.push_back(word.data());
  pointers.push_back(nullptr);
  if (chdir(folder.c_str()) != 0) _exit(121);
  execv(pointers[0], pointers.data());
  _exit(122);
}

int exit_status(int status) { return WIFEXITED(status) ? WEXITSTATUS(status) : -1; }

}  // namespace

Outcome type_to_tuft(const std::vector<std::string>& arguments, const std::filesystem::path& folder,
                     const std::string& typed, const std::map<std::string, std::string>& environment) {
  int terminal = -1;
  const pid_t child = forkpty(&terminal, nullptr, nullptr, nullptr);
  REQUIRE(child >= 0);
  if (child == 0) {
    for (const auto& [name, value] : environment) setenv(name.c_str(), value.c_str(), 1);
    become_tuft(arguments, folder);
  }
  // All is typed at once; the terminal keeps it until it is read line by line.
  REQUIRE(write(terminal, typed.data(), typed.size()) == static_cast<ssize_t>(typed.size()));
  Outcome outcome;
  char buffer[4096];
  for (ssize_t count = 0; (count = read(terminal, buffer, sizeof buffer)) > 0;) {
    outcome.out.append(buffer, static_cast<std::size_t>(count));
  }
  int status = 0;
  REQUIRE(waitpid(child, &status, 0) == child);
  close(terminal);
  outcome.status = exit_status(status);
  return outcome;
}

RunningTuft::RunningTuft(const std::vector<std::string>& arguments, const std::filesystem::path& folder)
    : log_(folder / ".log-of-the-test") {
  child_ = fork();
  REQUIRE(child_ >= 0);
  if (child_ != 0) return;
  const int log = open(log_.c_str(), O_WRONLY | O_CREAT | O_APPEND, 0600);
  if (log < 0 || dup2(log, STDOUT_FILENO) < 0 || dup2(log, STDERR_FILENO) < 0) _exit(120);
  become_tuft(arguments, folder);
}

RunningTuft::~RunningTuft() { interrupt(); }

std::string RunningTuft::shown() const { return std::filesystem::exists(log_) ? bytes_of(log_) : ""; }

bool RunningTuft::shows(const std::string& text) {
  for (int i = 0; i < 1500; ++i) {
    const std::size_t at = shown().find(text, seen_);
    if (at != std::string::npos) {
      seen_ = at + text.size();
      return true;
    }
    std::this_thread::sleep_for(std::chrono::milliseconds(20));
  }
  return false;
}

int RunningTuft::interrupt() {
  if (child_ < 0) return status_;
  kill(child_, SIGINT);
  int status = 0;
  waitpid(child_, &status, 0);
  child_ = -1;
  status_ = exit_status(status);
  return status_;
}

}  // namespace tuft::test
