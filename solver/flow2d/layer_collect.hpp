// From solved fields to results.
#pragma once

#include "solver/flow2d/layer_coupling.hpp"
#include "solver/flow2d/layer_result.hpp"
#include "solver/network/solve.hpp"

namespace tuft::flow2d {

/// Flows of every vent by the network.
std::vector<VentFlows> network_flows(const LayerModel& model);

/// Fills vents, fans, passages and the through-flow alone; result->ambient_temperature must be set.
void collect_flows(const geometry::Device& device, const LayerModel& model, const Fields& fields,
                   const Coupling& coupling, PlanResult* result);

/// Fills everything that is read from fields into `result` (network_vents included). `coupling` must have
/// been evaluated at them, and `model` made with `given`.
void collect(const geometry::Device& device, const LayerBoundaryData& given, const LayerModel& model,
             const Fields& fields, const Coupling& coupling, PlanResult* result);

/// Replaces the flows collected by means over time.
void put_means(const PlanResult& means, PlanResult* result);

}  // namespace tuft::flow2d
