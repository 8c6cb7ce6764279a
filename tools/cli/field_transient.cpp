// How far a long solve is, on one line; and tuft field --until: the plan layers followed in time.
#include <unistd.h>

#include <cmath>
#include <memory>
#include <string>

#include "solver/study/field_boundary_data.hpp"
#include "tools/cli/console.hpp"
#include "tools/cli/field.hpp"
#include "tools/io/grid.hpp"
#include "tools/io/transient_record.hpp"
#include "tools/io/utf8.hpp"
#include "tools/io/words.hpp"

namespace tuft::cli {
namespace {

constexpr double kQuiet = 1.0;     // a solve that takes less needs no line [s]
constexpr double kBetween = 0.25;  // between two writings of the line [s]

std::string name_of_part(const geometry::Device& device, int part) {
  const auto zones = static_cast<int>(device.zones.size());
  return part < zones ? io::at(device.zones, part).name : io::at(device.fin_stacks, part - zones).name;
}

flow2d::Progress progress_of(const flow2d::TransientStep& step, const io::TransientRecord& record) {
  flow2d::Progress progress;
  if (!record.field.plan.layers.empty()) {
    progress.nx = record.field.plan.layers.front().solid.nx();
    progress.ny = record.field.plan.layers.front().solid.ny();
  }
  progress.step = static_cast<int>(record.rows.size());
  progress.residual = step.residual;
  progress.time = step.time;
  progress.until = record.until;
  return progress;
}

/// Follows one transient into its record and, where wanted, into a folder.
class TransientFollower {
 public:
  explicit TransientFollower(TransientRun* run) : run_(*run), record_(run->record) {
    if (run_.place) series_ = std::make_unique<io::TimeSeries>(*run_.place, &record_);
  }

  void follow() {
    const geometry::Case& content = record_.field.run.content;
    const study::ConditionResult& network = io::network_result(record_.field);
    const std::vector<flow2d::ThermalMass> thermal_masses =
        study::thermal_masses_of(content, network, run_.start ? &*run_.start : nullptr);
    for (const flow2d::ThermalMass& store : thermal_masses)
      record_.thermal_masses.push_back(name_of_part(content.device, store.part));
    record_.until = run_.wish.until;
    record_.start = run_.start ? "steady:" + run_.start->name : "cold";
    flow2d::LayerTransientOptions options;
    options.cell = record_.field.cell;
    options.until = run_.wish.until;
    options.every = run_.wish.every;
    if (run_.start)
      options.from = {
          {io::at(content.conditions, run_.start->condition), study::layer_boundary_data(*run_.start)}};
    ProgressLine line(run_.showing,
                      static_cast<int>(std::lround(content.device.size.x() / record_.field.cell)),
                      options.steady.newton.residual_tolerance);
    options.steady.newton.observer = [&line](const flow2d::Progress& progress) { line.show(progress); };
    options.on_moment = [this](double time, const flow2d::PlanResult& state) {
      record_.field.plan = state;
      if (series_) series_->add_moment(time);
    };
    options.on_step = [this, &line](const flow2d::TransientStep& step) {
      record_.rows.push_back(step);
      line.show(progress_of(step, record_));
      if (!series_ || !series_->interrupted()) return true;
      series_->break_off();
      return false;
    };
    record_.end = flow2d::run_transient(content, io::condition_of(record_.field),
                                        study::layer_boundary_data(network), thermal_masses, options);
  }

  std::string publish() {
    if (!series_) return "";
    const std::string place = series_->publish().string();
    return (record_.partial ? "partial results: " : "Results: ") +
           io::printable(record_.partial ? place : run_.place->path.string()) + " (" +
           io::counted(series_->n_files(), "file") + ")\n";
  }

 private:
  TransientRun& run_;
  io::TransientRecord& record_;
  std::unique_ptr<io::TimeSeries> series_;
};

}  // namespace

ProgressLine::ProgressLine(Showing when, int finest, double target)
    : terminal_(isatty(STDERR_FILENO) != 0),
      active_(when == Showing::always || (when == Showing::on_terminal && terminal_)),
      finest_(finest),
      target_(target),
      start_(std::chrono::steady_clock::now()) {}

ProgressLine::~ProgressLine() {
  if (shown_ && terminal_) write_over("");
}

double ProgressLine::elapsed() const {
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - start_).count();
}

void ProgressLine::show(const flow2d::Progress& progress) {
  if (!active_) return;
  const double now = elapsed();
  const bool in_time = progress.time >= 0.0;
  const bool counts = progress.nx == finest_ && (!in_time || progress.until > 0.0);
  if (counts && in_time) left_.step_in_time(now, progress.time, progress.until);
  if (counts && !in_time) left_.step(now, progress.residual, target_);
  if (terminal_ && (now < kQuiet || now - last_ < kBetween)) return;
  last_ = now;
  shown_ = true;
  const std::string text = io::progress_text(progress, now, counts ? left_.seconds() : -1.0);
  terminal_ ? write_over(text) : complain(text + "\n");
}

ExitStatus write_transient(TransientRun* run, bool quiet) {
  write_or_fail([&] {
    TransientFollower follower(run);
    follower.follow();
    const io::TransientRecord& record = run->record;
    if (record.end.end == flow2d::TransientEnd::failed)
      throw Failure(ExitStatus::no_solution,
                    io::printable("no transient of condition '" + io::network_result(record.field).name +
                                  "': " + record.end.message + "; nothing was written"));
    if (!quiet) say(io::transient_text(record, look()) + "\n");
    const std::string written = follower.publish();
    if (record.partial) complain("tuft: interrupted; " + written);
    if (!quiet && !record.partial) say(written + io::fill("", io::kCautionLine, look().width));
  });
  return ExitStatus::good;
}

}  // namespace tuft::cli
