// tuft doctor: what this build has, and whether it works here.
#include <omp.h>
#include <sys/inotify.h>
#include <unistd.h>

#include <CLI/CLI.hpp>
#include <filesystem>

#include "geometry/casefile/case_file.hpp"
#include "geometry/casefile/starter.hpp"
#include "tools/cli/console.hpp"
#include "tools/cli/film.hpp"
#include "tools/cli/load.hpp"
#include "tools/cli/options.hpp"
#include "tools/io/folder.hpp"
#include "tools/io/grid.hpp"
#include "tools/io/numbers.hpp"
#include "tools/io/utf8.hpp"
#include "tools/page/page.hpp"
#include "tools/page/page_server.hpp"

namespace tuft::cli {
namespace {

namespace fs = std::filesystem;

// A library that the program was built with: what it is used for, and which one.
struct Ingredient {
  std::string name, version, use;
};

std::vector<Ingredient> ingredients() {
  return {{"Eigen", TUFT_EIGEN, "linear algebra"},
          {"SUNDIALS", TUFT_SUNDIALS, "transients (warmup)"},
          {"VTK", TUFT_VTK, "VTK files of predict"},
          {"librsvg", TUFT_RSVG, "PNG figures"},
          {"libpng", TUFT_PNG, "PNG figures of few colours"},
          {"libjpeg", TUFT_JPEG, "photos read and drawn on"},
          {"GLib", TUFT_GLIB, "widths of characters, digests"},
          {"zlib", TUFT_ZLIB, "the engine within a page"},
          {"libmicrohttpd", TUFT_MICROHTTPD, "the page of watch"},
          {"yaml-cpp", TUFT_YAML, "case files"},
          {"nlohmann-json", TUFT_JSON, "results.json, the schema"},
          {"fmt", TUFT_FMT, "numbers as text"},
          {"CLI11", TUFT_CLI11, "the command line"}};
}

// "Release, GNU 12.2.0, C++17"
std::string build_words() {
  std::string words =
      std::string(TUFT_BUILD_TYPE) + ", " + TUFT_COMPILER + ", C++" + std::to_string(__cplusplus / 100 % 100);
#ifndef NDEBUG
  words += ", assertions on: slow";
#endif
#ifdef __SANITIZE_ADDRESS__
  words += ", address sanitizer on: slow";
#endif
  return words;
}

/// Shows findings line by line, and counts what is wrong.
class Examination {
 public:
  void good(const std::string& what, const std::string& words) { line("  ok  ", what, words); }
  void missing(const std::string& what, const std::string& words) { line("  --  ", what, words); }
  void say_of(const std::string& what, bool there, const std::string& words, const std::string& without) {
    there ? good(what, words) : missing(what, without);
  }
  void wrong(const std::string& what, const std::string& words) {
    line("  !!  ", what, words);
    ++faults_;
  }
  std::size_t faults() const { return faults_; }

