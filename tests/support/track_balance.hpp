// Whether the flows that particles are to follow balance.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

#include "solver/flow2d/tracks.hpp"

namespace tuft::test {

/// The largest leftover of an air cell's balance, over the most that passes any [-].
inline double worst_balance(const flow2d::TrackFlow& flow) {
  std::vector<std::vector<double>> net, all;
  for (const flow2d::FlowGrid& grid : flow.grids) {
    net.emplace_back(grid.mass.size(), 0.0);
    all.emplace_back(grid.mass.size(), 0.0);
  }
  const auto index = [](const flow2d::FlowGrid& grid, int i, int j) {
    return static_cast<std::size_t>(j) * static_cast<std::size_t>(grid.nx()) + static_cast<std::size_t>(i);
  };
  const auto add = [&](int grid, int i, int j, double into) {
    const auto g = static_cast<std::size_t>(grid);
    net[g][index(flow.grids[g], i, j)] += into;
    all[g][index(flow.grids[g], i, j)] += std::abs(into);
  };
  const auto arrive = [&](const std::vector<flow2d::Landing>& to, double stream) {
    double sum = 0.0;
    for (const flow2d::Landing& landing : to) sum += landing.share;
    for (const flow2d::Landing& landing : to)  // through a face it is counted there
      if (landing.side == flow2d::CellExit::none)
        add(landing.grid, landing.i, landing.j, stream * landing.share / sum);
  };
  for (std::size_t n = 0; n < flow.grids.size(); ++n) {
    const flow2d::FlowGrid& grid = flow.grids[n];
    for (int j = 0; j < grid.ny(); ++j)
      for (int i = 0; i < grid.nx(); ++i) {
        const int g = static_cast<int>(n);
        add(g, i, j, grid.u(i, j));
        add(g, i, j, -grid.u(i + 1, j));
        add(g, i, j, grid.v(i, j));
        add(g, i, j, -grid.v(i, j + 1));
        for (const flow2d::Leak& leak : grid.leaks(i, j)) {
          add(g, i, j, -leak.flow);
          arrive(flow.gates[static_cast<std::size_t>(leak.gate)].to, leak.flow);
        }
      }
  }
  for (const flow2d::TrackSource& source : flow.sources) arrive(source.to, source.flow);
  double largest = 0.0, worst = 0.0;
  for (std::size_t g = 0; g < net.size(); ++g)
    for (std::size_t k = 0; k < net[g].size(); ++k) {
      largest = std::max(largest, all[g][k]);
      if (flow.grids[g].mass[k] > 0.0) worst = std::max(worst, std::abs(net[g][k]));
    }
  return largest > 0.0 ? worst / largest : 0.0;
}

}  // namespace tuft::test
