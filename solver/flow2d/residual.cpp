#include "solver/flow2d/residual.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "solver/flow2d/array2.hpp"

namespace tuft::flow2d {

Residual::Residual(const Problem& problem)
    : problem_(problem), mesh_(problem), scales_(scales_of(problem, nullptr)), limiter_scales_(scales_) {
  const int nx = problem.grid.nx(), ny = problem.grid.ny();
  constant_ = problem.fluid.sutherland == 0.0 && problem.closure.empty();
  density_ = Array2(nx, ny, problem.fluid.density);
  buoyancy_ = Array2(nx, ny);
  viscosity_ = Array2(nx, ny, problem.fluid.viscosity);
  conductivity_ = Array2(nx, ny, problem.fluid.conductivity);
  for (int j = 0; j < ny; ++j)
    for (int i = 0; i < nx; ++i)
      if (problem.is_solid(i, j))
        conductivity_(i, j) = problem.solid_conductivity.empty() ? 0.0 : problem.solid_conductivity(i, j);
  exchange_ = {Array2(nx, ny), Array2(nx, ny), Array2(nx, ny), {}};
  if (brings_momentum(problem)) exchange_.brought = {Array2(nx, ny), Array2(nx, ny)};
  if (!problem.wall_loss.empty()) lost_ = Array2(nx, ny);
  if (!problem.held.empty()) given_heat_ = Array2(nx, ny);
  if (!problem.channels.empty()) channel_conductance_ = channel_heat_ = Array2(nx, ny);
  flow_ = {Array2(nx + 1, ny), Array2(nx, ny + 1)};
  heat_ = flow_;
  conductance_ = flow_;
  along_ = {Array2(nx, ny), Array2(nx, ny)};
  across_ = {Array2(nx + 1, ny + 1), Array2(nx + 1, ny + 1)};
  set_conductance();
}

double Residual::small_velocity_slope() const {
  const double slope = limiter_scales_.velocity / limiter_scales_.length;
  return 1e-2 * slope * slope;
}

double Residual::small_temperature_slope() const {
  const double slope = limiter_scales_.temperature / limiter_scales_.length;
  return 1e-2 * slope * slope;
}

void Residual::evaluate_mass(const State& state, State* out) {
  set_properties(state);
  set_mass_flow(state);
  set_all_exchange(state);
  balance_mass(out);
}

/// Sources, and what the caller gave.
void Residual::set_all_exchange(const State& state) {
  const bool own = !problem_.mass_source.empty();
  exchanges_ = own || beyond_ != nullptr;
  if (!exchanges_) return;
  if (beyond_ == nullptr) {
    set_exchange(problem_, mesh_.volume, state, &exchange_);
    return;
  }
  if (!own) {
    exchange_ = *beyond_;
    return;
  }
  set_exchange(problem_, mesh_.volume, state, &exchange_);
  for (std::size_t k = 0; k < exchange_.mass.size(); ++k) {
    exchange_.mass[k] += beyond_->mass[k];
    exchange_.out[k] += beyond_->out[k];
    exchange_.heat[k] += beyond_->heat[k];
  }
}

/// p' at a rim face (F20): that beyond, less what air that enters an outlet loses.
double Residual::rim_pressure(int d, bool high, int c, double velocity, int i, int j) const {
  const Edge& e = mesh_.edges[2 * d + (high ? 1 : 0)][c];
  const double inwards = high ? -velocity : velocity;
  if (e.inertial_in == 0.0 || !(inwards > 0.0)) return e.pressure;
  return e.pressure - e.inertial_in * face_density(d, i, j, velocity) * std::abs(inwards) * inwards;
}

double Residual::face_density(int d, int i, int j, double velocity) const {
  const Axis& axis = problem_.grid.axis(d);
  const int a = d == 0 ? i : j, c = d == 0 ? j : i;
  const bool low = a == 0, high = a == axis.n();
  const double before = low ? 0.0 : d == 0 ? density_(i - 1, j) : density_(i, j - 1);
  const double after = high ? 0.0 : density_(i, j);
  if (low || high) {
    const Edge& e = mesh_.edges[2 * d + (high ? 1 : 0)][c];
    const bool enters = low ? velocity > 0.0 : velocity < 0.0;
    return e.kind == EdgeKind::inflow || enters ? problem_.fluid.density_at(e.temperature)
           : low                                ? after
                                                : before;
  }
  const double w_before = axis.widths()[a - 1], w_after = axis.widths()[a];
  return (before * w_after + after * w_before) / (w_before + w_after);
}

void Residual::evaluate(const State& state, State* out) {
  evaluate_mass(state, out);
  add_momentum_along<0>(state);
  add_momentum_along<1>(state);
  add_momentum_across<0>(state);
  add_momentum_across<1>(state);
  set_rim_across<0>(state);
  set_rim_across<1>(state);
  balance_momentum<0>(state, out);
  balance_momentum<1>(state, out);
  if (!problem_.energy) {
    out->temperature.fill(0.0);
    return;
  }
  set_heat_flow<0>(state);
  set_heat_flow<1>(state);
  set_rim_heat(state);
  for (const HeatedChannels& channels : problem_.channels)
    set_channel_heat(channels, problem_.fluid, flow_, state.temperature, &channel_conductance_,
                     &channel_heat_);
  balance_heat(state, out);
}

void Residual::set_properties(const State& state) {
  const Fluid& fluid = problem_.fluid;
  const bool gas = fluid.law == DensityLaw::ideal_gas;
  for_rows(0, density_.ny(), density_.size(), [&](int j) {
    for (int i = 0; i < density_.nx(); ++i) {
      const double t = state.temperature(i, j);
      if (gas) density_(i, j) = fluid.density_at(t);
      buoyancy_(i, j) = fluid.buoyancy_density(t);
      if (constant_) continue;
      const double ratio = fluid.transport_ratio(t);
      viscosity_(i, j) = fluid.viscosity * ratio;
      if (!problem_.is_solid(i, j)) conductivity_(i, j) = fluid.conductivity * ratio;
    }
  });
  if (!problem_.closure.empty()) add_eddy(problem_, state, density_, &viscosity_, &conductivity_);
  if (!constant_ && (problem_.energy || !problem_.closure.empty())) set_conductance();
}

/// Conductances of faces [W/K]: the two half cells in series inside, the one half cell at a rim.
void Residual::set_conductance() {
  for (int d = 0; d < 2; ++d) {
    const Axis& axis = problem_.grid.axis(d);
    const Axis& cross = problem_.grid.axis(1 - d);
    Array2& g = conductance_[d];
    const Array2& h = mesh_.component[d].depth;
    for_rows(0, g.ny(), g.size(), [&](int j) {
      for (int i = 0; i < g.nx(); ++i) {
        const int a = d == 0 ? i : j, c = d == 0 ? j : i;
        const int ip = std::min(i, conductivity_.nx() - 1), jp = std::min(j, conductivity_.ny() - 1);
        const int im = d == 0 ? std::max(i - 1, 0) : i, jm = d == 1 ? std::max(j - 1, 0) : j;
        const double k_minus = conductivity_(im, jm), k_plus = conductivity_(ip, jp);
        const double face = cross.widths()[c] * h(i, j);
        const double before = a > 0 ? 0.5 * axis.widths()[a - 1] : 0.0;
        const double after = a < axis.n() ? 0.5 * axis.widths()[a] : 0.0;
        const bool conducts = k_minus > 0.0 && k_plus > 0.0 && !problem_.is_barrier(d, i, j);
        g(i, j) = conducts ? face / (before / k_minus + after / k_plus) : 0.0;
      }
    });
  }
}

/// rho u A, the density linear between the two cells; at a rim that of the air that passes there.
void Residual::set_mass_flow(const State& state) {
  const Array2& density = density_;
  const int nx = density.nx(), ny = density.ny();
  const auto& dx = problem_.grid.x.widths();
  const auto& dy = problem_.grid.y.widths();
  const auto entering = [&](const Edge& e, double cell, bool inwards) {
    return e.kind == EdgeKind::inflow || inwards ? problem_.fluid.density_at(e.temperature) : cell;
  };
  for_rows(0, ny + 1, density.size(), [&](int j) {
    if (j < ny) {
      const double* area = mesh_.component[0].area.row(j);
      const double* u = state.u().row(j);
      double* f = flow_[0].row(j);
      const double* rho = density.row(j);
      for (int i = 1; i < nx; ++i) {
        const double before = dx[i - 1], after = dx[i];
        f[i] = u[i] * area[i] * ((rho[i - 1] * after + rho[i] * before) / (before + after));
      }
      f[0] = u[0] * area[0] * entering(mesh_.edges[0][j], rho[0], u[0] > 0.0);
      f[nx] = u[nx] * area[nx] * entering(mesh_.edges[1][j], rho[nx - 1], u[nx] < 0.0);
    }
    const double* area = mesh_.component[1].area.row(j);
    const double* v = state.v().row(j);
    double* f = flow_[1].row(j);
    for (int i = 0; i < nx; ++i) {
      double rho = 0.0;
      if (j == 0) {
        rho = entering(mesh_.edges[2][i], density(i, 0), v[i] > 0.0);
      } else if (j == ny) {
        rho = entering(mesh_.edges[3][i], density(i, ny - 1), v[i] < 0.0);
      } else {
        const double below = dy[j - 1], above = dy[j];
        rho = (density(i, j - 1) * above + density(i, j) * below) / (below + above);
      }
      f[i] = v[i] * area[i] * rho;
    }
  });
}

void Residual::balance_mass(State* out) const {
  const int nx = density_.nx(), ny = density_.ny();
  for_rows(0, ny, density_.size(), [&](int j) {
    for (int i = 0; i < nx; ++i) {
      double r = flow_[0](i, j) - flow_[0](i + 1, j) + flow_[1](i, j) - flow_[1](i, j + 1);
      if (exchanges_) r += exchange_.mass(i, j);
      out->pressure(i, j) = problem_.is_solid(i, j) ? 0.0 : r;
    }
  });
}

}  // namespace tuft::flow2d