 private:
  static void line(const char* sign, const std::string& what, const std::string& words) {
    say_filled(io::printable(words), sign + io::pad_right(what, 16));
  }
  std::size_t faults_ = 0;
};

// The first of these programs that the PATH leads to; empty: none.
fs::path first_on_path(const std::vector<std::string>& names) {
  for (const std::string& name : names)
    if (const fs::path file = program_on_path(name); !file.empty()) return file;
  return {};
}

void examine_build(Examination& found) {
  say("Build\n");
  found.good("tuft", std::string(TUFT_VERSION) + "; " + build_words());
  for (const Ingredient& part : ingredients()) found.good(part.name, part.version + ": " + part.use);
  found.good("threads", std::to_string(omp_get_max_threads()) + " of " + std::to_string(omp_get_num_procs()) +
                            " processors; OMP_NUM_THREADS changes the number; the results stay the same");
  const std::string standard = TUFT_MPI_STANDARD;  // of MPI; empty: built without
  found.say_of("MPI", !standard.empty(), "standard " + standard + ": processes that share a study",
               "not in this build: a study runs on one machine, on its own processors");
}

void examine_drawing(Examination& found) {
  const page::PageEngine engine = page::find_page_engine(own_file(), "drawing-engine.wasm");
  const std::string file = engine.file.string();
  found.say_of("drawing page", engine.fault.empty(), file + ": tuft draw solves while one draws",
               file + " " + engine.fault +
                   ": without it there is no drawing page, and tuft draw refuses; photos, figures and case "
                   "files written by hand work. To get it: " +
                   page::page_engine_advice());
}

void examine_film(Examination& found) {
  const fs::path ffmpeg = program_on_path("ffmpeg");
  found.say_of("ffmpeg", !ffmpeg.empty(), ffmpeg.string() + ": films as MP4 and WebM (figure --video)",
               "not on the PATH: no video files; tuft figure --frames still writes their pictures as PNG");
}

// A stale engine is no fault of the place: pages are made, and say what they do without.
void examine_page(Examination& found) {
  const page::PageEngine engine = page::find_page_engine(own_file());
  const std::string file = engine.file.string();
  found.say_of("page's solver", engine.fault.empty(), file + ": a page solves any angle live",
               file + " " + engine.fault + ": a page steps through angles solved beforehand. To get it: " +
                   page::page_engine_advice());
}

void examine_parts(Examination& found) {
  say("\nBeside the program\n");
  const fs::path schema = schema_file();
  found.say_of("schema", !schema.empty(), schema.string(),
               "not found beside the program: tuft new names none, and editors complete nothing; "
               "tuft reference --schema writes it");
  examine_page(found);
  examine_drawing(found);
  const fs::path browser = first_on_path({"chromium", "chromium-browser", "google-chrome", "firefox"});
  found.say_of("browser", !browser.empty(), browser.string(),
               "none on the PATH: the page of watch needs one on this machine");
  examine_film(found);
}

// A draft of a results folder, taken away again.
void examine_folder(const fs::path& place, Examination& found) {
  const fs::path folder = place / ("tuft-doctor-" + std::to_string(getpid()));
  try {
    io::ResultsFolder draft(folder);
    draft.write("draft.txt", "A draft.\n");
    std::error_code error;
    const auto room = fs::space(place, error);
    found.good(
        "results folder",
        "can be written in " + fs::absolute(place).lexically_normal().string() +
            (error ? ""
                   : "; " + io::significant(static_cast<double>(room.available) * 1e-9, 3, 1) + " GB free"));
  } catch (const std::exception& fault) {
    found.wrong("results folder", fault.what());
  }
}

void examine_watching(Examination& found) {
  const int notify = inotify_init1(IN_CLOEXEC);
  if (notify < 0) {
    found.wrong("saves", "are not reported by this system (inotify): tuft watch can't work");
  } else {
    close(notify);
    found.good("saves", "are reported by this system (inotify)");
  }
  try {
    const page::PageServer server(0, "tuft doctor");
    found.good("page", "can be shown on 127.0.0.1");
  } catch (const std::runtime_error& fault) {
    found.wrong("page", fault.what());
  }
}

// Warm air in a box with slots below and above: in at the base, out at the top, and the balances close.
void examine_solve(Examination& found) {
  casefile::Starter starter = casefile::starter_of(casefile::StarterClass::fanless_box);
  starter.name = "Box of tuft doctor";
  const casefile::ReadResult read = casefile::read_case_text(casefile::starter_case(starter), "doctor.yaml");
  if (!read.errors.empty()) return found.wrong("solve", "the built-in case can't be read");
  const io::Run run = solve(read.file, {0});
  const study::ConditionResult& result = run.conditions.front();
  if (!result.report.converged) return found.wrong("solve", "no solution: " + result.report.reason);
  bool sane = result.balance.mass < 1e-9 && result.balance.energy < 1e-8;
  for (const auto& vent : result.vents) {
    const geometry::Face face = read.file.content.device.vents[vent.vent].face;
    if (read.file.content.device.vents[vent.vent].is_leak) continue;
    if (face == geometry::Face::base) sane = sane && vent.role == geometry::Role::intake;
    if (face == geometry::Face::top) sane = sane && vent.role == geometry::Role::exhaust;
  }
  if (!sane) return found.wrong("solve", "the built-in case has a wrong solution: do not trust this build");
  found.good("solve",
             "a box of warm air takes air in below and lets it out above, " +
                 io::flow_text(result.through_flow / result.ambient_density, geometry::UnitSystem::metric) +
                 ", and its balances close");
}

ExitStatus doctor(const std::string& place) {
  Examination found;
  examine_build(found);
  examine_parts(found);
  say("\nHere and now\n");
  examine_solve(found);
  examine_folder(place, found);
  examine_watching(found);
  const std::size_t faults = found.faults();
  say(faults == 0 ? "\nAll is well.\n" : "\nSomething is wrong; see the lines with !!.\n");
  return faults == 0 ? ExitStatus::good : ExitStatus::output_not_written;
}

}  // namespace

void add_doctor(CLI::App& app, ExitStatus& status) {
  auto [command, place] = add_command(
      app, status, doctor, "doctor", "What this build contains, and whether it works on this machine",
      "Example:\n  tuft doctor\n\nExit status: 0 all is well, 5 something does not work here.");
  place = ".";
  add_value_option(command, "--out", place, "DIR",
                   "Folder in which results would be written; default: the current one");
}

}  // namespace tuft::cli
