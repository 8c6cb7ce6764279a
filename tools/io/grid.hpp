// How text is to look on a terminal: colour, width, columns under headings.
#pragma once

#include <string>
#include <utility>
#include <vector>

namespace tuft::io {

/// What the place that the text goes to can show.
struct Look {
  bool colour = false;
  int width = 120;  ///< columns
};

/// The look for a file descriptor: colour if it is a terminal, TERM is not "dumb" and the environment
/// variable NO_COLOR is unset or empty; the terminal's width, held between 80 and 120 columns, and 80 where
/// there is no terminal.
Look look_of(int file_descriptor);

/// A variable of the environment; empty where it is not set.
std::string environment(const char* name);

/// Ways to set words apart. Meaning never rests on them alone: the words say the same.
enum class Ink { plain, strong, faint, blue, red, magenta, green, yellow };

/// The text in an ink, or as it is when the look has no colour.
std::string inked(const std::string& text, Ink ink, const Look& look);

/// One column: a heading of up to two lines (the second for the unit) and a cell for every row.
struct Column {
  std::string heading;
  std::string unit = {};
  std::vector<std::string> cells = {};
  bool number = false;         ///< flush right, decimal points below each other
  std::vector<Ink> inks = {};  ///< one a cell; empty: all plain
};

/// A column of words, or of numbers, without cells yet.
inline Column words(const std::string& heading, const std::string& unit = "") { return {heading, unit}; }
inline Column numbers(const std::string& heading, const std::string& unit) {
  return {heading, unit, {}, true};
}

/// The columns side by side, two spaces apart, each line with `indent` spaces in front and none at its end.
/// All columns have the same number of cells. Cells must be printable.
std::string lay_out(const std::vector<Column>& columns, int indent, const Look& look);

/// Columns that `lay_out` takes for these, without the indent.
int layout_width(const std::vector<Column>& columns);

/// Shortens the cells of the first column, which are names, until the columns with their indent fit the look;
/// to 8 columns at the least.
void narrow_names(std::vector<Column>& columns, int indent, const Look& look);

/// Text of a cell and its ink.
struct Cell {
  Cell(std::string words, Ink how = Ink::plain) : text(std::move(words)), ink(how) {}
  Cell(const char* words) : text(words) {}
  std::string text;
  Ink ink = Ink::plain;
};

/// A table that is filled row by row.
struct Table {
  std::vector<Column> columns;

  /// A cell for each column.
  void add(const std::vector<Cell>& row);
  bool empty() const { return columns.front().cells.empty(); }
};

/// The words as a paragraph of a look, each line with `first` or as many spaces in front.
std::string fill(const std::string& first, const std::string& words, const Look& look);

/// The same with no indent, `name` in front set apart in strong ink.
std::string headed(const std::string& name, const std::string& rest, const Look& look);

/// Words filled into lines of at most `width` columns; the first line starts with `first`, the others with
/// as many spaces.
std::string fill(const std::string& first, const std::string& words, int width);

}  // namespace tuft::io
