// The memory that a field takes, estimated before it is solved, and refused where it is not there.
#include <fmt/format.h>
#include <sys/resource.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <optional>
#include <string>

#include "tools/cli/field.hpp"
#include "tools/io/numbers.hpp"

namespace tuft::cli {
namespace {

// Of a cell of one layer, at most: the example notebook took 6.7 to 7.1 kB on cells of 2 to 0.6 mm
// (docs/performance.md). Two layers are taken, the inside and the gap beneath.
constexpr double kPerCell = 7.5e3;  // [bytes]
constexpr double kLayers = 2.0;
constexpr double kProgram = 0.1e9;      // of everything else [bytes]
constexpr double kAlwaysThere = 0.5e9;  // less is not worth a look [bytes]

// What Linux would give without swapping; nothing where that is not known.
std::optional<double> free_of_machine() {
  std::ifstream file("/proc/meminfo");
  std::string word;
  double kilobytes = 0.0;
  while (file >> word)
    if (word == "MemAvailable:" && file >> kilobytes) return 1024.0 * kilobytes;
  return std::nullopt;
}

// What a limit on the address space leaves of it; nothing without a limit.
std::optional<double> free_of_limit() {
  rlimit limit{};
  if (getrlimit(RLIMIT_AS, &limit) != 0 || limit.rlim_cur == RLIM_INFINITY) return std::nullopt;
  return static_cast<double>(limit.rlim_cur);
}

// What the container that the program runs in may still take; nothing without a limit.
std::optional<double> free_of_container() {
  double most = 0.0, now = 0.0;
  // Without a limit the first says "max".
  if (!(std::ifstream("/sys/fs/cgroup/memory.max") >> most)) return std::nullopt;
  if (!(std::ifstream("/sys/fs/cgroup/memory.current") >> now)) return std::nullopt;
  return std::max(0.0, most - now);
}

double free_memory() {
  double least = HUGE_VAL;
  for (const std::optional<double>& found : {free_of_machine(), free_of_limit(), free_of_container()})
    if (found) least = std::min(least, *found);
  return least;
}

std::string gigabytes(double bytes) { return io::significant(1e-9 * bytes, 2, 2) + " GB"; }

}  // namespace

double field_memory(const geometry::Device& device, double cell) {
  return kProgram + kLayers * kPerCell * device.size.x() * device.size.y() / (cell * cell);
}

void require_memory(const geometry::Device& device, double cell) {
  const double needed = field_memory(device, cell);
  if (needed < kAlwaysThere) return;
  const double there = free_memory();
  if (needed <= there) return;
  const double bearable = cell * std::sqrt((needed - kProgram) / std::max(there - kProgram, 1e7));
  throw Failure(
      ExitStatus::no_solution,
      fmt::format("cells of {:.4g} mm need some {} of memory, and {} are free; cells of {:.4g} mm "
                  "would fit",
                  1e3 * cell, gigabytes(needed), gigabytes(there), 0.1 * std::ceil(1e4 * bearable)));
}

}  // namespace tuft::cli
