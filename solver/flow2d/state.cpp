#include "solver/flow2d/state.hpp"

#include <algorithm>
#include <cstddef>

#include "solver/numerics/curves.hpp"

namespace tuft::flow2d {
namespace {

/// Linear interpolation of values at increasing `nodes`; constant beyond the ends.
struct Place {
  int at = 0;
  double weight = 0.0;  ///< of node at+1
};

Place locate(const std::vector<double>& nodes, double x) {
  if (nodes.size() == 1) return {0, 0.0};
  const int at = numerics::interval_of(nodes, x);
  const double a = nodes[at], b = nodes[at + 1];
  return {at, std::clamp((x - a) / (b - a), 0.0, 1.0)};
}

Array2 interpolate(const std::vector<double>& xs, const std::vector<double>& ys, const Array2& values,
                   const std::vector<double>& xt, const std::vector<double>& yt) {
  Array2 out(static_cast<int>(xt.size()), static_cast<int>(yt.size()));
  for (int j = 0; j < out.ny(); ++j) {
    const Place q = locate(ys, yt[j]);
    const int j1 = std::min(q.at + 1, values.ny() - 1);
    for (int i = 0; i < out.nx(); ++i) {
      const Place p = locate(xs, xt[i]);
      const int i1 = std::min(p.at + 1, values.nx() - 1);
      out(i, j) = (1 - q.weight) * ((1 - p.weight) * values(p.at, q.at) + p.weight * values(i1, q.at)) +
                  q.weight * ((1 - p.weight) * values(p.at, j1) + p.weight * values(i1, j1));
    }
  }
  return out;
}

}  // namespace

void impose_given_velocities(const Problem& problem, State* state) {
  for (std::size_t k = 0; k < problem.held.size(); ++k)
    if (problem.held[k]) state->temperature[k] = problem.held_temperature[k];
  const int nx = problem.grid.nx(), ny = problem.grid.ny();
  const auto given = [](const Edge& e) { return e.kind == EdgeKind::inflow ? e.normal : 0.0; };
  for (int j = 0; j < ny; ++j) {
    const Edge left = problem.edge(Side::left, j), right = problem.edge(Side::right, j);
    if (left.kind != EdgeKind::outlet || problem.is_solid(0, j))
      state->u()(0, j) = problem.is_solid(0, j) ? 0.0 : given(left);
    if (right.kind != EdgeKind::outlet || problem.is_solid(nx - 1, j))
      state->u()(nx, j) = problem.is_solid(nx - 1, j) ? 0.0 : given(right);
    for (int i = 1; i < nx; ++i)
      if (problem.is_solid(i - 1, j) || problem.is_solid(i, j)) state->u()(i, j) = 0.0;
    for (int i = 0; i <= nx; ++i)
      if (problem.is_barrier(0, i, j)) state->u()(i, j) = 0.0;
  }
  for (int i = 0; i < nx; ++i) {
    const Edge bottom = problem.edge(Side::bottom, i), top = problem.edge(Side::top, i);
    if (bottom.kind != EdgeKind::outlet || problem.is_solid(i, 0))
      state->v()(i, 0) = problem.is_solid(i, 0) ? 0.0 : given(bottom);
    if (top.kind != EdgeKind::outlet || problem.is_solid(i, ny - 1))
      state->v()(i, ny) = problem.is_solid(i, ny - 1) ? 0.0 : given(top);
    for (int j = 1; j < ny; ++j)
      if (problem.is_solid(i, j - 1) || problem.is_solid(i, j)) state->v()(i, j) = 0.0;
    for (int j = 0; j <= ny; ++j)
      if (problem.is_barrier(1, i, j)) state->v()(i, j) = 0.0;
  }
}

State still_state(const Problem& problem) {
  const int nx = problem.grid.nx(), ny = problem.grid.ny();
  State state{
      {Array2(nx + 1, ny), Array2(nx, ny + 1)}, Array2(nx, ny), Array2(nx, ny, problem.fluid.temperature)};
  impose_given_velocities(problem, &state);
  return state;
}

State interpolated(const Problem& from, const State& coarse, const Problem& to) {
  const Grid& a = from.grid;
  const Grid& b = to.grid;
  State fine{{interpolate(a.x.faces(), a.y.centres(), coarse.u(), b.x.faces(), b.y.centres()),
              interpolate(a.x.centres(), a.y.faces(), coarse.v(), b.x.centres(), b.y.faces())},
             interpolate(a.x.centres(), a.y.centres(), coarse.pressure, b.x.centres(), b.y.centres()),
             interpolate(a.x.centres(), a.y.centres(), coarse.temperature, b.x.centres(), b.y.centres())};
  impose_given_velocities(to, &fine);
  return fine;
}

}  // namespace tuft::flow2d
