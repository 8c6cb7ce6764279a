// tuft lint: what is wrong with a case file, what looks wrong, and what had to be assumed.
#include <CLI/CLI.hpp>
#include <algorithm>
#include <filesystem>
#include <utility>

#include "geometry/device/unplaced.hpp"
#include "tools/cli/console.hpp"
#include "tools/cli/load.hpp"
#include "tools/cli/options.hpp"
#include "tools/io/grid.hpp"
#include "tools/io/utf8.hpp"
#include "tools/io/words.hpp"

namespace tuft::cli {
namespace {

using casefile::Assumption;

constexpr std::size_t kShortList = 12;

std::string verdict(const casefile::ReadResult& read) {
  const std::string name = io::printable(read.file.path);
  const std::string warnings = io::counted(read.warnings.size(), "warning");
  if (!read.errors.empty())
    return name + ": can't be used: " + io::counted(read.errors.size(), "error") + ", " + warnings + ".\n";
  const std::string assumed = io::counted(read.file.assumptions.size(), "value") + " assumed.\n";
  return name + (read.warnings.empty() ? ": good: 0 errors, " : ": can be used: 0 errors, ") + warnings +
         ", " + assumed;
}

// How a spread is written, of those that stand in the list.
void say_spreads(const std::vector<Assumption>& assumptions) {
  const std::vector<std::pair<std::string, std::string>> kinds = {
      {"..", "1..2..4: least, likeliest, most"},
      {" ± ", "± 5 %: 95 in 100 lie within"},
      {" */ ", "*/ 2: between half and twice as much"}};
  std::string text;
  for (const auto& [sign, meaning] : kinds) {
    const bool used = std::any_of(assumptions.begin(), assumptions.end(), [sign = sign](const auto& one) {
      return one.value.find(sign) != std::string::npos;
    });
    if (used) text += (text.empty() ? "" : "; ") + meaning;
  }
  if (!text.empty()) say("\n" + io::fill("", text + ".", look().width));
}

void say_in_full(const std::string& heading, const std::vector<Assumption>& assumptions) {
  if (assumptions.empty()) return;
  const io::Look style = look();
  say("\n" + heading + ":\n");
  for (const auto& assumption : assumptions)
    say("  " + io::inked(io::printable(assumption.key), io::Ink::strong, style) + ": " +
        io::printable(assumption.value) + "\n" +
        io::fill("      ", io::printable(assumption.sentence), style.width));
}

void say_in_short(const std::vector<Assumption>& assumptions) {
  const io::Look style = look();
  say("\nNot in the file, and therefore assumed:\n");
  for (std::size_t i = 0; i < assumptions.size() && i < kShortList; ++i) {
    const std::string line = io::printable(assumptions[i].key) + ": " + io::printable(assumptions[i].value);
    say("  " + io::shortened(line, style.width - 2) + "\n");
  }
  const std::size_t more = assumptions.size() > kShortList ? assumptions.size() - kShortList : 0;
  say((more > 0 ? "  and " + std::to_string(more) + " more; " : std::string("  ")) +
      "--all lists them with their reasons.\n");
}

// What has no place of its own in the file, and how one is said.
void say_unplaced(const geometry::Device& device) {
  const std::vector<std::string> unplaced = geometry::unplaced_things(device);
  if (unplaced.empty()) return;
  say("\n" +
      io::fill("",
               "Place not given: " + io::printable(io::listed(unplaced)) +
                   ". Drawings show such fans and fins dotted, at a likely place, and tuft field lets the "
                   "air pass there. Say it by distances to edges, such as from-left: 12 mm and "
                   "from-front: 8 mm (sources: with their size).",
               look().width));
}

// Photos whose files are not there: nothing but drawing on them needs them.
void say_missing_photos(const casefile::CaseFile& file) {
  const std::filesystem::path folder = std::filesystem::path(file.path).parent_path();
  for (const geometry::Photo& photo : file.content.photos) {
    std::error_code ignored;
    if (std::filesystem::is_regular_file(folder / photo.file, ignored)) continue;
    say("\n" + io::fill("",
                        "photos." + io::printable(photo.name) + ": the file " + io::printable(photo.file) +
                            " is not there; results don't depend on it, but nothing can be drawn on it.",
                        look().width));
  }
}

struct LintOptions {
  std::string path;
  bool all = false;
};

ExitStatus lint(const LintOptions& options) {
  const casefile::ReadResult read = casefile::read_case(options.path);
  say(verdict(read));
  complain(error_text(read));
  show_warnings(read);
  if (!read.errors.empty()) return ExitStatus::bad_input;
  std::vector<Assumption> told = read.file.assumptions;
  if (options.all) {
    say_in_full("Not in the file, and therefore assumed", read.file.assumptions);
    say_in_full("How far the laws of the model may be wrong (factors on what they give)", read.file.laws);
    told.insert(told.end(), read.file.laws.begin(), read.file.laws.end());
  } else if (!told.empty()) {
    say_in_short(told);
  }
  say_spreads(told);
  say_unplaced(read.file.content.device);
  say_missing_photos(read.file);
  return ExitStatus::good;
}

}  // namespace

void add_lint(CLI::App& app, ExitStatus& status) {
  auto [command, options] = add_command(
      app, status, lint, "lint", "Errors and warnings of a case file, and the values that are assumed",
      "Examples:\n  tuft lint notebook.yaml\n  tuft lint notebook.yaml --all\n\n"
      "Exit status: 0 no errors, 3 errors.");
  add_case_argument(command, options.path);
  command.add_flag("--all", options.all, "Every assumed value, with the reason for it");
}

}  // namespace tuft::cli
