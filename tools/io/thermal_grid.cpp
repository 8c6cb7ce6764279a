#include "tools/io/thermal_grid.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <limits>
#include <optional>
#include <string_view>

namespace tuft::io {
namespace {

std::string_view without_blanks(std::string_view text) {
  const std::size_t first = text.find_first_not_of(" \r\"");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \r\"") - first + 1);
}

// A number, or no number for an empty field; no value for words.
std::optional<double> number_of(std::string_view field, bool decimal_comma) {
  std::string text(without_blanks(field));
  if (text.empty() || text == "nan" || text == "NaN") return std::numeric_limits<double>::quiet_NaN();
  if (decimal_comma) std::replace(text.begin(), text.end(), ',', '.');
  const char* begin = text.data() + (text[0] == '+' ? 1 : 0);
  const char* end = text.data() + text.size();
  double value = 0.0;
  const auto [last, error] = std::from_chars(begin, end, value);
  if (error != std::errc() || last != end || !std::isfinite(value)) return std::nullopt;
  return value;
}

std::vector<std::string_view> fields_of(std::string_view line, char divider) {
  std::vector<std::string_view> fields;
  for (std::size_t at = 0;;) {
    const std::size_t next = line.find(divider, at);
    const bool last = next == std::string_view::npos;
    const std::string_view field = line.substr(at, last ? std::string_view::npos : next - at);
    if (divider != ' ' || !without_blanks(field).empty()) fields.push_back(field);
    if (last) break;
    at = next + 1;
  }
  // A divider behind the last number begins no field.
  if (fields.size() > 1 && without_blanks(fields.back()).empty()) fields.pop_back();
  return fields;
}

char divider_of(std::string_view line) {
  for (const char divider : {';', '\t', ','})
    if (line.find(divider) != std::string_view::npos) return divider;
  return ' ';
}

// The numbers of a line; no value where it holds words, or nothing.
std::optional<std::vector<double>> row_of(std::string_view line) {
  const char divider = divider_of(line);
  std::vector<double> row;
  bool any = false;
  for (const std::string_view field : fields_of(line, divider)) {
    const auto number = number_of(field, divider != ',');
    if (!number) return std::nullopt;
    any = any || std::isfinite(*number);
    row.push_back(*number);
  }
  return any ? std::optional(row) : std::nullopt;
}

}  // namespace

NumberGrid read_grid(const std::string& text) {
  NumberGrid grid;
  std::string_view rest = text;
  if (rest.substr(0, 3) == "\xEF\xBB\xBF") rest.remove_prefix(3);
  for (int number = 1; !rest.empty(); ++number) {
    const std::size_t end = rest.find('\n');
    const std::string_view line = rest.substr(0, end);
    rest = end == std::string_view::npos ? std::string_view() : rest.substr(end + 1);
    if (without_blanks(line).empty()) continue;
    const auto row = row_of(line);
    const int width = row ? static_cast<int>(row->size()) : 0;
    if (!row && grid.height == 0) {
      ++grid.heading;
    } else if (!row) {
      grid.fault = fmt::format("line {} holds no row of numbers, but one above does", number);
      return grid;
    } else if (grid.height == 0 && width < 2) {
      ++grid.heading;  // a count or a date above the grid
    } else if (grid.height > 0 && width != grid.width) {
      grid.fault = fmt::format("line {} has {} numbers, and the first row {}", number, width, grid.width);
      return grid;
    } else {
      if (grid.values.size() + row->size() > kMostNumbers) {
        grid.fault = fmt::format("more than {} numbers", kMostNumbers);
        return grid;
      }
      grid.width = width;
      ++grid.height;
      grid.values.insert(grid.values.end(), row->begin(), row->end());
    }
  }
  if (grid.height < 2) grid.fault = "no rows of numbers";
  return grid;
}

}  // namespace tuft::io
