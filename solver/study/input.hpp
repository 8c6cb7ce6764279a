// The uncertain inputs of a study: those of the case, then factors of model doubt.
#pragma once

#include <string>
#include <vector>

#include "geometry/device/condition.hpp"
#include "solver/uncertainty/correlation.hpp"
#include "solver/uncertainty/distribution.hpp"

namespace tuft::ensemble {

/// One uncertain input.
struct Input {
  std::string key;  ///< path in the case file, or the name of a FlowFactor
  doubt::Distribution prior;
  geometry::Origin origin = geometry::Origin::given;
  int of_case = -1;  ///< number in Case::inputs; -1: a factor of model doubt
};

/// Doubt of the model itself, one input: the flows of vents in some conditions may be larger or smaller by a
/// factor than the network says (from its agreement with the field).
struct FlowFactor {
  std::string key;            ///< "model.flow.base-grille"
  doubt::Distribution prior;  ///< of the factor [-], > 0, nominal 1
  struct Where {
    int condition = 0;  ///< index into Case::conditions
    int vent = 0;       ///< index into Device::vents
  };
  std::vector<Where> where;
};

/// The inputs of a case in its own order (Case::inputs), then the factors.
/// Throws std::invalid_argument if a prior is not valid (doubt::require_valid), naming its key.
std::vector<Input> inputs_of(const geometry::Case& content, const std::vector<FlowFactor>& factors = {});

/// How they hang together. Throws std::invalid_argument as doubt::Correlation does.
doubt::Correlation correlation_of(const geometry::Case& content, const std::vector<Input>& inputs);

}  // namespace tuft::ensemble
