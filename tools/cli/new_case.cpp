// tuft new: a case file to start from, and a drawing of it.
#include <unistd.h>

#include <CLI/CLI.hpp>
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <iostream>
#include <stdexcept>

#include "geometry/casefile/case_file.hpp"
#include "geometry/casefile/starter.hpp"
#include "tools/cli/console.hpp"
#include "tools/cli/load.hpp"
#include "tools/cli/options.hpp"
#include "tools/cli/questions.hpp"
#include "tools/figure/device_drawing.hpp"
#include "tools/io/folder.hpp"
#include "tools/io/utf8.hpp"

namespace tuft::cli {
namespace {

// "My notebook" -> "my-notebook".
std::optional<std::string> line_of_input() {
  std::string line;
  if (!std::getline(std::cin, line)) return std::nullopt;
  return line;
}

// Asks where somebody can answer and has not said it all by naming a class.
casefile::Starter get_starter(const Given& given) {
  try {
    if (given.kind.empty() && isatty(STDIN_FILENO) != 0) {
      say("Enter accepts the value in brackets; Ctrl-D ends without writing anything.\n\n");
      const auto starter = ask_for_starter(given, {say, line_of_input});
      if (starter) return *starter;
      throw Failure(ExitStatus::bad_input, "\nnothing was written\n");
    }
    if (given.name.empty()) throw std::invalid_argument("new needs NAME: what the device is called");
    return starter_from(given);
  } catch (const std::invalid_argument& wrong) {
    throw Failure(ExitStatus::bad_input, wrong.what());
  }
}

// What was answered may not go together; the reader says what and why.
casefile::CaseFile read_back(const std::string& text, const std::string& path) {
  casefile::ReadResult read = casefile::read_case_text(text, path);
  if (read.errors.empty()) return std::move(read.file);
  throw Failure(ExitStatus::bad_input,
                error_text(read) + "tuft: these numbers do not fit together; nothing was written\n");
}

Failure not_written(const std::string& path, int error) {
  const std::string why = error == EEXIST ? "it exists already and was left alone" : std::strerror(error);
  return {ExitStatus::output_not_written, "cannot write " + io::printable(path) + ": " + why};
}

// Opened so that an existing file is never touched, not even one that appears at this very moment.
void write_new_file(const std::string& path, const std::string& text) {
  std::FILE* file = std::fopen(path.c_str(), "wx");
  if (file == nullptr) throw not_written(path, errno);
  bool whole = std::fwrite(text.data(), 1, text.size(), file) == text.size();
  whole = std::fclose(file) == 0 && whole;
  if (whole) return;
  const int error = errno;
  unlink(path.c_str());
  throw not_written(path, error);
}

// Writes all of these new files (path, bytes), or none: an existing file is never touched, and what was begun
// is taken away when one cannot be written. Throws Failure (output_not_written).
void write_new_files(const std::vector<std::pair<std::string, std::string>>& files) {
  const io::NotedInterrupts interrupts;
  std::vector<std::string> written;
  try {
    for (const auto& [path, text] : files) {
      write_new_file(path, text);
      written.push_back(path);
    }
  } catch (const Failure&) {
    for (const std::string& path : written) unlink(path.c_str());
    throw;
  }
}

std::string drawing_of(const geometry::Case& content) {
  figure::DeviceDrawing drawing;
  drawing.title = content.device.name;
  drawing.subtitle = "Drawn to scale from the case file. Compare it with the device in your hand.";
  drawing.device = content.device;
  return figure::device_drawing(drawing);
}

// A device that is called like a file is called like the file without its ending.
std::string without_ending(const std::string& name) {
  for (const std::string ending : {".yaml", ".yml"})
    if (name.size() > ending.size() && geometry::ends_with(io::lower_case(name), ending))
      return name.substr(0, name.size() - ending.size());
  return name;
}

ExitStatus new_case(const Given& given) {
  casefile::Starter starter = get_starter(given);
  starter.name = without_ending(starter.name);
  const std::filesystem::path schema = schema_file();
  if (!schema.empty()) starter.schema = file_uri(schema);
  const std::string stem = io::lower_case(io::file_name_of(starter.name)), path = stem + ".yaml",
                    drawing = stem + ".svg";
  const std::string text = casefile::starter_case(starter);
  const casefile::CaseFile file = read_back(text, path);
  write_new_files({{path, text}, {drawing, drawing_of(file.content)}});
  say("Wrote " + path + ", a " + casefile::class_word(starter.kind) + ", and " + drawing +
      ", a drawing of it to scale.\nEnter the numbers of your device, and see their effect as you save:\n  "
      "tuft "
      "watch " +
      path + "\nor run it once:\n  tuft lint " + path + "\n  tuft predict " + path + "\n");
  return ExitStatus::good;
}

}  // namespace

void add_new(CLI::App& app, ExitStatus& status) {
  // The words stand in the type, where help and completion find them; what is wrong with one is told by us.
  std::string classes;
  for (const casefile::StarterClass kind : casefile::starter_classes())
    classes += (classes.empty() ? "{" : ",") + std::string(casefile::class_word(kind));
  std::string names;
  for (const casefile::StarterClass kind : casefile::starter_classes())
    names += (names.empty() ? "" : ", ") + casefile::class_names(kind).front();
  auto [command, given] = add_command(
      app, status, new_case, "new", "A commented case file to start from, and a drawing of the device",
      "Examples:\n  tuft new                          asks, on a terminal\n"
      "  tuft new \"My notebook\"            asks for the rest; writes my-notebook.yaml and my-notebook.svg\n"
      "  tuft new \"My box\" --class router --size '18,1 x 12 x 4 cm' --vents bottom,top\n"
      "  tuft new \"Big one\" --class laptop --outlet left,right --fan '2 x 60 mm'\n\n"
      "Without a terminal nothing is asked: missing values come from the class (default: slim-notebook).\n"
      "Exit status: 0 written, 3 bad input, 5 not written. An existing file is left alone.");
  command.add_option("NAME", given.name, "Name of the device");
  command
      .add_option("--class", given.kind,
                  "What the device is most like, also as people call it (" + names +
                      ", ...); with this option "
                      "nothing is asked")
      ->type_name(classes + "}");
  add_value_option(command, "--size", given.size, "SIZE",
                   "Width x depth x height, such as '312 x 221 x 16 mm' or '31,2 x 22,1 x 1,6 cm'");
  add_value_option(command, "--feet", given.feet, "LENGTH", "Height of its feet, such as '2 mm'");
  add_value_option(command, "--vents", given.vents, "FACES",
                   "Faces with openings besides the outlet, such as base,right");
  add_value_option(command, "--outlet", given.outlet, "FACES",
                   "Face through which the fan blows out; of several fans a face each, such as left,right");
  add_value_option(
      command, "--fan", given.fan, "LENGTHS",
      "Diameter of the fan's impeller, such as '52 mm'; of several '52 mm, 40 mm' or '2 x 52 mm'");
  add_value_option(command, "--power", given.power, "POWER", "Power at full load, such as '35 W'");
}

}  // namespace tuft::cli
