// What is being written, under a hidden name beside its place.
#pragma once

#include <filesystem>
#include <string>

namespace tuft::io {

/// A hidden file or folder .NAME.part-xxxxxx beside a place. It is removed when this goes, and whatever a
/// killed program left under such a name is removed when the next one is made for the same place: as long as
/// its owner lives it is locked, and the lock ends with the owner.
class Draft {
 public:
  Draft() = default;
  ~Draft();
  Draft(Draft&& other) noexcept;
  Draft& operator=(Draft&& other) noexcept;

  /// Both throw std::system_error when the place's folder can't be written.
  static Draft folder_beside(const std::filesystem::path& place);
  static Draft file_beside(const std::filesystem::path& place);

  const std::filesystem::path& path() const { return path_; }
  /// What stands under the hidden name is no longer this one's to remove.
  void let_go() { path_.clear(); }
  /// Something else is to be removed instead.
  void take(std::filesystem::path path) { path_ = std::move(path); }

 private:
  Draft(std::filesystem::path path, int lock) : path_(std::move(path)), lock_(lock) {}

  std::filesystem::path path_;
  int lock_ = -1;  ///< an open file descriptor; -1: none
};

}  // namespace tuft::io
