// The one file that names MPI.
#include "tools/cli/world.hpp"

#include <algorithm>
#include <cstdio>
#include <cstdlib>

#ifdef TUFT_MPI
#define OMPI_SKIP_MPICXX 1
#define MPICH_SKIP_MPICXX 1
#include <mpi.h>
#endif

namespace tuft::study {

#ifdef TUFT_MPI
namespace {

// Starting MPI costs more than most commands take, so it is left alone unless a launcher is at work.
bool launched() {
  for (const char* sign : {"OMPI_COMM_WORLD_SIZE", "PMI_SIZE", "PMIX_RANK"})
    if (std::getenv(sign) != nullptr) return true;
  return false;
}

}  // namespace

World::World() {
  if (!launched()) return;
  int provided = 0;
  MPI_Init_thread(nullptr, nullptr, MPI_THREAD_FUNNELED, &provided);
  started_ = true;
  MPI_Comm_size(MPI_COMM_WORLD, &count_);
  MPI_Comm_rank(MPI_COMM_WORLD, &mine_);
}

World::~World() {
  if (started_) MPI_Finalize();
}

// An error of MPI ends all processes, as is its default.
std::vector<std::string> World::exchange(const std::string& piece) const {
  constexpr std::size_t kMost = 1u << 30;  // bytes in one call, which counts with an int
  if (count_ == 1) return {piece};
  std::vector<std::string> pieces(static_cast<std::size_t>(count_));
  for (int rank = 0; rank < count_; ++rank) {
    std::string& from = pieces[rank];
    if (rank == mine_) from = piece;
    unsigned long long size = from.size();
    MPI_Bcast(&size, 1, MPI_UNSIGNED_LONG_LONG, rank, MPI_COMM_WORLD);
    from.resize(size);
    for (std::size_t at = 0; at < from.size(); at += kMost)
      MPI_Bcast(from.data() + at, static_cast<int>(std::min(kMost, from.size() - at)), MPI_BYTE, rank,
                MPI_COMM_WORLD);
  }
  return pieces;
}

void World::quiet_others() const {
  if (speaks()) return;
  for (std::FILE* stream : {stdout, stderr})
    if (std::freopen("/dev/null", "w", stream) == nullptr) std::fclose(stream);
}

#else

World::World() = default;
World::~World() = default;
std::vector<std::string> World::exchange(const std::string& piece) const { return {piece}; }
void World::quiet_others() const {}

#endif

}  // namespace tuft::study
