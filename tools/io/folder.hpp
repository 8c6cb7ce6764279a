// Files and folders of results that appear whole or not at all.
#pragma once

#include <signal.h>

#include <array>
#include <filesystem>
#include <stdexcept>
#include <string>
#include <vector>

#include "tools/io/draft.hpp"
#include "tools/io/results_place.hpp"

namespace tuft::io {

/// While one of these lives, SIGINT, SIGTERM and SIGHUP are only noted. When it goes, the handling from
/// before is back in place and a signal that came meanwhile is raised again. Signals that were ignored stay
/// ignored. One at a time: the note is the process's own, as signals are.
class NotedInterrupts {
 public:
  NotedInterrupts();
  ~NotedInterrupts();
  NotedInterrupts(const NotedInterrupts&) = delete;
  NotedInterrupts& operator=(const NotedInterrupts&) = delete;

  /// True when a signal came.
  bool pending() const;
  /// Forgets the signal for now, so that what there is can still be saved; it is raised again all the same
  /// when this goes.
  void set_aside();

 private:
  int aside_ = 0;
  static constexpr std::array<int, 3> kNoted = {SIGINT, SIGTERM, SIGHUP};
  std::array<struct sigaction, kNoted.size()> before_{};
};

/// The folder cannot be written, or must not be. The message is for a person and names the place.
class FolderError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// Builds a results folder beside its place, under a hidden name, and moves it there in one step.
///
/// Unless publish() has returned, going out of scope takes everything away again. What stands in the place
/// already must be an empty folder, or a results folder with nothing in it but the files it lists itself,
/// whose answers this run gives anew: the same command, for no fewer conditions. Its other files are kept.
/// Anything else is refused. Signals that would end the program are noted meanwhile: the next step throws,
/// what was begun is removed, and then the signal takes effect. What SIGKILL or a power cut leaves, a hidden
/// folder .NAME.part-xxxxxx, is removed by the next run that writes to the same place.
class ResultsFolder {
 public:
  /// Prepares the hidden folder. Throws FolderError, before anything is written, when `place` is refused.
  /// `first` are files to be listed before all others, in whatever order they are written.
  explicit ResultsFolder(const ResultsPlace& place, std::vector<std::string> first = {"results.json"});
  ResultsFolder(const ResultsFolder&) = delete;
  ResultsFolder& operator=(const ResultsFolder&) = delete;

  /// Path to write a file to, given its name inside the folder (with '/' for folders inside, which are made).
  std::filesystem::path path_for(const std::string& file);
  /// Writes one file. Throws FolderError when not every byte could be written.
  void write(const std::string& file, const std::string& bytes);
  /// The same for a drawing: NAME.svg, and NAME.png so many pixels wide.
  void draw(const std::string& name, const std::string& svg, int pixels);
  /// Moves the finished folder into its place.
  void publish();

  /// What it holds so far.
  Contents contents() const;
  /// The names of the files of this run, those still to be written first.
  const std::vector<std::string>& files() const { return files_; }

  /// True once a signal was noted: the next step throws, unless make_partial() comes first.
  bool interrupted() const { return interrupts_.pending(); }
  /// What there is so far goes to a place of its own, the name with ".partial" behind it; the signal that was
  /// noted takes effect only when this goes. One more takes everything away. Throws FolderError when that
  /// place must not be written.
  void make_partial();

  /// The place, absolute.
  const std::filesystem::path& place() const { return place_; }

 private:
  void stop_if_interrupted() const;

  void take_place();
  void keep_earlier_files() const;

  NotedInterrupts interrupts_;  // first, so that it goes last: clean up, then let the signal through
  std::filesystem::path place_;
  Asked asked_;
  bool fresh_;
  Draft draft_;
  std::vector<std::string> files_, earlier_;
};

/// Empty when the place is free, an empty folder, or a results folder that ResultsFolder may replace.
/// Otherwise the reason, for a person, why it must not be replaced.
std::string reason_to_keep(const ResultsPlace& place);

/// What ResultsFolder looks at before it writes anything. Throws FolderError.
void require_writable(const ResultsPlace& place);

/// Writes a file where it is to be. Returns 0, or the errno for which not every byte could be written.
int write_bytes(const std::filesystem::path& path, const std::string& bytes);

/// Writes a file beside its place under a hidden name and moves it there in one step. A file already there is
/// replaced only when its first bytes contain `ours`, a mark that we put into such files; an empty `ours`
/// replaces nothing. Links, devices, pipes and folders are refused. Throws FolderError, whose message names
/// the place, and leaves nothing behind.
void write_whole_file(const std::filesystem::path& place, const std::string& bytes, const std::string& ours);

/// A name made fit for any file system: letters and digits of any script (in UTF-8), '-' and '_', not more
/// than 60 bytes of them, none of the device names some systems reserve. No dots: endings are the writers'
/// own. What is left of nothing is "unnamed".
std::string file_name_of(const std::string& name);

/// File names for all the names, in their order, no two the same even where upper and lower case are not told
/// apart: the second and later ones get "-2", "-3" and so on.
std::vector<std::string> file_names_of(const std::vector<std::string>& names);

}  // namespace tuft::io
