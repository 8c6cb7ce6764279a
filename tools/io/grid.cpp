#include "tools/io/grid.hpp"

#include <sys/ioctl.h>
#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <sstream>

#include "tools/io/numbers.hpp"
#include "tools/io/words.hpp"

namespace tuft::io {
namespace {

constexpr int kPipeWidth = 80;   // what a pipe, a file or a mail is read in
constexpr int kLeastWidth = 60;  // below it a line wraps by itself
constexpr int kMostWidth = 120;

// Select Graphic Rendition codes of ISO/IEC 6429 (ECMA-48).
const char* code(Ink ink) { return word_among(ink, {"", "1", "2", "34", "31", "35", "32", "33"}); }

constexpr int kBetween = 2;

Column aligned(Column column) {
  if (column.number) column.cells = align_points(column.cells);
  return column;
}

int width_of(const Column& column) {
  int width = std::max(display_width(column.heading), display_width(column.unit));
  for (const std::string& cell : column.cells) width = std::max(width, display_width(cell));
  return width;
}

void trim_end(std::string& line) { line.erase(line.find_last_not_of(' ') + 1); }

// One line: what `cell_of(column)` is of every column.
template <typename CellOf>
std::string line_of(const std::vector<Column>& columns, int indent, const Look& look, CellOf cell_of) {
  std::string line(static_cast<std::size_t>(indent), ' ');
  for (std::size_t i = 0; i < columns.size(); ++i) {
    const Column& column = columns[i];
    const int width = width_of(column);
    const Cell cell = cell_of(column);
    std::string text = column.number ? pad_left(cell.text, width) : pad_right(cell.text, width);
    if (i + 1 == columns.size()) trim_end(text);
    line += inked(text, cell.ink, look);
    if (i + 1 < columns.size()) line += std::string(kBetween, ' ');
  }
  trim_end(line);
  return line + "\n";
}

}  // namespace

std::string environment(const char* name) {
  const char* value = std::getenv(name);
  return value == nullptr ? "" : value;
}

Look look_of(int file_descriptor) {
  Look look;
  look.width = kPipeWidth;
  if (isatty(file_descriptor) == 0) return look;
  look.colour = environment("NO_COLOR").empty() && environment("TERM") != "dumb";
  winsize size{};
  if (ioctl(file_descriptor, TIOCGWINSZ, &size) == 0 && size.ws_col > 0)
    look.width = std::clamp(static_cast<int>(size.ws_col), kLeastWidth, kMostWidth);
  return look;
}

std::string inked(const std::string& text, Ink ink, const Look& look) {
  if (!look.colour || ink == Ink::plain) return text;
  return std::string("\x1b[") + code(ink) + "m" + text + "\x1b[0m";
}

int layout_width(const std::vector<Column>& columns) {
  int width = columns.empty() ? 0 : -kBetween;
  for (const Column& column : columns) width += width_of(aligned(column)) + kBetween;
  return width;
}

std::string lay_out(const std::vector<Column>& raw, int indent, const Look& look) {
  if (raw.empty()) return "";
  std::vector<Column> columns;
  std::transform(raw.begin(), raw.end(), std::back_inserter(columns), aligned);
  std::string text =
      line_of(columns, indent, look, [](const Column& c) { return Cell(c.heading, Ink::faint); });
  if (std::any_of(columns.begin(), columns.end(), [](const Column& c) { return !c.unit.empty(); }))
    text += line_of(columns, indent, look, [](const Column& c) { return Cell(c.unit, Ink::faint); });
  for (std::size_t row = 0; row < columns.front().cells.size(); ++row)
    text += line_of(columns, indent, look, [row](const Column& c) {
      return Cell(c.cells[row], c.inks.empty() ? Ink::plain : c.inks[row]);
    });
  return text;
}

void narrow_names(std::vector<Column>& columns, int indent, const Look& look) {
  constexpr int kShortestName = 8;
  const int excess = layout_width(columns) + indent - look.width;
  if (excess <= 0) return;
  std::vector<std::string>& names = columns.front().cells;
  int longest = 0;
  for (const std::string& name : names) longest = std::max(longest, display_width(name));
  for (std::string& name : names) name = shortened(name, std::max(longest - excess, kShortestName));
}

std::string fill(const std::string& first, const std::string& words, int width) {
  const int indent = display_width(first);
  std::string text = first;
  int used = indent;
  std::istringstream stream(words);
  std::string word;
  bool fresh = true;
  while (stream >> word) {
    const int more = display_width(word);
    if (!fresh && used + 1 + more > width) {
      text += "\n" + std::string(static_cast<std::size_t>(indent), ' ');
      used = indent;
      fresh = true;
    }
    if (!fresh) text += ' ', ++used;
    text += word;
    used += more;
    fresh = false;
  }
  return text + "\n";
}

std::string fill(const std::string& first, const std::string& words, const Look& look) {
  return fill(first, words, look.width);
}

std::string headed(const std::string& name, const std::string& rest, const Look& look) {
  std::string text = fill("", name + rest, look);
  if (text.compare(0, name.size(), name) == 0) text.replace(0, name.size(), inked(name, Ink::strong, look));
  return text;
}

void Table::add(const std::vector<Cell>& row) {
  for (std::size_t i = 0; i < columns.size(); ++i) {
    columns[i].cells.push_back(row[i].text);
    columns[i].inks.push_back(row[i].ink);
  }
}

}  // namespace tuft::io
