// Processes that work on one study together: the interface alone; how they talk is nobody's business here.
#pragma once

#include <string>
#include <vector>

namespace tuft::study {

/// A group of processes that all run the same program on the same input. Each does its own part of the work;
/// what `exchange` returns is the same everywhere, so that all of them go on alike.
class Ranks {
 public:
  virtual ~Ranks() = default;
  virtual int count() const = 0;  ///< number of processes, >= 1
  virtual int mine() const = 0;   ///< number of this one, 0 .. count - 1; only 0 may write

  /// Hands a piece of bytes to everybody; returns the pieces of all, in the order of the processes. All
  /// processes must call it. Throws std::runtime_error if a process can't be reached.
  virtual std::vector<std::string> exchange(const std::string& piece) const = 0;
};

/// One process for itself.
class Alone final : public Ranks {
 public:
  int count() const override { return 1; }
  int mine() const override { return 0; }
  std::vector<std::string> exchange(const std::string& piece) const override { return {piece}; }
};

}  // namespace tuft::study
