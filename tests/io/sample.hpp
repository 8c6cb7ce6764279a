// A small run made by hand, for the tests of the writers. The numbers are invented and need not balance.
#pragma once

#include <filesystem>
#include <string>

#include "tools/io/run.hpp"

namespace tuft::test {

/// A box with a grille (intake), a slot (exhaust), a side slot (both ways, not firm) and a seam, flat and on
/// its left edge, one sweep of three angles and one claim.
io::Run sample_run();

/// The bytes of a file; fails the test when it cannot be read.
std::string bytes_of(const std::filesystem::path& path);

/// An empty folder of its own, gone with everything in it at the end of the test.
class Scratch {
 public:
  Scratch();
  ~Scratch();
  Scratch(const Scratch&) = delete;
  Scratch& operator=(const Scratch&) = delete;
  const std::filesystem::path& path() const { return path_; }
  /// Number of entries directly in it, hidden ones included.
  std::size_t entries() const;

 private:
  std::filesystem::path path_;
};

}  // namespace tuft::test
