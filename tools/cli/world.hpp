// The processes that a launcher (mpirun) started together; one for itself without it.
#pragma once

#include "solver/study/ranks.hpp"

namespace tuft::study {

/// Built with MPI and started by its launcher: the group of all. Else this process alone. At most one at a
/// time, made at the beginning of main and destroyed at its end.
class World final : public Ranks {
 public:
  World();
  ~World() override;
  World(const World&) = delete;
  World& operator=(const World&) = delete;

  int count() const override { return count_; }
  int mine() const override { return mine_; }
  std::vector<std::string> exchange(const std::string& piece) const override;

  /// Sends what the other processes print, and what they complain of, nowhere: they only repeat the first.
  void quiet_others() const;

  /// True for the one process that may print and write.
  bool speaks() const { return mine_ == 0; }

 private:
  int count_ = 1;
  int mine_ = 0;
  bool started_ = false;  ///< MPI is running and has to be ended
};

}  // namespace tuft::study
