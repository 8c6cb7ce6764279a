#include "tests/network/independent.hpp"

#include <algorithm>
#include <cmath>

namespace tuft::testing {

using network::FanElement;
using network::Graph;
using network::kOutside;
using network::Opening;
using network::State;
using network::Vec3;

namespace {

double temperature_of(const Graph& graph, const State& state, int node) {
  return node == kOutside ? graph.ambient.temperature : state.temperature[node];
}

double density_of(const Graph& graph, const State& state, int node) {
  return physics::density(graph.ambient.state, temperature_of(graph, state, node));
}

// Pressure of still air of a node at a point against still ambient air: P + (rho - rho_amb) g.(x - x_i).
double pressure_at(const Graph& graph, const State& state, int node, const Vec3& point) {
  if (node == kOutside) return 0.0;
  const double outside = physics::density(graph.ambient.state, graph.ambient.temperature);
  const Vec3 offset = point - graph.nodes[static_cast<std::size_t>(node)].reference;
  return state.pressure[node] +
         (density_of(graph, state, node) - outside) * graph.ambient.gravity.dot(offset);
}

// Loss of one strip by docs/theory.md, E2, written out and inverted by bisection.
struct StripLoss {
  double density, viscosity;  // of the upstream side
  double at_rest;             // mu/rho of both, the mean
  physics::FaceLaw law;

  double head(double j) const {
    const auto late_share = [&](double onset) {
      const double y = onset * viscosity / j;
      return std::hypot(1.0, y) - y;
    };
    const double y = law.onset * viscosity / j;
    const double upstream = 1.0 - y / std::hypot(1.0, y);
    const double viscous = at_rest + (viscosity / density - at_rest) * upstream;
    const double inertial = law.inertial - law.early - law.late + law.early * late_share(law.onset) +
                            law.late * late_share(physics::kLateOnset * law.onset);
    return law.viscous * viscous * j + inertial / density * j * j;
  }

  double flux(double size) const {
    if (!(size > 0.0)) return 0.0;
    double low = 0.0, high = 2.0 * size / (law.viscous * std::min(at_rest, viscosity / density));
    for (int i = 0; i < 60; ++i) {
      const double middle = 0.5 * (low + high);
      (head(middle) < size ? low : high) = middle;
    }
    return 0.5 * (low + high);
  }
};

// Local head at a position -1/2..1/2 from the opening's lowest to its highest edge.
struct Strips {
  double head, span;
  StripLoss forward, backward;

  double flux(double position) const {
    const double local = head + span * position;
    return local >= 0.0 ? forward.flux(local) : -backward.flux(-local);
  }

  // Simpson's rule over one side of the neutral line, in u with distance = u^3 from it, which takes the
  // square root of the distance out of the integrand.
  double mean_between(double from, double to, double fine_end) const {
    constexpr int kPanels = 1000;
    const double other = fine_end == from ? to : from;
    const auto value = [&](double u) {
      return flux(fine_end + (other - fine_end) * u * u * u) * 3.0 * u * u;
    };
    double sum = value(0.0) + value(1.0);
    for (int i = 1; i < kPanels; ++i)
      sum += (i % 2 == 1 ? 4.0 : 2.0) * value(static_cast<double>(i) / kPanels);
    return sum / (3.0 * kPanels) * std::abs(to - from);
  }

