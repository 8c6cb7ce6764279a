// How long the layers of a field take, said before they are solved.
#include <fmt/format.h>

#include <cmath>

#include "tools/cli/field.hpp"
#include "tools/io/numbers.hpp"

namespace tuft::cli {
namespace {

// Of two layers on `kMeasuredCells` cells each, one thread at 2.6 GHz (docs/field.md, What it costs). The
// factors rule: their work grows as the power 1.5 of the cells.
constexpr double kMeasuredCells = 17500.0;
constexpr double kUsualTime = 3.0;     // [s]
constexpr double kMostTime = 150.0;    // with all the steps in time that are allowed [s]
constexpr double kWorthSaying = 10.0;  // [s]

}  // namespace

FieldTime field_time(const geometry::Device& device, double cell) {
  const double cells = device.size.x() * device.size.y() / (cell * cell);
  const double work = std::pow(cells / kMeasuredCells, 1.5);
  return {kUsualTime * work, kMostTime * work};
}

std::string field_time_text(const geometry::Device& device, double cell) {
  const FieldTime time = field_time(device, cell);
  if (time.usual < kWorthSaying) return {};
  const double cells = device.size.x() * device.size.y() / (cell * cell);
  return fmt::format(
      "Cells of {:.3g} mm are some {} in each layer: about {} of processor time, and up to {} where no "
      "steady "
      "state is found at once.",
      1000.0 * cell, io::significant(cells, 2, 0), io::duration_text(time.usual),
      io::duration_text(time.most));
}

}  // namespace tuft::cli
