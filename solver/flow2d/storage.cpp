#include "solver/flow2d/system.hpp"
#include "solver/flow2d/unknowns.hpp"

namespace tuft::flow2d {
namespace {

double momentum_at(const Residual& r, const State& state, int d, int i, int j) {
  const double u = state.velocity[d](i, j);
  return r.face_density(d, i, j, u) * r.mesh().component[d].volume(i, j) * u;
}

double heat_at(const Residual& r, double mass, double temperature) {
  const Fluid& fluid = r.problem().fluid;
  return mass * fluid.specific_heat * (temperature - fluid.temperature);
}

/// Calls momentum(d, i, j) for every face that moves and cell(i, j) for every cell of air.
template <class Momentum, class Cell>
void for_all(const Residual& r, const Momentum& momentum, const Cell& cell) {
  for (int d = 0; d < 2; ++d) {
    const Mask& active = r.mesh().component[d].active;
    for (int j = 0; j < active.ny(); ++j)
      for (int i = 0; i < active.nx(); ++i)
        if (active(i, j)) momentum(d, i, j);
  }
  for (int j = 0; j < r.density().ny(); ++j)
    for (int i = 0; i < r.density().nx(); ++i)
      if (!r.problem().is_solid(i, j)) cell(i, j);
}

}  // namespace

TimeWeights backward_differences(double step, double last) {
  if (!(last > 0.0)) return {1.0, -1.0, 0.0, step};
  const double r = step / last;
  return {(1.0 + 2.0 * r) / (1.0 + r), -(1.0 + r), r * r / (1.0 + r), step};
}

State content_of(Residual* residual, const State& state) {
  State out = still_state(residual->problem());
  State scratch = out;
  residual->evaluate_mass(state, &scratch);
  for (Array2& v : out.velocity) v.fill(0.0);
  out.pressure.fill(0.0);
  out.temperature.fill(0.0);
  const Residual& r = *residual;
  for_all(
      r, [&](int d, int i, int j) { out.velocity[d](i, j) = momentum_at(r, state, d, i, j); },
      [&](int i, int j) {
        const double mass = r.density()(i, j) * r.mesh().volume(i, j);
        out.pressure(i, j) = mass;
        out.temperature(i, j) = heat_at(r, mass, state.temperature(i, j));
      });
  return out;
}

void Storage::subtract(std::size_t l, const Residual& r, const State& state, State* imbalance) const {
  const State &now = now_[l], &before = before_[l];
  const auto rate = [&](double next, double a, double b) {
    return (weights_.c0 * next + weights_.c1 * a + weights_.c2 * b) / weights_.step;
  };
  for_all(
      r,
      [&](int d, int i, int j) {
        imbalance->velocity[d](i, j) -=
            rate(momentum_at(r, state, d, i, j), now.velocity[d](i, j), before.velocity[d](i, j));
      },
      [&](int i, int j) {
        const double mass = r.density()(i, j) * r.mesh().volume(i, j);
        imbalance->pressure(i, j) -= rate(mass, now.pressure(i, j), before.pressure(i, j));
        if (!r.problem().energy) return;
        imbalance->temperature(i, j) -=
            rate(heat_at(r, mass, state.temperature(i, j)), now.temperature(i, j), before.temperature(i, j));
      });
}

double Storage::slope(const Residual& r, const State& state, int kind, int i, int j) const {
  const double rate = weights_.c0 / weights_.step;
  if (kind == kind_u || kind == kind_v) {
    const int d = kind == kind_u ? 0 : 1;
    return rate * r.face_density(d, i, j, state.velocity[d](i, j)) * r.mesh().component[d].volume(i, j);
  }
  if (kind != kind_t || r.problem().is_solid(i, j)) return 0.0;
  const Fluid& fluid = r.problem().fluid;
  const double t = state.temperature(i, j);
  // With the gas law rho (T - T_ref) grows by rho T_ref/T for a kelvin.
  const double share = fluid.law == DensityLaw::ideal_gas ? fluid.temperature / t : 1.0;
  return rate * fluid.density_at(t) * fluid.specific_heat * r.mesh().volume(i, j) * share;
}

}  // namespace tuft::flow2d
