#include "tools/cli/field_options.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "geometry/casefile/quantity.hpp"
#include "geometry/device/raster.hpp"
#include "tools/io/utf8.hpp"
#include "tools/cli/exit_status.hpp"
#include "tools/cli/load.hpp"

namespace tuft::program {
namespace {

constexpr double kMostCells = 250000.0;  // a layer: some minutes and gigabytes; more is no help to anybody
constexpr double kFewestAcross = 8.0;    // cells over the shorter side: less shows nothing
constexpr double kQuickCells = 17500.0;  // a layer, within seconds
constexpr double kLongest = 360000.0;    // a course [s]
constexpr double kMostMoments = 2000.0;  // shown; more fills disks
constexpr double kStep = 0.5e-3;         // defaults are multiples of this [m]

[[noreturn]] void refuse_option(const std::string& message, const char* option = "--cells: ") {
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
  if (!read.ok()) refuse_option(read.fault + (read.hint.empty() ? std::string() : "; " + read.hint));
  const double cell = *read.value;
  const CellRange range = cell_range(device);
  if (!(cell >= range.least && cell <= range.most))
    refuse_option("'" + text + "' is too " + (cell > range.most ? "coarse" : "fine") + " for this device: " +
                  millimetres(range.least) + " to " + millimetres(range.most) + " are allowed");
  try {
    geometry::rasterise(device, cell);
  } catch (const std::invalid_argument& fault) {
    refuse_option("'" + text + "' is too coarse for this device: " + fault.what());
  }
  return cell;
}

std::optional<section::Plane> read_plane(const geometry::Device& device, const std::string& text) {
  if (text.empty()) return std::nullopt;
  constexpr const char* kOption = "--section: ";
  const std::size_t axis = std::string("xyz").find(text[0]);
  if (axis == std::string::npos || text.size() < 3 || text[1] != '=')
    refuse_option("'" + text + "' must be an axis and a place on it, such as x=120mm", kOption);
  const casefile::Quantity read = casefile::read_quantity(text.substr(2), casefile::Dimension::length);
  if (!read.ok()) refuse_option(read.fault + (read.hint.empty() ? std::string() : "; " + read.hint), kOption);
  const double most = device.size[static_cast<Eigen::Index>(axis)];
  section::Plane plane{static_cast<int>(axis), *read.value};
  if (!(plane.at > 0.0 && plane.at < most))
    refuse_option(
        "'" + text + "' misses the device: " + text[0] + " from 0 to " + millimetres(most) + " is allowed",
        kOption);
  return plane;
}

std::optional<CourseWish> read_course(const geometry::Case& content, const FieldOptions& options) {
  if (options.until.empty()) {
    if (!options.every.empty())
      refuse_option("it belongs to --until, which says how long to follow", "--every: ");
    if (!options.from.empty())
      refuse_option("it belongs to --until, which says how long to follow", "--from: ");
    return std::nullopt;
  }
  if (options.with_section || options.reentry)
    refuse_option("a section is not followed in time; leave --section and --reentry out", "--until: ");
  const auto seconds = [](const std::string& text, const char* option) {
    const bool bare = text.find_first_not_of("0123456789.") == std::string::npos;
    const casefile::Quantity read =
        casefile::read_quantity(bare ? text + " s" : text, casefile::Dimension::time);
    if (!read.ok())
      refuse_option(read.fault + (read.hint.empty() ? std::string() : "; " + read.hint), option);
    if (!(*read.value > 0.0)) refuse_option("'" + text + "' must lie after the start", option);
    return *read.value;
  };
  CourseWish wish;
  wish.until = seconds(options.until, "--until: ");
  if (wish.until > kLongest)
    refuse_option("'" + options.until + "' is more than 100 h, when nothing changes any more", "--until: ");
  if (!options.every.empty()) wish.every = seconds(options.every, "--every: ");
  if (wish.every > 0.0 && wish.until / wish.every > kMostMoments)
    refuse_option("'" + options.every + "' makes more than 2000 moments until " + options.until, "--every: ");
  const std::string steady = "steady:";
  if (options.from.empty() || options.from == "cold") return wish;
  if (options.from.rfind(steady, 0) != 0)
    refuse_option("'" + options.from + "' must be cold, or steady: and the name of a condition", "--from: ");
  wish.from = find_condition(content, options.from.substr(steady.size()));
  return wish;
}

}  // namespace tuft::program
