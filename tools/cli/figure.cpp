// tuft figure: single figures as SVG and PNG, and sequences of frames.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <cstdio>
#include <filesystem>

#include "solver/flow2d/section_solve.hpp"
#include "solver/study/field_boundary_data.hpp"
#include "tools/cli/console.hpp"
#include "tools/cli/field.hpp"
#include "tools/cli/figure_photo.hpp"
#include "tools/cli/figure_pictures.hpp"
#include "tools/cli/film.hpp"
#include "tools/cli/load.hpp"
#include "tools/cli/options.hpp"
#include "tools/figure/png.hpp"
#include "tools/figure/svg.hpp"
#include "tools/io/folder.hpp"
#include "tools/io/run.hpp"
#include "tools/io/tracer_film.hpp"
#include "tools/io/utf8.hpp"
#include "tools/io/words.hpp"

namespace tuft::cli {
namespace {

struct FigureOptions {
  CaseArgument given;
  std::string condition, frames, size = "1920x1080", photo, video;
  OutOption out;
  std::vector<std::string> what;
  bool transparent = false, no_words = false, large_type = false;
};

struct File {
  std::string name, bytes;
};

PictureSize picture_size_of(const std::string& text) {
  if (text == "4k") return {3840, 2160};
  PictureSize size;
  int used = 0;
  const int read = std::sscanf(text.c_str(), "%5dx%5d%n", &size.width, &size.height, &used);
  const bool whole = read == 2 && static_cast<std::size_t>(used) == text.size();
  if (!whole || size.width < 320 || size.height < 240 || size.width > 8000 || size.height > 8000)
    refuse("--size: '" + text +
           "' must be 4k, or WIDTHxHEIGHT in pixels, such as 1920x1080, from 320x240 to 8000x8000");
  return size;
}

[[noreturn]] void no_field(const io::FieldRun& field, const std::string& reason) {
  throw Failure(ExitStatus::no_solution,
                io::printable("no field of condition '" + io::network_result(field).name + "': " + reason));
}

// Options that only photos have.
void check_photo_options(const FigureOptions& options) {
  if (std::find(options.what.begin(), options.what.end(), "photo") != options.what.end()) return;
  const char* given = !options.photo.empty() ? "--photo"
                      : options.transparent  ? "--transparent"
                      : options.no_words     ? "--no-words"
                      : options.large_type   ? "--large-type"
                                             : nullptr;
  if (given != nullptr) refuse(std::string(given) + " goes with --what photo");
}

void solve_slice(io::FieldRun& field) {
  io::SectionRun slice;
  slice.result = flow2d::solve_section(field.run.content, io::condition_of(field),
                                       study::section_boundary_data(io::network_result(field)), {});
  if (!slice.result.usable()) no_field(field, slice.result.message);
  field.section = std::move(slice);
}

enum class TracerView { plan, section };

// Solves the field of the run's one condition (plan layers with the cells tuft field takes, or the section
// where it shows most) and gives a loop of frames of tracer particles that follow the flow, one SVG document
// each.
std::vector<std::string> tracer_frames(const io::Run& run, TracerView view, const PictureSize& size) {
  io::FieldRun field;
  field.run = run;
  field.cell = default_cell(run.content.device);
  std::vector<std::string> documents;
  try {
    view == TracerView::plan ? solve_layers(field, Showing::never, "") : solve_slice(field);
    for (const figure::FieldMap& map :
         view == TracerView::plan ? io::tracer_maps(field) : io::section_tracer_maps(field))
      documents.push_back(figure::framed(figure::field_map(map), size.width, size.height));
  } catch (const io::NothingFlows& error) {
    no_field(field, error.what());
  }
  return documents;
}

std::vector<std::string> frames(const io::Run& run, const std::string& what, const PictureSize& size) {
  if (what == "sweep") return sweep_frames(run, run.conditions[0], size);
  if (what == "tracers") return tracer_frames(run, TracerView::plan, size);
  if (what == "section-tracers") return tracer_frames(run, TracerView::section, size);
  refuse_word("--frames", what, {"sweep", "tracers", "section-tracers"});
}

// The photos of the case, each as both kinds of file.
std::vector<File> photo_figures(const io::Run& run, const FigureOptions& options, const std::string& stem,
                                const PictureSize& size) {
  const PhotoWish wish{options.given.path, options.photo, options.transparent, !options.no_words,
                       options.large_type};
  const figure::Ground ground = options.transparent ? figure::Ground::none : figure::Ground::white;
  std::vector<File> files;
  for (const NamedPicture& one : photo_pictures(run, run.conditions[0], wish, size)) {
    const std::string name = stem + "-photo-" + io::file_name_of(one.name);
    files.push_back({name + ".svg", one.document});
    files.push_back({name + ".png", figure::png_of_svg(one.document, size.width, ground)});
  }
  return files;
}

std::vector<File> single_figures(const io::Run& run, const FigureOptions& options, const std::string& stem) {
  const PictureSize size = picture_size_of(options.size);
  std::vector<File> files;
  const std::vector<std::string> usual = {"views"};
  for (const std::string& what : options.what.empty() && options.frames.empty() ? usual : options.what) {
    if (what == "photo") {
      for (File& file : photo_figures(run, options, stem, size)) files.push_back(std::move(file));
      continue;
    }
    const std::string document = picture(run, run.conditions[0], what, size);
    files.push_back({stem + "-" + what + ".svg", document});
    files.push_back({stem + "-" + what + ".png", figure::png_of_svg(document, size.width)});
  }
  return files;
}

std::vector<File> sequence(const io::Run& run, const FigureOptions& options, const std::string& stem) {
  if (options.frames.empty()) return {};
  const PictureSize size = picture_size_of(options.size);
  const std::vector<std::string> documents = frames(run, options.frames, size);
  std::vector<File> files;
  for (std::size_t i = 0; i < documents.size(); ++i)
    files.push_back({fmt::format("{}-{}/{:04}.png", stem, options.frames, i),
                     figure::png_of_svg(documents[i], size.width)});
  return files;
}

io::ResultsPlace write(const io::Run& run, const std::vector<File>& files, const FigureOptions& options) {
  io::ResultsPlace place =
      results_place(options.out, options.given.path, "-figures", {"figure", named(options.condition), {}});
  io::ResultsFolder folder(place);
  for (const File& file : files) folder.write(file.name, file.bytes);
  const std::string pictures = io::file_name_of(run.conditions[0].name) + "-" + options.frames;
  if (!options.video.empty())
    write_film(options.video, folder.path_for(pictures + "/0000.png").parent_path(),
               options.frames == "sweep" ? 10 : 25, folder.path_for(pictures + "." + options.video));
  folder.write("results.json", io::results_json(run, folder.contents()));
  folder.publish();
  return place;
}

io::Run solved(const FigureOptions& options) {
  const casefile::CaseFile file = load_case(options.given);
  io::Run run = solve(file, {chosen_condition(file.content, options.condition, " to draw")});
  fail_unless_solved(run.conditions[0]);
  return run;
}

ExitStatus draw(const FigureOptions& options) {
  picture_size_of(options.size);
  check_photo_options(options);
  if (!options.video.empty()) {
    require_film(options.video);
    if (options.frames.empty()) refuse("--video goes with --frames, whose pictures it is made of");
  }
  const io::Run run = solved(options);
  const std::string stem = io::file_name_of(run.conditions[0].name);
  write_or_fail([&] {
    std::vector<File> files = single_figures(run, options, stem);
    for (File& file : sequence(run, options, stem)) files.push_back(std::move(file));
    const io::ResultsPlace place = write(run, files, options);
    say("Figures: " + io::printable(place.path.string()) + " (" + io::counted(files.size(), "file") + ")\n");
  });
  return ExitStatus::good;
}

}  // namespace

void add_figure(CLI::App& app, ExitStatus& status) {
  auto [command, options] =
      add_command(app, status, draw, "figure", "Single figures as SVG and PNG, and sequences of frames",
                  "Examples:\n  tuft figure notebook.yaml --what plan --what temperatures --condition bench\n"
                  "  tuft figure router.yaml --condition hung --frames sweep --size 4k\n\n"
                  "Exit status: 0 written, 3 bad input, 4 the condition has no solution, 5 not written.");
  add_case_argument(command, options.given);
  add_value_option(command, "--what", options.what, "WHAT",
                   "views (all six, default), plan, base, sides, photo, roles, temperatures, sweep");
  add_condition_option(command, options.condition);
  add_value_option(command, "--size", options.size, "SIZE",
                   "WIDTHxHEIGHT in pixels, or 4k; default: 1920x1080");
  add_value_option(command, "--frames", options.frames, "WHICH",
                   "A sequence of PNG files: sweep (turned device), tracers (inside) or section-tracers");
  add_value_option(command, "--photo", options.photo, "NAME", "With --what photo: this photo alone");
  command.add_flag(
      "--transparent", options.transparent,
      "With --what photo: the signs alone on a see-through ground, to lie over the picture or a film");
  command.add_flag("--no-words", options.no_words, "With --what photo: signs and arrows alone");
  command.add_flag("--large-type", options.large_type,
                   "With --what photo: words of 18 pixels or more, for video");
  add_value_option(command, "--video", options.video, "KIND",
                   "With --frames: the pictures as one video too, mp4 (H.264) or webm (VP9); needs ffmpeg");
  add_out_option(command, options.out, "-figures");
}

}  // namespace tuft::cli
