// Reader: quantities with a spread become inputs of the case.
#include <algorithm>
#include <utility>

#include "geometry/casefile/reader.hpp"
#include "geometry/device/values.hpp"

namespace tuft::casefile {
namespace {

// Lowest and highest value of a row's range [SI].
std::pair<double, double> bounds_of(const Key& row) {
  const bool open = row.low[0] == '>';
  const std::string_view low = open ? std::string_view(row.low).substr(1) : std::string_view(row.low);
  return {*read_quantity(low, row.dimension).value, *read_quantity(row.high, row.dimension).value};
}

}  // namespace

void Reader::add_input(const std::string& path, const Key& row, geometry::Value& value) {
  if (value.spread == geometry::SpreadKind::none) {
    exact_.insert(path);
    return;
  }
  const auto [it, is_new] = inputs_.emplace(path, static_cast<int>(content().inputs.size()));
  value.input = it->second;
  value.scale = 1.0;
  if (!is_new) return;
  geometry::Value prior = value;
  prior.input = -1;
  const auto [floor, ceiling] = bounds_of(row);
  content().inputs.push_back({path, prior, std::min(floor, prior.low), std::max(ceiling, prior.high)});
}

// What was read but belongs to nothing (a condition written out that the file has already) is no input.
void keep_used_inputs(Reader& reader) {
  geometry::Case& content = reader.content();
  std::vector<bool> used(content.inputs.size(), false);
  geometry::for_each_value(content, [&](const geometry::Value& value) {
    for (const int input : {value.input, value.times})
      if (input >= 0) used[static_cast<std::size_t>(input)] = true;
  });
  std::vector<int> number(used.size(), -1);
  std::vector<geometry::Input> kept;
  for (std::size_t i = 0; i < used.size(); ++i) {
    if (!used[i]) continue;
    number[i] = static_cast<int>(kept.size());
    kept.push_back(std::move(content.inputs[i]));
  }
  content.inputs = std::move(kept);
  geometry::for_each_value(content, [&](geometry::Value& value) {
    for (int* input : {&value.input, &value.times})
      if (*input >= 0) *input = number[static_cast<std::size_t>(*input)];
  });
}

}  // namespace tuft::casefile
