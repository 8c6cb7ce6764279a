// Heat between fins and the air in their channels (docs/field.md, F41).
#include <cmath>

#include "solver/flow2d/laws.hpp"

namespace tuft::flow2d {
namespace {

constexpr double kSlowAir = 3.0;  // transfer units of one cell about which its conductance is the law's alone

/// Conductance of one of `n` cells in a row [W/K], `conductance` being that of the row and `capacity` m cp.
///
/// A cell of one temperature, passed upwind, takes up x/(1 + x) of what it could, x its transfer units; a
/// piece of channel takes up 1 - exp(-x). So that a row warms its air by the law whatever the cells, the
/// conductance is raised by (exp(x) - 1)/x. Air too slow for that to matter takes the metal's temperature
/// either way, and air at rest gets the law's own conductance.
double cell_conductance(double conductance, double capacity, int n) {
  const double part = conductance / n;
  if (!(capacity * 20.0 > part)) return part;
  const double x = part / capacity, slow = x / kSlowAir, kept = std::exp(-slow * slow * slow * slow);
  return part * (1.0 + kept * (std::expm1(x) / x - 1.0));
}

}  // namespace

std::string HeatedChannels::problem(const Grid& grid) const {
  const auto positive = [](double value) { return value > 0.0 && std::isfinite(value); };
  if (along != 0 && along != 1) return "channels: along must be 0 or 1";
  if (!(0 <= i0 && i0 < i1 && i1 <= grid.nx() && 0 <= j0 && j0 < j1 && j1 <= grid.ny()))
    return "channels: the block does not lie in the grid";
  if (!positive(metal)) return "channels: the metal's temperature must be positive and finite";
  const physics::FinChannels& c = fins.channels;
  for (const double value : {c.count, c.gap, c.height, c.length, fins.fin_thickness, fins.fin_conductivity})
    if (!positive(value)) return "channels: every length, count and conductivity must be positive and finite";
  return {};
}

double channel_cell_conductance(const HeatedChannels& c, const Fluid& fluid, double flow) {
  const double whole = physics::fin_conductance(c.fins, flow * c.rows(), fluid.temperature).value;
  return cell_conductance(whole / c.rows(), flow * fluid.specific_heat, c.cells_in_row());
}

void set_channel_heat(const HeatedChannels& c, const Fluid& fluid, const std::array<Array2, 2>& mass_flow,
                      const Array2& temperature, Array2* conductance, Array2* heat) {
  const bool x = c.along == 0;
  for (int row = 0; row < c.rows(); ++row) {
    const auto [i, j] = c.middle_face(row);
    const double cell = channel_cell_conductance(c, fluid, std::abs(mass_flow[x ? 0 : 1](i, j)));
    for (int k = 0; k < c.cells_in_row(); ++k) {
      const int ci = x ? c.i0 + k : i, cj = x ? j : c.j0 + k;
      (*conductance)(ci, cj) = cell;
      (*heat)(ci, cj) = cell * (c.metal - temperature(ci, cj));
    }
  }
}

}  // namespace tuft::flow2d
