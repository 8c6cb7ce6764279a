#include "solver/study/input.hpp"

#include <stdexcept>

namespace tuft::ensemble {
namespace {

doubt::Shape shape_of(geometry::SpreadKind kind) {
  switch (kind) {
    case geometry::SpreadKind::none:
      break;
    case geometry::SpreadKind::normal:
      return doubt::Shape::normal;
    case geometry::SpreadKind::uniform:
      return doubt::Shape::uniform;
    case geometry::SpreadKind::log_uniform:
      return doubt::Shape::log_uniform;
    case geometry::SpreadKind::triangular:
      return doubt::Shape::triangular;
  }
  return doubt::Shape::fixed;
}

Input input_of(const geometry::Input& written, int number) {
  Input input;
  input.key = written.key;
  input.prior = {shape_of(written.prior.spread),
                 *written.prior,
                 written.prior.low,
                 written.prior.high,
                 written.floor,
                 written.ceiling};
  input.origin = written.prior.origin;
  input.of_case = number;
  return input;
}

}  // namespace

std::vector<Input> inputs_of(const geometry::Case& content, const std::vector<FlowFactor>& factors) {
  std::vector<Input> inputs;
  for (std::size_t i = 0; i < content.inputs.size(); ++i)
    inputs.push_back(input_of(content.inputs[i], static_cast<int>(i)));
  for (const FlowFactor& factor : factors) inputs.push_back({factor.key, factor.prior});
  for (const Input& input : inputs) doubt::require_valid(input.prior, input.key.c_str());
  for (const FlowFactor& factor : factors)
    if (!(factor.prior.low > 0.0 && factor.prior.floor >= 0.0))
      throw std::invalid_argument(factor.key + ": a factor on flows has to stay above 0");
  return inputs;
}

doubt::Correlation correlation_of(const geometry::Case& content, const std::vector<Input>& inputs) {
  std::vector<doubt::CorrelatedPair> pairs;
  for (const geometry::Together& pair : content.together)
    pairs.push_back({pair.first, pair.second, pair.correlation});
  std::vector<std::string> names;
  for (const Input& input : inputs) names.push_back(input.key);
  return {static_cast<int>(inputs.size()), pairs, names};
}

}  // namespace tuft::ensemble
