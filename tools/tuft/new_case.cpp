// tuft new: a case file to start from.
#include <fcntl.h>
#include <unistd.h>

#include <CLI/CLI.hpp>
#include <cerrno>
#include <cstring>
#include <memory>

#include "geometry/casefile/starter.hpp"
#include "tools/output/file_names.hpp"
#include "tools/tuft/commands.hpp"
#include "tools/tuft/console.hpp"

namespace tuft::program {
namespace {

// "My notebook" -> "my-notebook".
std::string slug(const std::string& name) {
  std::string result = output::file_name_of(name);
  for (char& letter : result) {
    if (letter >= 'A' && letter <= 'Z') letter = static_cast<char>(letter - 'A' + 'a');
  }
  return result;
}

Failure not_written(const std::string& path, int error) {
  const std::string why = error == EEXIST ? "it exists already and was left alone" : std::strerror(error);
  return {ExitStatus::output_not_written, "cannot write " + path + ": " + why};
}

bool write_all(int file, const std::string& text) {
  for (std::size_t done = 0; done < text.size();) {
    const ssize_t count = ::write(file, text.data() + done, text.size() - done);
    if (count < 0 && errno == EINTR) continue;
    if (count <= 0) return false;
    done += static_cast<std::size_t>(count);
  }
  return true;
}

// Opened so that an existing file is never touched, not even one that appears at this very moment.
void write_new_file(const std::string& path, const std::string& text) {
  const int file = open(path.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
  if (file < 0) throw not_written(path, errno);
  bool whole = write_all(file, text);
  int error = errno;
  if (close(file) != 0 && whole) {
    whole = false;
    error = errno;
  }
  if (whole) return;
  unlink(path.c_str());
  throw not_written(path, error);
}

ExitStatus new_case(const std::string& name) {
  const std::string path = slug(name) + ".yaml";
  write_new_file(path, casefile::starter_case(name));
  say("Wrote " + path + ". Put your device's numbers in, then:\n  tuft lint " + path + "\n  tuft predict " +
      path + "\n");
  return ExitStatus::good;
}

}  // namespace

void add_new(CLI::App& app, ExitStatus& status) {
  auto name = std::make_shared<std::string>();
  CLI::App* command = app.add_subcommand("new", "A commented case file to start from");
  command->add_option("NAME", *name, "Name of the device")->required();
  command->footer(
      "Example:\n  tuft new \"My notebook\"      writes my-notebook.yaml\n\n"
      "Exit status: 0 written, 5 not written. An existing file is left alone.");
  command->callback([name, &status] { status = new_case(*name); });
}

}  // namespace tuft::program