  double mean() const {
    const double neutral = span != 0.0 ? std::clamp(-head / span, -0.5, 0.5) : 0.5;
    return mean_between(-0.5, neutral, neutral) + mean_between(neutral, 0.5, neutral);
  }
};

}  // namespace

double flow_by_strips(const Graph& graph, const State& state, const Opening& opening) {
  const double density_a = density_of(graph, state, opening.a);
  const double density_b = density_of(graph, state, opening.b);
  const double across =
      std::hypot(graph.ambient.gravity.dot(opening.width), graph.ambient.gravity.dot(opening.height));
  const double viscosity_a = physics::viscosity(temperature_of(graph, state, opening.a));
  const double viscosity_b = physics::viscosity(temperature_of(graph, state, opening.b));
  const double at_rest = 0.5 * (viscosity_a / density_a + viscosity_b / density_b);
  Strips strips{};
  strips.head = pressure_at(graph, state, opening.a, opening.centre) -
                pressure_at(graph, state, opening.b, opening.centre);
  strips.span = (density_b - density_a) * across;
  strips.forward = {density_a, viscosity_a, at_rest, opening.law};
  strips.backward = {density_b, viscosity_b, at_rest, opening.law};
  return opening.area * strips.mean();
}

Residuals independent_residuals(const Graph& graph, const State& state) {
  Residuals worst;
  network::Equations equations(graph);
  equations.evaluate(state);
  const std::size_t n = graph.nodes.size();
  std::vector<double> mass(n, 0.0), heat(n, 0.0);
  double flow_size = 1e-6 * equations.scales().flow;  // below it nothing moves
  for (Eigen::Index e = 0; e < state.flow.size(); ++e)
    flow_size =
        std::max({flow_size, std::abs(state.flow[e]), equations.element(static_cast<int>(e)).forward});
  double pressure_size = 1e-6;
  for (std::size_t f = 0; f < graph.fans.size(); ++f) {
    const FanElement& fan = graph.fans[f];
    const double m = state.flow[static_cast<Eigen::Index>(graph.openings.size() + f)];
    const double density = density_of(graph, state, fan.a);
    const double rise = fan.curve.rise(m / density, fan.speed, density).pressure;
    const double head =
        pressure_at(graph, state, fan.b, fan.centre) - pressure_at(graph, state, fan.a, fan.centre);
    pressure_size = std::max({pressure_size, std::abs(rise), std::abs(head)});
    worst.fan = std::max(worst.fan, std::abs(head - rise));
  }
  worst.fan /= pressure_size;
  double heat_size = 1e-9;
  for (std::size_t i = 0; i < n; ++i) {
    const double rise = state.temperature[static_cast<Eigen::Index>(i)] - graph.ambient.temperature;
    heat[i] = graph.nodes[i].power - graph.nodes[i].wall_conductance * rise;
    heat_size += std::abs(graph.nodes[i].power);
  }
  for (int e = 0; e < equations.n_flows(); ++e) {
    const int a = equations.side_a(e);
    const int b = equations.side_b(e);
    const double m = state.flow[e];
    const network::ElementState& element = equations.element(e);
    if (e < equations.n_openings()) {
      const Opening& opening = graph.openings[static_cast<std::size_t>(e)];
      // As a flow, or as the pressure that flow stands for where next to nothing flows.
      const double difference = std::abs(flow_by_strips(graph, state, opening) - m);
      const double as_pressure = difference * element.slope / equations.scales().pressure;
      worst.opening = std::max(worst.opening, std::min(difference / flow_size, as_pressure));
    }
    // Enthalpy balance in flux form, gross flows times temperatures.
    const double carried =
        equations.heat_capacity() * (element.forward * temperature_of(graph, state, a) -
                                     element.backward * temperature_of(graph, state, b)) +
        equations.conductance(e) * (temperature_of(graph, state, a) - temperature_of(graph, state, b));
    if (a != kOutside) {
      mass[static_cast<std::size_t>(a)] -= m;
      heat[static_cast<std::size_t>(a)] -= carried;
    }
    if (b != kOutside) {
      mass[static_cast<std::size_t>(b)] += m;
      heat[static_cast<std::size_t>(b)] += carried;
    }
  }
  for (std::size_t i = 0; i < n; ++i) {
    worst.mass = std::max(worst.mass, std::abs(mass[i]) / flow_size);
    worst.heat =
        std::max(worst.heat, std::abs(heat[i]) / (heat_size + equations.heat_capacity() * flow_size * 10.0));
  }
  return worst;
}

}  // namespace tuft::testing
