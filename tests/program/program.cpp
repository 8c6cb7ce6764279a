#include "tests/program/program.hpp"

#include <fcntl.h>
#include <stdlib.h>
#include <sys/wait.h>
#include <unistd.h>

#include <catch2/catch.hpp>

#include "tests/io/sample.hpp"

namespace tuft::test {
namespace {

void redirect(int descriptor, const std::string& path) {
  const int file = open(path.c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0600);
  if (file < 0 || dup2(file, descriptor) < 0) _exit(120);
  close(file);
}

[[noreturn]] void become_tuft(const std::filesystem::path& program, const std::vector<std::string>& arguments,
                              const std::filesystem::path& folder,
                              const std::map<std::string, std::string>& environment) {
  std::vector<std::string> words = {program.empty() ? std::string(TUFT_BINARY_DIR) + "/bin/tuft"
                                                    : program.string()};
  words.insert(words.end(), arguments.begin(), arguments.end());
  std::vector<char*> pointers;
  for (std::string& word : words) pointers.push_back(word.data());
  pointers.push_back(nullptr);
  for (const auto& [name, value] : environment) setenv(name.c_str(), value.c_str(), 1);
  if (chdir(folder.c_str()) != 0) _exit(121);
  execv(pointers[0], pointers.data());
  _exit(122);
}

}  // namespace

Outcome run_tuft(const std::vector<std::string>& arguments, const std::filesystem::path& folder,
                 const std::map<std::string, std::string>& environment, const std::string& out_file,
                 const std::filesystem::path& program) {
  const Scratch scratch;
  const std::string out = out_file.empty() ? (scratch.path() / "out").string() : out_file;
  const std::string err = (scratch.path() / "err").string();
  const pid_t child = fork();
  REQUIRE(child >= 0);
  if (child == 0) {
    redirect(STDOUT_FILENO, out);
    redirect(STDERR_FILENO, err);
    become_tuft(program, arguments, folder, environment);
  }
  int status = 0;
  REQUIRE(waitpid(child, &status, 0) == child);
  Outcome outcome;
  outcome.status = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  if (out_file.empty()) outcome.out = bytes_of(out);
  outcome.err = bytes_of(err);
  return outcome;
}

Outcome in_shell(const std::string& line, const std::filesystem::path& folder) {
  return run_tuft({"-c", line, std::string(TUFT_BINARY_DIR) + "/bin/tuft"}, folder, {}, "", "/bin/sh");
}

std::string case_path(const std::string& name) {
  return std::string(TUFT_SOURCE_DIR) + "/tests/program/" + name;
}

}  // namespace tuft::test
