// A folder of results that appears whole or not at all.
#pragma once

#include <filesystem>
#include <stdexcept>
#include <string>

#include "tools/io/interrupt.hpp"

namespace tuft::output {

/// The folder cannot be written, or must not be. The message is for a person and names the place.
class FolderError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// Builds a results folder beside its place, under a hidden name, and moves it there in one step.
///
/// Unless publish() has returned, going out of scope takes everything away again. A folder already in the
/// place is replaced when it is empty or an earlier results folder with nothing in it but the files it lists
/// itself; anything else is refused. Signals that would end the program are noted meanwhile: the next step
/// throws, what was begun is removed, and then the signal takes effect. (Nothing can be done about SIGKILL or
/// a power cut: a hidden folder .NAME.part-xxxxxx stays and may be deleted.)
class ResultsFolder {
 public:
  /// Prepares the hidden folder. Throws FolderError, before anything is written, when `place` is refused.
  explicit ResultsFolder(const std::filesystem::path& place);
  ~ResultsFolder();
  ResultsFolder(const ResultsFolder&) = delete;
  ResultsFolder& operator=(const ResultsFolder&) = delete;

  /// Path to write a file to, given its name inside the folder (with '/' for folders inside, which are made).
  std::filesystem::path path_for(const std::string& file);
  /// Writes one file. Throws FolderError when not every byte could be written.
  void write(const std::string& file, const std::string& bytes);
  /// Moves the finished folder into its place.
  void publish();

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

  NotedInterrupts interrupts_;  // first, so that it goes last: clean up, then let the signal through
  std::filesystem::path place_;
  std::filesystem::path draft_;
};

}  // namespace tuft::output
