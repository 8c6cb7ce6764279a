#include "solver/flow2d/problem.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <stdexcept>
#include <string>
#include <utility>

namespace tuft::flow2d {

double Fluid::density_at(double t) const {
  return law == DensityLaw::boussinesq ? density : density * temperature / t;
}

double Fluid::buoyancy_density(double t) const {
  if (law == DensityLaw::boussinesq) return -density * expansion * (t - temperature);
  return density * (temperature / t - 1.0);
}

double Fluid::transport_ratio(double t) const {
  if (sutherland == 0.0) return 1.0;
  const double r = t / temperature;
  return r * std::sqrt(r) * (temperature + sutherland) / (t + sutherland);
}

Edge Problem::edge(Side side, int k) const {
  const auto& list = edges[static_cast<std::size_t>(side)];
  return list.empty() ? Edge{} : list[k];
}

void Problem::set_side(Side side, const Edge& edge) {
  const bool vertical = side == Side::left || side == Side::right;
  edges[static_cast<std::size_t>(side)].assign(static_cast<std::size_t>(vertical ? grid.ny() : grid.nx()),
                                               edge);
}

namespace {

std::string must_be_positive(const char* name, double value) {
  if (value > 0.0 && std::isfinite(value)) return {};
  return std::string(name) + " is " + std::to_string(value) + ", must be positive and finite";
}

std::string shape_fault(const char* name, const Array2& a, int nx, int ny) {
  if (a.empty()) return {};
  if (a.nx() != nx || a.ny() != ny)
    return std::string(name) + " is " + std::to_string(a.nx()) + " by " + std::to_string(a.ny()) +
           ", must be " + std::to_string(nx) + " by " + std::to_string(ny);
  for (std::size_t k = 0; k < a.size(); ++k)
    if (!std::isfinite(a[k])) return std::string(name) + " has an entry that is not finite";
  return {};
}

std::string sign_fault(const char* name, const Array2& a) {
  for (std::size_t k = 0; k < a.size(); ++k)
    if (!(a[k] >= 0.0)) return std::string(name) + " has an entry below 0";
  return {};
}

/// "edges of side 2, cell 7: temperature": what of an edge is no number or can't be.
std::string edge_fault(const Problem& p, std::size_t side, bool absolute) {
  for (std::size_t k = 0; k < p.edges[side].size(); ++k) {
    const Edge& e = p.edges[side][k];
    const std::string where = "edges of side " + std::to_string(side) + ", cell " + std::to_string(k) + ": ";
    const std::array<std::pair<const char*, double>, 6> numbers{{{"normal", e.normal},
                                                                 {"tangential", e.tangential},
                                                                 {"pressure", e.pressure},
                                                                 {"inertial_in", e.inertial_in},
                                                                 {"temperature", e.temperature},
                                                                 {"flux", e.flux}}};
    for (const auto& [name, value] : numbers)
      if (!std::isfinite(value)) return where + name + " is " + std::to_string(value) + ", must be finite";
    if (absolute && !(e.temperature > 0.0))
      return where + "temperature is " + std::to_string(e.temperature) + " K, must be above 0";
    if (e.inertial_in < 0.0) return where + "a loss is negative";
  }
  return {};
}

/// Of the cells that are held, and of those that air is let into.
std::string absolute_zero_fault(const Problem& p) {
  for (std::size_t k = 0; k < p.held.size() && k < p.held_temperature.size(); ++k)
    if (p.held[k] && !(p.held_temperature[k] > 0.0))
      return "held_temperature has an entry of 0 K or below where a cell is held";
  for (std::size_t k = 0; k < p.mass_source.size() && k < p.source_temperature.size(); ++k)
    if (p.mass_source[k] > 0.0 && !(p.source_temperature[k] > 0.0))
      return "source_temperature has an entry of 0 K or below where air is let in";
  return {};
}

/// Air that is let in and has no way out, or the other way: there is no flow of that kind.
std::string mass_fault(const Problem& p) {
  if (!p.coupled.empty()) return {};
  double in = 0.0, out = 0.0;
  const auto add = [&](double mass) { (mass > 0.0 ? in : out) += std::abs(mass); };
  const auto depth = [&](int i, int j) { return p.depth.empty() ? 1.0 : p.depth(i, j); };
  for (std::size_t s = 0; s < 4; ++s)
    for (std::size_t k = 0; k < p.edges[s].size(); ++k) {
      const Edge& e = p.edges[s][k];
      const int n = static_cast<int>(k), i = s == 0 ? 0 : s == 1 ? p.grid.nx() - 1 : n;
      const int j = s == 2 ? 0 : s == 3 ? p.grid.ny() - 1 : n;
      const int d = s < 2 ? 0 : 1, high = s % 2 == 1 ? 1 : 0;
      if (p.is_solid(i, j) || p.is_barrier(d, i + (d == 0 ? high : 0), j + (d == 1 ? high : 0))) continue;
      if (e.kind == EdgeKind::outlet) return {};
      if (e.kind == EdgeKind::inflow)
        add((high == 1 ? -1.0 : 1.0) * e.normal * p.fluid.density_at(e.temperature) * depth(i, j) *
            p.grid.axis(1 - d).widths()[k]);
    }
  for (int j = 0; j < p.mass_source.ny(); ++j)
    for (int i = 0; i < p.mass_source.nx(); ++i)
      if (!p.is_solid(i, j))
        add(p.mass_source(i, j) * depth(i, j) * p.grid.x.widths()[i] * p.grid.y.widths()[j]);
  if (std::abs(in - out) <= 1e-6 * std::max(in, out)) return {};
  return "edges and mass_source let in " + std::to_string(in) + " kg/s and out " + std::to_string(out) +
         " kg/s, and nothing else is open: the two must be equal";
}

std::string held_fault(const Problem& p) {
  if (p.held.empty()) return {};
  if (p.held.nx() != p.grid.nx() || p.held.ny() != p.grid.ny()) return "held: wrong shape";
  if (p.held_temperature.empty()) return "held is given without held_temperature";
  for (std::size_t k = 0; k < p.held.size(); ++k)
    if (p.held[k] && (p.solid.empty() || !p.solid[k])) return "held: a cell is not solid";
  return {};
}

}  // namespace

std::string Problem::problem() const {
  const int nx = grid.nx(), ny = grid.ny();
  // Boussinesq air of constant properties knows temperature differences only.
  const bool absolute = fluid.law == DensityLaw::ideal_gas || fluid.sutherland != 0.0;
  std::vector<std::string> faults{
      std::isfinite(fluid.temperature) ? std::string() : "fluid.temperature is not finite",
      absolute ? must_be_positive("fluid.temperature", fluid.temperature) : std::string(),
      std::isfinite(fluid.expansion) ? std::string() : "fluid.expansion is not finite",
      fluid.sutherland >= 0.0 && std::isfinite(fluid.sutherland) ? std::string()
                                                                 : "fluid.sutherland must be 0 or above",
      std::isfinite(gravity[0]) && std::isfinite(gravity[1]) ? std::string() : "gravity is not finite",
      momentum_factor >= 0.0 && std::isfinite(momentum_factor) ? std::string()
                                                               : "momentum_factor must be 0 or above",
      must_be_positive("fluid.density", fluid.density),
      must_be_positive("fluid.viscosity", fluid.viscosity),
      must_be_positive("fluid.conductivity", fluid.conductivity),
      must_be_positive("fluid.specific_heat", fluid.specific_heat),
      shape_fault("depth", depth, nx, ny),
      shape_fault("solid_conductivity", solid_conductivity, nx, ny),
      shape_fault("held_temperature", held_temperature, nx, ny),
      shape_fault("heat_source", heat_source, nx, ny),
      shape_fault("mass_source", mass_source, nx, ny),
      shape_fault("source_temperature", source_temperature, nx, ny),
      shape_fault("force[0]", force[0], nx + 1, ny),
      shape_fault("force[1]", force[1], nx, ny + 1),
      shape_fault("momentum_share", momentum_share, nx, ny),
      shape_fault("wall_loss", wall_loss, nx, ny),
      sign_fault("wall_loss", wall_loss),
      sign_fault("solid_conductivity", solid_conductivity),
      absolute ? absolute_zero_fault(*this) : std::string(),
      sign_fault("momentum_share", momentum_share)};
  for (std::size_t d = 0; d < 2; ++d) {
    const int fx = d == 0 ? nx + 1 : nx, fy = d == 0 ? ny : ny + 1;
    faults.push_back(shape_fault("source_velocity", source_velocity[d], nx, ny));
    faults.push_back(shape_fault("drag_viscous", drag_viscous[d], fx, fy));
    faults.push_back(shape_fault("drag_inertial", drag_inertial[d], fx, fy));
    faults.push_back(sign_fault("drag_viscous", drag_viscous[d]));
    faults.push_back(sign_fault("drag_inertial", drag_inertial[d]));
    if (!barrier[d].empty() && (barrier[d].nx() != fx || barrier[d].ny() != fy))
      faults.push_back("barrier: wrong shape");
  }
  for (std::size_t k = 0; k < depth.size(); ++k)
    if (!(depth[k] > 0.0)) faults.push_back(must_be_positive("depth", depth[k]));
  for (std::size_t s = 0; s < 4; ++s) {
    const std::size_t expected = static_cast<std::size_t>(s < 2 ? ny : nx);
    faults.push_back(edge_fault(*this, s, absolute));
    if (!edges[s].empty() && edges[s].size() != expected)
      faults.push_back("edges of side " + std::to_string(s) + ": " + std::to_string(edges[s].size()) +
                       " entries, must be " + std::to_string(expected));
  }
  if (!solid.empty() && (solid.nx() != nx || solid.ny() != ny)) faults.push_back("solid: wrong shape");
  if (!coupled.empty() && (coupled.nx() != nx || coupled.ny() != ny))
    faults.push_back("coupled: wrong shape");
  faults.push_back(held_fault(*this));
  faults.push_back(closure.problem(grid));
  for (const HeatedChannels& c : channels) faults.push_back(c.problem(grid));
  for (const std::string& fault : faults)
    if (!fault.empty()) return fault;
  return mass_fault(*this);
}

Axis::Axis(std::vector<double> faces) : faces_(std::move(faces)) {
  if (faces_.size() < 2) throw std::invalid_argument("grid axis: at least two faces are needed");
  for (std::size_t i = 0; i + 1 < faces_.size(); ++i) {
    const double width = faces_[i + 1] - faces_[i];
    if (!(width > 0.0) || !std::isfinite(width))
      throw std::invalid_argument("grid axis: face " + std::to_string(i + 1) +
                                  " does not lie a finite way beyond the face before it");
    widths_.push_back(width);
    centres_.push_back(0.5 * (faces_[i] + faces_[i + 1]));
  }
}

Axis uniform_axis(int n, double from, double to) {
  std::vector<double> faces;
  for (int i = 0; i <= n; ++i) faces.push_back(from + (to - from) * i / n);
  return Axis(std::move(faces));
}

}  // namespace tuft::flow2d
