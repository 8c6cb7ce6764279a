#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "geometry/device/raster.hpp"
#include "tools/cli/field.hpp"

namespace tuft::cli {
namespace {

constexpr double kMostCells = 1e6;     // a layer: a quarter of an hour and 15 GB; more is no help to anybody
constexpr double kFewestAcross = 8.0;  // cells over the shorter side: less shows nothing
constexpr double kQuickCells = 17500.0;  // a layer, within seconds
constexpr double kLongest = 360000.0;    // a transient [s]
constexpr double kMostMoments = 2000.0;  // shown; more fills disks
constexpr double kStep = 0.5e-3;         // defaults are multiples of this [m]

double plan_area(const geometry::Device& device) { return device.size.x() * device.size.y(); }

std::string cell_size_text(double metres) { return fmt::format("{:.4g} mm", 1000.0 * metres); }

// Sides of a cell that a device allows [m].
struct CellRange {
  double least = 0.0, most = 0.0;
};

CellRange cell_range(const geometry::Device& device) {
  // Rounded to the side that is allowed, so that the ends of the range as shown can be typed in.
  const double least = std::sqrt(plan_area(device) / kMostCells);
  const double most = std::min(device.size.x(), device.size.y()) / kFewestAcross;
  return {std::ceil(1e5 * least) / 1e5, std::floor(1e4 * most) / 1e4};
}

}  // namespace

double default_cell(const geometry::Device& device) {
  const CellRange range = cell_range(device);
  const double wanted = std::ceil(std::sqrt(plan_area(device) / kQuickCells) / kStep - 1e-9) * kStep;
  return std::clamp(wanted, range.least, range.most);
}

double read_cell(const geometry::Device& device, const std::string& text) {
  if (text.empty()) return default_cell(device);
  const double cell = read_option("--cells", text, casefile::Dimension::length);
  const CellRange range = cell_range(device);
  if (!(cell >= range.least && cell <= range.most))
    refuse("--cells: '" + text + "' is too " + (cell > range.most ? "coarse" : "fine") +
           " for this device: " + cell_size_text(range.least) + " to " + cell_size_text(range.most) +
           " are allowed");
  try {
    geometry::rasterise(device, cell);
  } catch (const std::invalid_argument& fault) {
    refuse("--cells: '" + text + "' is too coarse for this device: " + fault.what());
  }
  return cell;
}

void require_half_cell(const geometry::Device& device, double cell) {
  const double least = cell_range(device).least;
  if (0.5 * cell < least)
    refuse("--refine: half of " + cell_size_text(cell) +
           " is too fine for this device: --cells of at least " + cell_size_text(2.0 * least) +
           " can be refined");
}

std::optional<flow2d::Plane> read_plane(const geometry::Device& device, const std::string& text) {
  if (text.empty()) return std::nullopt;
  const std::size_t axis = std::string("xyz").find(text[0]);
  if (axis == std::string::npos || text.size() < 3 || text[1] != '=')
    refuse("--section: '" + text + "' must be an axis and a place on it, such as x=120mm");
  const double most = device.size[static_cast<Eigen::Index>(axis)];
  const flow2d::Plane plane{static_cast<int>(axis),
                            read_option("--section", text.substr(2), casefile::Dimension::length)};
  if (!(plane.at > 0.0 && plane.at < most))
    refuse("--section: '" + text + "' misses the device: " + text[0] + " from 0 to " + cell_size_text(most) +
           " is allowed");
  return plane;
}

std::optional<TransientRequest> read_transient(const geometry::Case& content, const FieldOptions& options) {
  if (options.until.empty()) {
    for (const auto& [name, text] :
         {std::pair{"--every", &options.every}, std::pair{"--from", &options.from}})
      if (!text->empty())
        refuse(std::string(name) + ": it belongs to --until, which says how long to follow");
    return std::nullopt;
  }
  if (options.section.given || options.recirculation)
    refuse("--until: a section is not followed in time; leave --section and --recirculation out");
  if (options.refine) refuse("--until: a course is followed on one size of cells; leave --refine out");
  const auto seconds = [](const char* option, const std::string& text) {
    const double time = read_option(option, text, casefile::Dimension::time, "s");
    if (!(time > 0.0)) refuse(std::string(option) + ": '" + text + "' must lie after the start");
    return time;
  };
  TransientRequest wish;
  wish.until = seconds("--until", options.until);
  if (wish.until > kLongest)
    refuse("--until: '" + options.until + "' is more than 100 h, when nothing changes any more");
  if (!options.every.empty()) wish.every = seconds("--every", options.every);
  if (wish.every > 0.0 && wish.until / wish.every > kMostMoments)
    refuse("--every: '" + options.every + "' makes more than 2000 moments until " + options.until);
  if (!options.from.empty()) wish.from = read_start(content, options.from).value_or(-1);
  return wish;
}

}  // namespace tuft::cli
