// The doubt of the model itself, from a folder in which the network was compared with the field.
#pragma once

#include <string>
#include <vector>

#include "geometry/device/condition.hpp"
#include "solver/study/sampler.hpp"

namespace tuft::program {

/// One factor for every vent and condition that results.json in `folder` has under `field.model_doubt`: the
/// flow may be off by as much as network and field are apart, either way (log-uniform with
/// |ln(field/network)| as standard deviation of the logarithm, at most ln 10; judgement). Other conditions
/// get none. Vents that agree within 1 % get none. Throws Failure (bad_input) if the folder has no such file,
/// or it speaks of another device.
std::vector<ensemble::FlowFactor> read_field_doubt(const geometry::Case& content, const std::string& folder);

}  // namespace tuft::program
