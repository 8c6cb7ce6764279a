#include "tools/cli/count_line.hpp"

#include <unistd.h>

#include <utility>

#include "tools/cli/console.hpp"
#include "tools/io/field_progress.hpp"

namespace tuft::cli {
namespace {

constexpr double kSoonDone = 1.0;     // a task that takes less needs no line [s]
constexpr double kLeastPause = 0.25;  // between two writings of the line [s]

}  // namespace

CountLine::CountLine(std::string parts, bool wanted)
    : parts_(std::move(parts)),
      active_(wanted && isatty(STDERR_FILENO) != 0),
      start_(Clock::now()),
      round_(start_),
      heard_(start_) {}

CountLine::~CountLine() {
  if (shown_) write_over("");
}

void CountLine::show(long done, long all) {
  if (!active_) return;
  const auto now = Clock::now();
  const auto since = [now](Clock::time_point then) {
    return std::chrono::duration<double>(now - then).count();
  };
  if (done < last_done_ || all != last_all_) round_ = heard_;
  heard_ = now;
  last_done_ = done;
  last_all_ = all;
  if (since(start_) < kSoonDone || (shown_ && since(written_) < kLeastPause)) return;
  shown_ = true;
  written_ = now;
  write_over(io::count_text(parts_, done, all, since(round_)));
}

}  // namespace tuft::cli
