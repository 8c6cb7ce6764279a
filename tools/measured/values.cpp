#include "tools/measured/values.hpp"

#include <cmath>
#include <fstream>
#include <sstream>
#include <stdexcept>

namespace tuft::measured {
namespace {

constexpr const char* kValueHeading = "case,condition,quantity,of,against,measured,low,high,unit,kind,source";
constexpr const char* kTrendHeading = "case,claim,published";

[[noreturn]] void wrong(const std::string& path, int line, const std::string& what) {
  throw std::runtime_error(path + ":" + std::to_string(line) + ": " + what);
}

/// Cells of a line; the last of `columns` takes the rest, commas and all.
std::vector<std::string> cells_of(const std::string& line, std::size_t columns) {
  std::vector<std::string> cells;
  std::size_t from = 0;
  while (cells.size() + 1 < columns) {
    const std::size_t comma = line.find(',', from);
    if (comma == std::string::npos) break;
    cells.push_back(line.substr(from, comma - from));
    from = comma + 1;
  }
  cells.push_back(line.substr(from));
  return cells;
}

/// Calls take(cells, line) for each row.
template <class Take>
void for_each_row(const std::string& path, const std::string& heading, std::size_t columns,
                  const Take& take) {
  std::ifstream in(path);
  std::string text;
  if (!in || !std::getline(in, text)) wrong(path, 1, "can't be read");
  if (text != heading) wrong(path, 1, "the heading is '" + text + "', not '" + heading + "'");
  for (int line = 2; std::getline(in, text); ++line) {
    if (text.empty()) continue;
    const std::vector<std::string> cells = cells_of(text, columns);
    if (cells.size() != columns)
      wrong(path, line, std::to_string(cells.size()) + " columns, not " + std::to_string(columns));
    take(cells, line);
  }
}

}  // namespace

std::vector<Value> read_values(const std::string& path) {
  std::vector<Value> values;
  for_each_row(path, kValueHeading, 11, [&](const std::vector<std::string>& cells, int line) {
    const auto number = [&](std::size_t column) {
      std::istringstream in(cells[column]);
      double value = 0.0;
      if (!(in >> value) || !in.eof()) wrong(path, line, "'" + cells[column] + "' is no number");
      return value;
    };
    Value value{cells[0],  cells[1],  cells[2],  cells[3], cells[4],
                number(5), number(6), number(7), cells[8], cells[9] == "counts",
                cells[10]};
    if (cells[9] != "counts" && cells[9] != "trend")
      wrong(path, line, "kind '" + cells[9] + "' is neither 'counts' nor 'trend'");
    if (!(value.low < value.measured && value.measured < value.high))
      wrong(path, line, "the range does not hold the value");
    values.push_back(value);
  });
  return values;
}

std::vector<Trend> read_trends(const std::string& path) {
  std::vector<Trend> trends;
  for_each_row(path, kTrendHeading, 3, [&](const std::vector<std::string>& cells, int line) {
    if (cells[2] != "true" && cells[2] != "false")
      wrong(path, line, "'" + cells[2] + "' is neither 'true' nor 'false'");
    trends.push_back({cells[0], cells[1], cells[2] == "true"});
  });
  return trends;
}

}  // namespace tuft::measured
