// The balance of a tracer in one cell, for the steady solve and for the run in time.
#pragma once

#include <array>

#include "solver/flow2d/section_tracer.hpp"

namespace tuft::section {

/// What enters a cell of air, each part with the share of where it comes from [kg/(s m)].
struct TracerBalance {
  double source = 0.0;  ///< let out by its vent
  double room = 0.0;    ///< through a rim
  int neighbours = 0;
  std::array<int, 4> i{}, j{};
  std::array<double, 4> carried{};  ///< from a neighbour: by flow, and by what the two exchange
  /// All of it: the cell's own share takes this part along.
  double whole() const;
};

TracerBalance tracer_balance(const field::Problem& problem, const Carriers& carriers, int i, int j);

/// Largest distance of all shares' sum from 1, over the cells of air.
double sum_error(const Model& model, const Tracers& tracers);

}  // namespace tuft::section
