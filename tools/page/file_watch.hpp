// Knows when a file was saved.
#pragma once

#include <filesystem>

namespace tuft::page {

/// Watches one file by the folder it lies in (inotify), so that editors which write a new file and move it
/// into place are noticed too. Throws std::runtime_error with a message for the person where that can't be
/// done.
class FileWatch {
 public:
  /// What happened since the last look.
  enum class News {
    none,
    saved,  ///< it was written, or another was moved into its place
    gone,   ///< it was deleted or moved away
    lost    ///< the folder itself is gone; nothing will be noticed any more
  };

  explicit FileWatch(const std::filesystem::path& file);
  ~FileWatch();
  FileWatch(const FileWatch&) = delete;
  FileWatch& operator=(const FileWatch&) = delete;

  /// To poll for reading: readable when something happened in the folder.
  int descriptor() const { return notify_; }
  /// Takes everything that has happened, without waiting. The last thing counts.
  News news();

 private:
  std::filesystem::path name_;
  int notify_ = -1;
};

}  // namespace tuft::page
