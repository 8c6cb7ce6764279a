// What `tuft field` is asked for, read and checked.
#pragma once

#include <optional>
#include <string>

#include "geometry/device/condition.hpp"
#include "geometry/device/device.hpp"
#include "solver/flow2d/section_plane.hpp"

namespace tuft::program {

struct FieldOptions {
  std::string path, condition, cells, out;
  std::string section;  ///< where, as written; empty: as the solver chooses
  bool with_section = false, reentry = false;
  std::string until, every, from;  ///< of a course in time, as typed
  bool no_files = false, quiet = false, progress = false;
};

/// A course in time as asked for.
struct CourseWish {
  double until = 0.0, every = 0.0;  ///< [s]; every 0: start and end only
  int from = -1;                    ///< condition in whose steady state it starts; -1: cold
};

/// What --until, --every and --from ask for; nothing without --until. Throws Failure (bad_input).
std::optional<CourseWish> read_course(const geometry::Case& content, const FieldOptions& options);

/// Sides of a cell that a device allows [m].
struct CellRange {
  double least = 0.0, most = 0.0;
};
CellRange cell_range(const geometry::Device& device);

/// The side of a cell when nobody asks for one [m]: the finest step of half a millimetre that takes seconds.
double default_cell(const geometry::Device& device);

/// The side of a cell [m] from the text of --cells; empty: the default. Throws Failure (bad_input) with the
/// allowed range.
double read_cell(const geometry::Device& device, const std::string& text);

/// The plane that the text of --section names: "x=206mm", "y=40mm"; empty: nothing, so that it is chosen.
/// Throws Failure (bad_input) with what is allowed.
std::optional<section::Plane> read_plane(const geometry::Device& device, const std::string& text);

}  // namespace tuft::program
