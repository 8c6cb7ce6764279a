#include "solver/flow2d/audit.hpp"

#include <algorithm>
#include <cmath>

namespace tuft::field {
namespace {

struct Gross {
  double in = 0.0, out = 0.0;
  void add(double inwards) { (inwards > 0.0 ? in : out) += std::abs(inwards); }
};

Gross through_rims(const std::array<Array2, 2>& flow) {
  Gross gross;
  const Array2& x = flow[0];
  const Array2& y = flow[1];
  for (int j = 0; j < x.ny(); ++j) {
    gross.add(x(0, j));
    gross.add(-x(x.nx() - 1, j));
  }
  for (int i = 0; i < y.nx(); ++i) {
    gross.add(y(i, 0));
    gross.add(-y(i, y.ny() - 1));
  }
  return gross;
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
        columns[static_cast<std::size_t>(i)] += std::abs(f(i, j));
      }
      largest = std::max(largest, 0.5 * row);
    }
    for (double c : columns) largest = std::max(largest, 0.5 * c);
  }
  return largest;
}

}  // namespace

Audit audit(const Residual& residual, const State& left_over) {
  const Problem& problem = residual.problem();
  Gross mass = through_rims(residual.mass_flow());
  double mass_error = 0.0;
  for (double r : left_over.pressure.values()) mass_error += std::abs(r);
  const Array2& volume = residual.mesh().volume;
  const Exchange& exchange = residual.exchange();
  for (std::size_t k = 0; k < exchange.mass.size(); ++k) {
    mass.add(exchange.out[k]);
    mass.add(exchange.mass[k] - exchange.out[k]);
  }
  Audit a;
  a.mass_in = mass.in;
  a.mass_out = mass.out;
  // Air at rest has no flow to compare with; then a thousandth of the flow the problem could drive is the
  // measure.
  a.mass = mass_error /
           std::max({mass.in, mass.out, circulating(residual.mass_flow()), 1e-3 * residual.scales().mass});
  if (!problem.energy) return a;

  Gross heat = through_rims(residual.heat_flow());
  double net = 0.0, cells = 0.0;
  for (double r : left_over.temperature.values()) {
    net += r;
    cells += std::abs(r);
  }
  for (std::size_t k = 0; k < problem.heat_source.size(); ++k) heat.add(problem.heat_source[k] * volume[k]);
  for (double h : exchange.heat.values()) heat.add(h);
  for (double h : residual.lost_heat().values()) heat.add(-h);
  for (double h : residual.given_heat().values()) heat.add(h);
  a.heat_in = heat.in;
  a.heat_out = heat.out;
  // Air at one temperature moves no heat; then what the smallest difference of note would move is the
  // measure.
  // No smaller, that is, than what temperatures are rounded to: 1e-8 of the reference temperature.
  const double rounded =
      1e-8 * std::max(mass.in, mass.out) * problem.fluid.specific_heat * std::abs(problem.fluid.temperature);
  const double whole = std::max({heat.in, heat.out, 1e-9 * residual.scales().heat, rounded});
  a.energy = std::abs(net) / whole;
  a.energy_cells = cells / whole;
  return a;
}

}  // namespace tuft::field
