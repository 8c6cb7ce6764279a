// Derivatives of what passes between the layers, for the preconditioner.
#include <algorithm>
#include <cmath>

#include "solver/flow2d/layer_coupling.hpp"

namespace tuft::flow2d {
namespace {

/// What one opening moves: mass that side a gains, the part of it that leaves each side (<= 0), heat that
/// each side gains, every departure counted at its own side's temperature.
struct Gains {
  double mass = 0.0, out_a = 0.0, out_b = 0.0, heat_a = 0.0, heat_b = 0.0;
};

Gains gains(const OpeningLaw& law, const Fluid& fluid, const SideAir& a, const SideAir& b) {
  const OpeningFlow f = opening_flow(law, fluid, a, b);
  const auto heat = [&](double mass, double temperature) {
    return mass * fluid.specific_heat * (temperature - fluid.temperature);
  };
  const double moved = heat(f.forward, a.temperature) - heat(f.backward, b.temperature) + f.conducted;
  return {f.backward - f.forward, -f.forward, -f.backward, -moved, moved};
}

SideAir warmer(const Fluid& fluid, SideAir air, double lever, double step) {
  air.pressure +=
      (fluid.buoyancy_density(air.temperature + step) - fluid.buoyancy_density(air.temperature)) * lever;
  air.temperature += step;
  return air;
}

SideAir fuller(SideAir air, double step) {
  air.pressure += step;
  return air;
}

}  // namespace

void Coupling::add_opening_slopes(const Fields& fields, const CellOpening& o, CouplingSlopes* out) const {
  const SideAir a = side(fields, o.a, o.outside), b = side(fields, o.b, o.outside);
  const Gains before = gains(o.law, fluid(), a, b);
  const auto enter = [&](const CellRef& column, bool by_heat, double step, const SideAir& a1,
                         const SideAir& b1) {
    const Gains after = gains(o.law, fluid(), a1, b1);
    const double mass = (after.mass - before.mass) / step, heat_b = (after.heat_b - before.heat_b) / step;
    out->cells.push_back({o.a.cell, column, by_heat, mass, (after.out_a - before.out_a) / step,
                          (after.heat_a - before.heat_a) / step});
    if (o.b.kind == EndKind::cell) {
      out->cells.push_back({o.b.cell, column, by_heat, -mass, (after.out_b - before.out_b) / step, heat_b});
    } else if (o.b.kind == EndKind::node) {
      out->own.push_back({model_.pressure_of(o.b.index), column, by_heat, -mass});
      out->own.push_back({model_.temperature_of(o.b.index), column, by_heat, heat_b});
    }
  };
  // Small against what is there, large against round-off; a vent at rest is stiffest at zero head.
  const double dp = 1e-6 * std::max(1e-3, std::abs(a.pressure - b.pressure)), dt = 1e-5;
  enter(o.a.cell, false, dp, fuller(a, dp), b);
  enter(o.a.cell, true, dt, warmer(fluid(), a, o.a.lever, dt), b);
  if (o.b.kind != EndKind::cell) return;
  enter(o.b.cell, false, dp, a, fuller(b, dp));
  enter(o.b.cell, true, dt, a, warmer(fluid(), b, o.b.lever, dt));
}

/// Air that a link takes from a cell leaves at the cell's own temperature; the link's own balances follow the
/// means of its groups.
void Coupling::add_link_slopes(const Fields& fields, int k, CouplingSlopes* out) const {
  const Link& link = model_.links[k];
  const OpeningFlow& flow = link_flows_[k];
  for (const int e : {0, 1}) {
    const End& end = e == 0 ? link.a : link.b;
    if (end.kind != EndKind::group) continue;
    const double away = (e == 0 ? flow.forward : flow.backward) * fluid().specific_heat;
    const double sign = e == 0 ? 1.0 : -1.0;
    for (const Group::Member& m : model_.groups[end.index].members) {
      out->cells.push_back({m.cell, m.cell, true, 0.0, 0.0, -m.share * away});
      const double t = fields.layers[m.cell.layer].temperature(m.cell.i, m.cell.j);
      const double dt = 1e-3;
      const double thinner = (fluid().buoyancy_density(t + dt) - fluid().buoyancy_density(t)) / dt;
      out->own.push_back({model_.flow_of(k), m.cell, false, sign * m.share});
      out->own.push_back({model_.flow_of(k), m.cell, true, sign * m.share * thinner * m.lever});
      out->own.push_back({model_.end_temperature_of(k, e), m.cell, true, m.share});
    }
  }
}

CouplingSlopes Coupling::slopes(const Fields& fields) const {
  CouplingSlopes out;
  for (const CellOpening& o : model_.openings) add_opening_slopes(fields, o, &out);
  for (int k = 0; k < model_.n_links(); ++k) add_link_slopes(fields, k, &out);
  return out;
}

}  // namespace tuft::flow2d
