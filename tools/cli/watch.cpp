// tuft watch: solves a case again whenever it is saved, says what changed, and shows a page of it.
#include <poll.h>

#include <CLI/CLI.hpp>
#include <optional>

#include "tools/cli/console.hpp"
#include "tools/cli/drawing_desk.hpp"
#include "tools/cli/figure_photo.hpp"
#include "tools/cli/load.hpp"
#include "tools/cli/options.hpp"
#include "tools/cli/sampling.hpp"
#include "tools/cli/stop_signals.hpp"
#include "tools/io/finite.hpp"
#include "tools/io/grid.hpp"
#include "tools/io/run.hpp"
#include "tools/io/uncertainty.hpp"
#include "tools/io/utf8.hpp"
#include "tools/io/words.hpp"
#include "tools/page/changes.hpp"
#include "tools/page/file_watch.hpp"
#include "tools/page/page.hpp"
#include "tools/page/page_server.hpp"

namespace tuft::cli {
namespace {

using page::FileWatch;

struct WatchOptions {
  CaseArgument given;
  int port = 0;
  bool no_page = false;
  int samples = kPassingSamples;
};

// Editors write in several steps; a save is over when nothing has happened for so long.
constexpr int kSettled = 60;  // [ms]
// In a folder where something happens all the time, it is looked at after so many reads all the same.
constexpr int kMostReads = 20;

// The page is that of `tuft report`, made of the results as they would be written.
std::string page_of(const io::Run& run, const std::string& engine, const std::string& path) {
  try {
    return page::report_page(io::results_json(run, {{"predict", {}, {}}, {"results.json"}, {}}), engine,
                             report_photos(run.content, path));
  } catch (const io::NotFinite& fault) {
    throw Failure(ExitStatus::no_solution, fault.what());
  }
}

/// A case under change.
class Watched {
 public:
  Watched(const CaseArgument& given, int samples, page::PageServer* page)
      : path_(given.path),
        units_(given.units),
        samples_(samples),
        page_(page),
        engine_(page != nullptr ? engine_for_page() : "") {}

  /// Reads and solves what is there now, and tells what that changed.
  void look_again() {
    casefile::ReadResult read = casefile::read_case(path_);
    read.file.content.units = units_;
    if (looked_ && read.file.text == text_) return;  // saved without a change
    looked_ = true;
    text_ = read.file.text;
    show_warnings(read);
    if (!read.errors.empty()) return tell_broken(error_text(read));
    io::Run run = solve(read.file, find_conditions(read.file.content, {}));
    show_without_samples(run);
    sample(run, samples_, network_first(), true);
    if (page_ != nullptr) {
      page_->show(page_of(run, engine_, path_));
      page_->say("");
    }
    last_ ? tell_changes(run) : tell_first(run);
    last_ = run;
    broken_ = false;
  }

  void tell_gone() {
    text_.clear();
    const std::string line = path_ + " is gone; waiting for it to come back.";
    say(io::printable(line) + "\n");
    if (page_ != nullptr) page_->say(line);
  }

 private:
  // Whoever turns a value wants to see at once where the air goes. Samples take several times as long.
  void show_without_samples(io::Run& run) const {
    if (page_ == nullptr || samples_ == 0) return;
    run.not_sampled = "they are being computed.";
    page_->show(page_of(run, engine_, path_));
    page_->say("The answers are of the device as written; probabilities follow.");
    run.not_sampled.clear();
  }

  void tell_broken(const std::string& errors) {
    broken_ = true;
    const char* what = last_ ? "Not solved: the last good results are kept.\n" : "Not solved.\n";
    if (page_ != nullptr) page_->say(errors + what);
    complain(errors);
    say(what);
  }

  void tell_first(const io::Run& run) const {
    for (const auto& result : run.conditions) {
      const std::string words = result.report.converged
                                    ? io::summary_sentence(run.content, result)
                                    : "No solution: " + io::printable(result.report.reason);
      say_filled(io::printable(result.name) + ": " + words, "  ");
    }
    if (!run.claims.empty()) say("\n" + io::verdicts_text(run, look()));
  }

  void tell_changes(const io::Run& run) const {
    const std::vector<std::string> lines = page::changes(*last_, run);
    say(broken_ ? "The case is valid again. " : "");
    say(lines.empty() ? "No result that is shown has changed.\n" : "Changed:\n");
    for (const std::string& line : lines) say_filled(line, "  ");
  }

