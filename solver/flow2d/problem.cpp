#include "solver/flow2d/problem.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <stdexcept>
#include <string>

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
      absolute ? must_be_positive("fluid.temperature", fluid.temperature) : std::string(),
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
    for (const Edge& e : edges[s])
      if (!(e.inertial_in >= 0.0))
        faults.push_back("edges of side " + std::to_string(s) + ": a loss is negative");
    if (!edges[s].empty() && edges[s].size() != expected)
      faults.push_back("edges of side " + std::to_string(s) + ": " + std::to_string(edges[s].size()) +
                       " entries, must be " + std::to_string(expected));
  }
  if (!solid.empty() && (solid.nx() != nx || solid.ny() != ny)) faults.push_back("solid: wrong shape");
  if (!coupled.empty() && (coupled.nx() != nx || coupled.ny() != ny))
    faults.push_back("coupled: wrong shape");
  faults.push_back(held_fault(*this));
  faults.push_back(closure.problem(grid));
  for (const std::string& fault : faults)
    if (!fault.empty()) return fault;
  return {};
}

Axis::Axis(std::vector<double> faces) : faces_(std::move(faces)) {
  if (faces_.size() < 2) throw std::invalid_argument("grid axis: at least two faces are needed");
  for (std::size_t i = 0; i + 1 < faces_.size(); ++i) {
    const double width = faces_[i + 1] - faces_[i];
    if (!(width > 0.0))
      throw std::invalid_argument("grid axis: face " + std::to_string(i + 1) +
                                  " does not lie beyond the face before it");
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
