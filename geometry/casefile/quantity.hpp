// Quantities: a number, its unit and its uncertainty, as written in a case file.
//
//     35 W                exactly
//     35 W ± 10 %         normal, the central 95 % lie within; also +- and +/-
//     35 W ± 3 W          likewise; of a percentage, points: 42 % ± 5 % is 37..47 %
//     3..5 mm             uniform; nominal in the middle
//     3..4..5 mm          triangular with its mode at 4 mm
//     2 mm */ 3           log-uniform from 2/3 mm to 6 mm
//     2..3..4..6..9 mm    as likely between any two neighbours; five numbers or more, an odd number of them
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "geometry/casefile/units.hpp"
#include "geometry/device/spread.hpp"

namespace tuft::casefile {

/// A quantity that was understood, or why not.
struct Quantity {
  geometry::Value value;      ///< [SI]
  std::vector<double> steps;  ///< [SI] of a spread in steps, as geometry::Input has them; else empty
  std::string fault;          ///< what is wrong; empty if nothing is
  std::string hint;           ///< what to write instead; may be empty
  bool ok() const { return fault.empty(); }
};

/// Reads a quantity of the given dimension; temperatures are absolute, their spreads differences.
Quantity read_quantity(std::string_view text, Dimension wanted);

/// A value as a person would write it, in the given unit (a text `find_unit` knows), with its spread; of
/// `steps` the numbers are needed.
std::string write_quantity(const geometry::Value& value, const std::string& unit,
                           const std::vector<double>& steps = {});

}  // namespace tuft::casefile
