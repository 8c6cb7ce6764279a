#include "geometry/device/inputs.hpp"

#include <utility>

#include "geometry/device/fields.hpp"

namespace tuft::geometry {
namespace {

std::vector<Input> kept_of(std::vector<Input> inputs, const std::vector<bool>& used,
                           std::vector<int>& number) {
  std::vector<Input> kept;
  for (std::size_t i = 0; i < used.size(); ++i) {
    if (!used[i]) continue;
    number[i] = static_cast<int>(kept.size());
    kept.push_back(std::move(inputs[i]));
  }
  return kept;
}

}  // namespace

void keep_used_inputs(Case& content) {
  std::vector<bool> used(content.inputs.size(), false);
  for_each_value(content, [&](const Value& value) {
    for (const int input : {value.input, value.times})
      if (input >= 0) used[input] = true;
  });
  std::vector<int> number(used.size(), -1);
  content.inputs = kept_of(std::move(content.inputs), used, number);
  for_each_value(content, [&](Value& value) {
    for (int* input : {&value.input, &value.times})
      if (*input >= 0) *input = number[*input];
  });
  std::vector<Correlated> correlations;
  for (const Correlated& pair : content.correlations)
    if (used[pair.first] && used[pair.second])
      correlations.push_back({number[pair.first], number[pair.second], pair.correlation});
  content.correlations = std::move(correlations);
}

void trust_laws(Case& content) {
  const auto trust = [](Value& value) { value = Value(*value); };
  ValueWalk<decltype(trust)>(trust).field("", content.laws);
  keep_used_inputs(content);
}

}  // namespace tuft::geometry
