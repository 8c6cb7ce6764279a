#include "tools/tuft/field_options.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "geometry/casefile/quantity.hpp"
#include "geometry/raster.hpp"
#include "tools/output/utf8.hpp"
#include "tools/tuft/exit_status.hpp"

namespace tuft::program {
namespace {

constexpr double kMostCells = 250000.0;  // a layer: some minutes and gigabytes; more is no help to anybody
constexpr double kFewestAcross = 8.0;    // cells over the shorter side: less shows nothing
constexpr double kQuickCells = 17500.0;  // a layer, within seconds
constexpr double kStep = 0.5e-3;         // defaults are multiples of this [m]

[[noreturn]] void refuse(const std::string& message, const char* option = "--cells: ") {
  throw Failure(ExitStatus::bad_input, option + output::printable(message));
}

double plan_area(const geometry::Device& device) { return device.size.x() * device.size.y(); }

std::string millimetres(double metres) { return fmt::format("{:.4g} mm", 1000.0 * metres); }

}  // namespace

CellRange cell_range(const geometry::Device& device) {
  // Rounded to the side that is allowed, so that the ends of the range as shown can be typed in.
  const double least = std::sqrt(plan_area(device) / kMostCells);
  const double most = std::min(device.size.x(), device.size.y()) / kFewestAcross;
  return {std::ceil(1e5 * least) / 1e5, std::floor(1e4 * most) / 1e4};
}

double default_cell(const geometry::Device& device) {
  const CellRange range = cell_range(device);
  const double wanted = std::ceil(std::sqrt(plan_area(device) / kQuickCells) / kStep - 1e-9) * kStep;
  return std::clamp(wanted, range.least, range.most);
}

double read_cell(const geometry::Device& device, const std::string& text) {
  if (text.empty()) return default_cell(device);
  const casefile::Quantity read = casefile::read_quantity(text, casefile::Dimension::length);
  if (!read.ok()) refuse(read.fault + (read.hint.empty() ? std::string() : "; " + read.hint));
  const double cell = *read.value;
  const CellRange range = cell_range(device);
  if (!(cell >= range.least && cell <= range.most))
    refuse("'" + text + "' is too " + (cell > range.most ? "coarse" : "fine") + " for this device: " +
           millimetres(range.least) + " to " + millimetres(range.most) + " are allowed");
  try {
    geometry::rasterise(device, cell);
  } catch (const std::invalid_argument& fault) {
    refuse("'" + text + "' is too coarse for this device: " + fault.what());
  }
  return cell;
}

std::optional<section::Plane> read_plane(const geometry::Device& device, const std::string& text) {
  if (text.empty()) return std::nullopt;
  constexpr const char* kOption = "--section: ";
  const std::size_t axis = std::string("xyz").find(text[0]);
  if (axis == std::string::npos || text.size() < 3 || text[1] != '=')
    refuse("'" + text + "' must be an axis and a place on it, such as x=120mm", kOption);
  const casefile::Quantity read = casefile::read_quantity(text.substr(2), casefile::Dimension::length);
  if (!read.ok()) refuse(read.fault + (read.hint.empty() ? std::string() : "; " + read.hint), kOption);
  const double most = device.size[static_cast<Eigen::Index>(axis)];
  section::Plane plane{static_cast<int>(axis), *read.value};
  if (!(plane.at > 0.0 && plane.at < most))
    refuse("'" + text + "' misses the device: " + text[0] + " from 0 to " + millimetres(most) + " is allowed",
           kOption);
  return plane;
}

}  // namespace tuft::program
