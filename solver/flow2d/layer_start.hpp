// Where the layers' solver starts from: the network's solution, or the fields of a coarser grid.
#pragma once

#include "solver/flow2d/layer_coupling.hpp"
#include "solver/network/solve.hpp"

namespace tuft::flow2d {

/// Still air at each zone's pressure and temperature in the network's solution; fans and passages run as
/// there.
Fields start_from_network(const LayerModel& model, const network::Solver& solver);

/// Sizes of things in the network's solution.
Magnitudes magnitudes_of(const LayerModel& model, const network::Solver& solver);

/// Fields of a coarser model of the same device carried over: linear inside a part, and from the cells of the
/// same part alone beside its walls. The models must have the same layers, links and nodes.
Fields start_from_coarse(const LayerModel& from, const Fields& coarse, const LayerModel& to);

/// Fields of the same device in another condition, on the same cells, as the start of this one: layers, links
/// and spaces that both have keep what they hold; the air of those that are new is at rest and as warm as the
/// room.
Fields carried_over(const LayerModel& from, const Fields& fields, const LayerModel& to);

/// Whether `start_from_coarse` can carry fields from one to the other.
bool alike(const LayerModel& a, const LayerModel& b);

}  // namespace tuft::flow2d
