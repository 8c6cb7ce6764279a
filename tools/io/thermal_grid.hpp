// A grid of temperatures as thermal cameras write it: rows of numbers in a text.
#pragma once

#include <string>
#include <vector>

namespace tuft::io {

/// Numbers in rows, from the top, each row from the left.
struct NumberGrid {
  int width = 0, height = 0;
  std::vector<double> values;  ///< width * height; not a number where a field is empty
  int heading = 0;             ///< lines above that hold words
  std::string fault;           ///< why there is no grid, with the line; empty if nothing is wrong

  double at(int column, int row) const {
    return values[static_cast<std::size_t>(row) * static_cast<std::size_t>(width) +
                  static_cast<std::size_t>(column)];
  }
};

/// Most numbers of a grid.
constexpr std::size_t kMostNumbers = 8'000'000;

/// Reads rows of numbers, divided by semicolons, tabs, commas or spaces; where the divider is no comma,
/// decimals may follow one. Lines of words above the first row are passed over. Never throws for any text.
NumberGrid read_grid(const std::string& text);

}  // namespace tuft::io
