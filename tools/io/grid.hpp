// Columns of text under headings.
#pragma once

#include <string>
#include <vector>

#include "tools/io/look.hpp"

namespace tuft::output {

/// One column: a heading of up to two lines (the second for the unit) and a cell for every row.
struct Column {
  std::string heading;
  std::string unit;
  std::vector<std::string> cells;
  bool number = false;         ///< flush right, decimal points below each other
  std::vector<Ink> inks = {};  ///< one a cell; empty: all plain
};

/// The columns side by side, two spaces apart, each line with `indent` spaces in front and none at its end.
/// All columns have the same number of cells. Cells must be printable.
std::string lay_out(const std::vector<Column>& columns, int indent, const Look& look);

/// Columns that `lay_out` takes for these, without the indent.
int layout_width(const std::vector<Column>& columns);

/// Shortens the cells of the first column, which are names, until the columns with their indent fit the look;
/// to 8 columns at the least.
void narrow_names(std::vector<Column>& columns, int indent, const Look& look);

/// Words filled into lines of at most `width` columns; the first line starts with `first`, the others with
/// as many spaces.
std::string fill(const std::string& first, const std::string& words, int width);

}  // namespace tuft::output