  std::string path_;
  geometry::UnitSystem units_;
  int samples_ = 0;
  page::PageServer* page_;
  std::string engine_;
  std::optional<io::Run> last_;
  std::string text_;
  bool looked_ = false, broken_ = false;
};

// Waits for a save or a signal; true: a signal came.
bool wait_for_news(const StopSignals& signals, const FileWatch& watch, int milliseconds) {
  pollfd ready[] = {{signals.descriptor(), POLLIN, 0}, {watch.descriptor(), POLLIN, 0}};
  poll(ready, 2, milliseconds);
  if ((ready[0].revents & POLLIN) == 0) return false;
  signals.take();
  return true;
}

// What is left when nothing has happened for a moment.
FileWatch::News settled_news(FileWatch& watch) {
  FileWatch::News last = watch.news();
  for (int reads = 0; reads < kMostReads && last != FileWatch::News::lost; ++reads) {
    pollfd ready{watch.descriptor(), POLLIN, 0};
    if (poll(&ready, 1, kSettled) <= 0) break;
    const FileWatch::News more = watch.news();
    if (more != FileWatch::News::none) last = more;
  }
  return last;
}

ExitStatus follow(Watched& watched, FileWatch& watch, const StopSignals& signals) {
  while (!wait_for_news(signals, watch, -1)) {
    switch (settled_news(watch)) {
      case FileWatch::News::none:
        break;
      case FileWatch::News::saved:
        watched.look_again();
        break;
      case FileWatch::News::gone:
        watched.tell_gone();
        break;
      case FileWatch::News::lost:
        throw Failure(ExitStatus::bad_input, "the folder of the case file is gone");
    }
  }
  say("\nEnded.\n");
  return ExitStatus::good;
}

// The drawing page beside the results, where it can be had: what the address needs so that the page links to
// it.
std::string open_desk(page::PageServer& server, const std::string& path) {
  const page::PageEngine engine = page::find_page_engine(own_file(), "drawing-engine.wasm");
  if (!engine.fault.empty()) return "";
  page::Desk desk = desk_for(path, engine.bytes);
  const std::string key = desk.key;
  server.open(std::move(desk));
  return "#" + key;
}

ExitStatus watch(const WatchOptions& options) {
  const casefile::ReadResult read = casefile::read_case(options.given.path);
  // A broken case is worth watching; one that isn't there is a slip of the pen.
  if (!std::filesystem::is_regular_file(options.given.path))
    throw Failure(ExitStatus::bad_input, error_text(read));
  if (options.port < 0 || options.port > 65535)
    refuse("--port: " + std::to_string(options.port) + " is out of range: 0 to 65535");
  const StopSignals signals;  // before any thread is made, so that all leave them to this one
  try {
    FileWatch file(options.given.path);
    std::optional<page::PageServer> page;
    if (!options.no_page) page.emplace(static_cast<std::uint16_t>(options.port), "tuft watch");
    Watched watched(options.given, options.samples, page ? &*page : nullptr);
    say("Watching " + io::printable(options.given.path) + "; Ctrl-C ends.\n");
    if (page)
      say("Page, only on this machine: " + page->address() + open_desk(*page, options.given.path) + "\n");
    watched.look_again();
    say_filled(io::kCautionLine);
    return follow(watched, file, signals);
  } catch (const Failure&) {
    throw;
  } catch (const std::runtime_error& fault) {
    throw Failure(ExitStatus::output_not_written, fault.what());
  }
}

}  // namespace

void add_watch(CLI::App& app, ExitStatus& status) {
  auto [command, options] = add_command(
      app, status, watch, "watch", "Solves a case whenever it is saved, and says what changed",
      "Example:\n  tuft watch notebook.yaml\n\n"
      "Open the printed address in a browser; the page updates itself. If a saved file has an error,\n"
      "tuft watch reports it and keeps the last good results. It writes no files. Ctrl-C ends it.\n"
      "Exit status: 0 ended, 3 no such file, 5 the page can't be shown.");
  add_case_argument(command, options.given);
  command.add_option("--port", options.port, "Port of the page on 127.0.0.1; default: any free port")
      ->type_name("NUMBER");
  add_samples_option(command, options.samples);
  command.add_flag("--no-page", options.no_page, "Print what changed; show no page");
}

}  // namespace tuft::cli
