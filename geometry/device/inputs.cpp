#include "geometry/device/inputs.hpp"

#include <algorithm>
#include <memory>
#include <numeric>
#include <utility>

#include "geometry/device/fields.hpp"

namespace tuft::geometry {
namespace {

bool is_law(const Input& input) { return input.key.compare(0, 5, "laws.") == 0; }

/// The used inputs by their keys, laws last; `number` becomes the new number of each.
std::vector<Input> kept_of(std::vector<Input> inputs, const std::vector<bool>& used,
                           std::vector<int>& number) {
  std::vector<std::size_t> order(inputs.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    const bool law = is_law(inputs[a]);
    return law == is_law(inputs[b]) ? inputs[a].key < inputs[b].key : !law;
  });
  std::vector<Input> kept;
  for (const std::size_t i : order) {
    if (!used[i]) continue;
    number[i] = static_cast<int>(kept.size());
    kept.push_back(std::move(inputs[i]));
  }
  return kept;
}

/// The columns of the used inputs; null where none is left.
std::shared_ptr<const JointSample> kept_of(const JointSample& joint, const std::vector<int>& number) {
  auto out = std::make_shared<JointSample>();
  out->places.resize(joint.places.size());
  for (std::size_t column = 0; column < joint.inputs.size(); ++column) {
    const int input = number[joint.inputs[column]];
    if (input < 0) continue;
    out->inputs.push_back(input);
    for (std::size_t row = 0; row < joint.places.size(); ++row)
      out->places[row].push_back(joint.places[row][column]);
  }
  return out->inputs.empty() ? nullptr : out;
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
  if (content.joint) content.joint = kept_of(*content.joint, number);
}

void trust_laws(Case& content) {
  const auto trust = [](Value& value) { value = Value(*value); };
  ValueWalk<decltype(trust)>(trust).field("", content.laws);
  keep_used_inputs(content);
}

}  // namespace tuft::geometry
