// Do the mass and heat of a flow balance?
#include <algorithm>
#include <cmath>

#include "solver/flow2d/system.hpp"

namespace tuft::flow2d {
namespace {

// Where nothing passes at all, these are the measure of the balances of joined layers (judgement).
constexpr double kLeastFlow = 1e-9;  // [kg/s], a cubic millimetre a second
constexpr double kLeastHeat = 1e-3;  // [W]

void pass(double inwards, double* in, double* out) { (inwards > 0.0 ? *in : *out) += std::abs(inwards); }

void pass_rims(const std::array<Array2, 2>& flow, double* in, double* out) {
  const Array2 &x = flow[0], &y = flow[1];
  for (int j = 0; j < x.ny(); ++j) {
    pass(x(0, j), in, out);
    pass(-x(x.nx() - 1, j), in, out);
  }
  for (int i = 0; i < y.nx(); ++i) {
    pass(y(i, 0), in, out);
    pass(-y(i, y.ny() - 1), in, out);
  }
}

/// Largest mass flow that crosses a column or row of faces in one direction: what circulates in a closed
/// body.
double circulating(const std::array<Array2, 2>& flow) {
  double largest = 0.0;
  for (const Array2& f : flow) {
    std::vector<double> columns(static_cast<std::size_t>(f.nx()), 0.0);
    for (int j = 0; j < f.ny(); ++j) {
      double row = 0.0;
      for (int i = 0; i < f.nx(); ++i) {
        row += std::abs(f(i, j));
        columns[i] += std::abs(f(i, j));
      }
      largest = std::max(largest, 0.5 * row);
    }
    for (double c : columns) largest = std::max(largest, 0.5 * c);
  }
  return largest;
}

/// Through rims, sources, walls and what the problem itself exchanges.
void pass_limits(const Residual& r, bool alone, Gross* g) {
  pass_rims(r.mass_flow(), &g->mass_in, &g->mass_out);
  pass_rims(r.heat_flow(), &g->heat_in, &g->heat_out);
  const Problem& p = r.problem();
  for (std::size_t k = 0; k < p.heat_source.size(); ++k)
    pass(p.heat_source[k] * r.mesh().volume[k], &g->heat_in, &g->heat_out);
  for (std::size_t k = 0; alone && k < r.exchange().mass.size(); ++k) {
    pass(r.exchange().out[k], &g->mass_in, &g->mass_out);
    pass(r.exchange().mass[k] - r.exchange().out[k], &g->mass_in, &g->mass_out);
    pass(r.exchange().heat[k], &g->heat_in, &g->heat_out);
  }
  for (const double lost : r.lost_heat().values()) pass(-lost, &g->heat_in, &g->heat_out);
  for (const double given : r.given_heat().values()) pass(given, &g->heat_in, &g->heat_out);
  for (const double given : r.channel_heat().values()) pass(given, &g->heat_in, &g->heat_out);
}

}  // namespace

Audit FlowSystem::balance() const {
  Audit out;
  const bool alone = flow_.coupling_terms == nullptr;
  double mass_error = 0.0, net = 0.0, cells = 0.0;
  for (int l = 0; l < n_layers(); ++l) {
    const State& over = imbalance_[l];
    for (const double x : over.pressure.values()) mass_error += std::abs(x);
    for (const double x : over.temperature.values()) {
      net += x;
      cells += std::abs(x);
    }
    pass_limits(residual(l), alone, &out);
  }
  double least_flow = kLeastFlow, least_heat = kLeastHeat;
  if (alone) {
    // Air at rest has no flow to compare with; then a thousandth of the flow the problem could drive is the
    // measure. Air at one temperature moves no heat; then what the smallest difference of note would move,
    // and no smaller than what temperatures are rounded to: 1e-8 of the reference temperature. In time heat
    // moves within that passes no limit: a thousandth of what the flow could carry.
    const Residual& r = residual(0);
    const Fluid& fluid = r.problem().fluid;
    least_flow = std::max(circulating(r.mass_flow()), 1e-3 * r.scales().mass);
    least_heat = std::max(
        (storage_ != nullptr ? 1e-3 : 1e-9) * r.scales().heat,
        1e-8 * std::max(out.mass_in, out.mass_out) * fluid.specific_heat * std::abs(fluid.temperature));
  } else {
    std::vector<std::array<double, 2>> spaces;
    flow_.coupling_terms->add_balance(&out, &spaces);
    for (const auto& [mass, heat] : spaces) {
      mass_error += std::abs(mass);
      net += heat;
      cells += std::abs(heat);
    }
  }
  out.mass = mass_error / std::max({out.mass_in, out.mass_out, least_flow});
  if (alone && !residual(0).problem().energy) return out;
  const double whole = std::max({out.heat_in, out.heat_out, least_heat});
  out.energy = std::abs(net) / whole;
  out.energy_cells = cells / whole;
  return out;
}

}  // namespace tuft::flow2d
