#include "solver/flow2d/layer_system.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace tuft::plan {
namespace {

using field::Array2;

constexpr const char* kBalanceNames[4] = {"x-momentum", "y-momentum", "mass", "heat"};
// Where nothing passes at all, these are the measure of the books (judgement).
constexpr double kLeastFlow = 1e-9;  // [kg/s], a cubic millimetre a second
constexpr double kLeastHeat = 1e-3;  // [W]

// Momentum is balanced against at least this share of the device's pressures; 1e-9 of it is 1e-14 of them.
constexpr double kPressureShare = 1e-5;

double largest(const Array2& a) {
  double out = 0.0;
  for (const double x : a.values()) out = std::max(out, std::abs(x));
  return out;
}

/// Groups of cells that air can pass between.
class Bodies {
 public:
  explicit Bodies(std::size_t n) : parent_(n) { std::iota(parent_.begin(), parent_.end(), std::size_t{0}); }
  std::size_t root(std::size_t k) {
    while (parent_[k] != k) k = parent_[k] = parent_[parent_[k]];
    return k;
  }
  void join(std::size_t a, std::size_t b) { parent_[root(a)] = root(b); }

 private:
  std::vector<std::size_t> parent_;
};

}  // namespace

LayerSystem::LayerSystem(const Model& model, const Magnitudes& magnitudes)
    : model_(model), magnitudes_(magnitudes), coupling_(model) {
  offset_.push_back(0);
  for (const Layer& layer : model.layers) {
    residuals_.push_back(std::make_unique<field::Residual>(layer.problem));
    unknowns_.push_back(std::make_unique<field::Unknowns>(layer.problem, residuals_.back()->mesh()));
    left_over_.push_back(field::still_state(layer.problem));
    offset_.push_back(offset_.back() + unknowns_.back()->n());
  }
  column_.resize(static_cast<std::size_t>(n()));
  row_.resize(static_cast<std::size_t>(n()));
  find_loose_cells();
}

int LayerSystem::number(const CellRef& cell, field::Kind kind) const {
  const int k = unknowns_[static_cast<std::size_t>(cell.layer)]->number(kind, cell.i, cell.j);
  return k < 0 ? -1 : k + offset(cell.layer);
}

void LayerSystem::find_loose_cells() {
  const int nx = model_.raster.nx, ny = model_.raster.ny;
  const auto per_layer = static_cast<std::size_t>(nx) * static_cast<std::size_t>(ny);
  const auto at = [&](int l, int i, int j) {
    return static_cast<std::size_t>(l) * per_layer + static_cast<std::size_t>(j * nx + i);
  };
  const std::size_t outside = per_layer * model_.layers.size();
  Bodies bodies(outside + 1);
  for (int l = 0; l < n_layers(); ++l) {
    const auto& mesh = residual(l).mesh();
    for (int j = 0; j < ny; ++j)
      for (int i = 0; i <= nx; ++i)
        if (mesh.component[0].active(i, j))
          bodies.join(i > 0 ? at(l, i - 1, j) : outside, i < nx ? at(l, i, j) : outside);
    for (int j = 0; j <= ny; ++j)
      for (int i = 0; i < nx; ++i)
        if (mesh.component[1].active(i, j))
          bodies.join(j > 0 ? at(l, i, j - 1) : outside, j < ny ? at(l, i, j) : outside);
  }
  for (const CellOpening& o : model_.openings) {
    const CellRef& a = o.a.cell;
    const CellRef& b = o.b.cell;
    bodies.join(at(a.layer, a.i, a.j), o.b.kind == EndKind::cell ? at(b.layer, b.i, b.j) : outside);
  }
  std::vector<bool> served(outside + 1, false);
  served[bodies.root(outside)] = true;
  for (int l = 0; l < n_layers(); ++l)
    for (int j = 0; j < ny; ++j)
      for (int i = 0; i < nx; ++i) {
        if (number({l, i, j}, field::kind_p) < 0) continue;
        const std::size_t root = bodies.root(at(l, i, j));
        if (served[root]) continue;
        served[root] = true;
        loose_.push_back({l, i, j});
      }
}

void LayerSystem::set_own_scale(int k, double difference) {
  const auto at = static_cast<std::size_t>(n_cells() + k);
  const double heat = magnitudes_.flow * coupling_.fluid().specific_heat * difference;
  if (k < model_.end_temperature_of(0, 0)) {  // a link's flow
    column_[at] = magnitudes_.flow;
    row_[at] = 1.0 / magnitudes_.pressure;
  } else if (k < model_.pressure_of(0)) {  // the temperature at its end
    column_[at] = difference;
    row_[at] = 1.0 / difference;
  } else if (k < model_.temperature_of(0)) {  // a node's pressure and mass
    column_[at] = magnitudes_.pressure;
    row_[at] = 1.0 / magnitudes_.flow;
  } else {
    column_[at] = difference;
    row_[at] = 1.0 / heat;
  }
}

bool LayerSystem::set_scales(const Fields& fields) {
  const field::Fluid& fluid = coupling_.fluid();
  double low = fluid.temperature, high = low;
  for (const field::State& s : fields.layers)
    for (const double t : s.temperature.values()) {
      low = std::min(low, t);
      high = std::max(high, t);
    }
  const double difference = std::max({high - low, 0.1 * magnitudes_.temperature, 1e-3});
  std::vector<field::Scales> fresh;
  bool changed = scales_.empty();
  for (int l = 0; l < n_layers(); ++l) {
    const field::Problem& p = residual(l).problem();
    const field::State& state = fields.layers[static_cast<std::size_t>(l)];
    field::Scales s;
    s.length = std::min(p.grid.x.length(), p.grid.y.length());
    s.depth = 0.0;
    for (std::size_t k = 0; k < p.depth.size(); ++k)
      if (!p.solid[k]) s.depth = std::max(s.depth, p.depth[k]);
    s.temperature = difference;
    s.velocity = std::max(
        {largest(state.u()), largest(state.v()), magnitudes_.flow / (fluid.density * s.length * s.depth)});
    const double friction = 12.0 * fluid.viscosity * s.velocity * s.length * s.length / s.depth;
    // Not below what the round-off of the pressures themselves leaves in a balance.
    s.momentum = std::max(fluid.density * s.velocity * s.velocity * s.length * s.depth + friction,
                          kPressureShare * magnitudes_.pressure * s.length * s.depth);
    s.mass = fluid.density * s.velocity * s.length * s.depth;
    s.heat = s.temperature * (s.mass * fluid.specific_heat + fluid.conductivity * s.depth);
    if (!scales_.empty()) {
      const field::Scales& old = scales_[static_cast<std::size_t>(l)];
      const double ratio = s.velocity / old.velocity, warmer = s.temperature / old.temperature;
      changed = changed || ratio > 1.5 || ratio < 1.0 / 1.5 || warmer > 2.0 || warmer < 0.5;
    }
    fresh.push_back(s);
  }
  if (!changed) return false;
  scales_ = std::move(fresh);
  for (int l = 0; l < n_layers(); ++l) {
    const field::Scales& s = scales_[static_cast<std::size_t>(l)];
    residual(l).set_scales(s);
    const double per_face = std::sqrt(static_cast<double>(model_.raster.nx) * model_.raster.ny);
    const double columns[4] = {s.velocity, s.velocity, s.momentum / (s.length * s.depth), s.temperature};
    const double rows[4] = {per_face / s.momentum, per_face / s.momentum, per_face / s.mass,
                            per_face / s.heat};
    for (int k = 0; k < unknowns(l).n(); ++k) {
      const auto at = static_cast<std::size_t>(offset(l) + k);
      column_[at] = columns[unknowns(l)[k].kind];
      row_[at] = rows[unknowns(l)[k].kind];
    }
  }
  for (int k = 0; k < n_own(); ++k) set_own_scale(k, difference);
  return true;
}

void LayerSystem::set_rate(double rate) {
  for (int l = 0; l < n_layers(); ++l) {
    const field::Scales& s = scales_[static_cast<std::size_t>(l)];
    const double still = s.momentum / (s.length * s.depth);
    const double stop = rate * coupling_.fluid().density * s.velocity * s.length;
    for (int k = 0; k < unknowns(l).n(); ++k)
      if (unknowns(l)[k].kind == field::kind_p)
        column_[static_cast<std::size_t>(offset(l) + k)] = still + stop;
  }
}

std::vector<double> LayerSystem::balances(const Fields& fields) {
  coupling_.evaluate(fields);
  std::vector<double> r(static_cast<std::size_t>(n()));
  const int layers = n_layers();
#pragma omp parallel for schedule(dynamic, 1) if (layers > 1 && n_cells() > 20000)
  for (int l = 0; l < layers; ++l) {
    const auto L = static_cast<std::size_t>(l);
    residual(l).set_beyond(&coupling_.exchange()[L]);
    residual(l).evaluate(fields.layers[L], &left_over_[L]);
    if (storage_ != nullptr) storage_->subtract(L, residual(l), fields.layers[L], &left_over_[L]);
    const field::Unknowns& u = unknowns(l);
    for (int k = 0; k < u.n(); ++k) {
      const auto at = static_cast<std::size_t>(offset(l) + k);
      r[at] = row_[at] * field::Unknowns::part(left_over_[L], u[k].kind)(u[k].i, u[k].j);
    }
  }
  for (int k = 0; k < n_own(); ++k) {
    const auto at = static_cast<std::size_t>(n_cells() + k);
    r[at] = row_[at] * coupling_.left_over()[static_cast<std::size_t>(k)];
  }
  return r;
}

void LayerSystem::add_to_layer(int l, const std::vector<double>& step, double factor, Fields* fields) const {
  const field::Unknowns& u = unknowns(l);
  field::State& state = fields->layers[static_cast<std::size_t>(l)];
  for (int k = 0; k < u.n(); ++k)
    field::Unknowns::part(state, u[k].kind)(u[k].i, u[k].j) +=
        factor * step[static_cast<std::size_t>(offset(l) + k)];
}

void LayerSystem::add(const std::vector<double>& step, double factor, Fields* fields) const {
  for (int l = 0; l < n_layers(); ++l) add_to_layer(l, step, factor, fields);
  for (int k = 0; k < n_own(); ++k)
    fields->own[static_cast<std::size_t>(k)] += factor * step[static_cast<std::size_t>(n_cells() + k)];
}

void LayerSystem::move(const Fields& from, const std::vector<double>& step, double factor,
                       Fields* fields) const {
  const int layers = n_layers();
  fields->layers.resize(from.layers.size());
#pragma omp parallel for schedule(dynamic, 1) if (layers > 1 && n_cells() > 20000)
  for (int l = 0; l < layers; ++l) {
    fields->layers[static_cast<std::size_t>(l)] = from.layers[static_cast<std::size_t>(l)];
    add_to_layer(l, step, factor, fields);
  }
  fields->own = from.own;
  for (int k = 0; k < n_own(); ++k)
    fields->own[static_cast<std::size_t>(k)] += factor * step[static_cast<std::size_t>(n_cells() + k)];
}

void LayerSystem::impose(Fields* fields) const {
  for (int l = 0; l < n_layers(); ++l) {
    field::State& state = fields->layers[static_cast<std::size_t>(l)];
    field::impose_given_velocities(residual(l).problem(), &state);
    for (const auto& cell : unknowns(l).level_cells()) state.pressure(cell[0], cell[1]) = 0.0;
  }
}

field::Audit LayerSystem::books() const {
  field::Audit out;
  double mass_error = 0.0, net = 0.0, cells = 0.0;
  const auto pass = [](double inwards, double* in, double* away) {
    (inwards > 0.0 ? *in : *away) += std::abs(inwards);
  };
  for (int l = 0; l < n_layers(); ++l) {
    const field::State& over = left_over_[static_cast<std::size_t>(l)];
    const field::Residual& r = residual(l);
    for (const double x : over.pressure.values()) mass_error += std::abs(x);
    for (std::size_t k = 0; k < over.temperature.size(); ++k) {
      if (r.problem().is_solid(static_cast<int>(k) % model_.raster.nx,
                               static_cast<int>(k) / model_.raster.nx))
        continue;
      net += over.temperature[k];
      cells += std::abs(over.temperature[k]);
    }
    const int nx = model_.raster.nx, ny = model_.raster.ny;
    for (int j = 0; j < ny; ++j) {
      pass(r.mass_flow()[0](0, j), &out.mass_in, &out.mass_out);
      pass(-r.mass_flow()[0](nx, j), &out.mass_in, &out.mass_out);
      pass(r.heat_flow()[0](0, j), &out.heat_in, &out.heat_out);
      pass(-r.heat_flow()[0](nx, j), &out.heat_in, &out.heat_out);
    }
    for (int i = 0; i < nx; ++i) {
      pass(r.mass_flow()[1](i, 0), &out.mass_in, &out.mass_out);
      pass(-r.mass_flow()[1](i, ny), &out.mass_in, &out.mass_out);
      pass(r.heat_flow()[1](i, 0), &out.heat_in, &out.heat_out);
      pass(-r.heat_flow()[1](i, ny), &out.heat_in, &out.heat_out);
    }
    const field::Problem& p = r.problem();
    for (std::size_t k = 0; k < p.heat_source.size(); ++k)
      pass(p.heat_source[k] * r.mesh().volume[k], &out.heat_in, &out.heat_out);
    for (const double lost : r.lost_heat().values()) pass(-lost, &out.heat_in, &out.heat_out);
  }
  const std::vector<double>& own = coupling_.left_over();
  for (std::size_t n = 0; n < model_.nodes.size(); ++n) {
    const double mass = own[static_cast<std::size_t>(model_.pressure_of(static_cast<int>(n)))];
    const double heat = own[static_cast<std::size_t>(model_.temperature_of(static_cast<int>(n)))];
    mass_error += std::abs(mass);
    net += heat;
    cells += std::abs(heat);
  }
  for (std::size_t k = 0; k < model_.openings.size(); ++k)
    if (model_.openings[k].b.kind == EndKind::outside) {
      out.mass_in += coupling_.cell_flows()[k].backward;
      out.mass_out += coupling_.cell_flows()[k].forward;
    }
  for (std::size_t k = 0; k < model_.links.size(); ++k) {
    if (model_.links[k].a.kind == EndKind::outside) {
      out.mass_in += coupling_.link_flows()[k].forward;
      out.mass_out += coupling_.link_flows()[k].backward;
    } else if (model_.links[k].b.kind == EndKind::outside) {
      out.mass_in += coupling_.link_flows()[k].backward;
      out.mass_out += coupling_.link_flows()[k].forward;
    }
  }
  out.mass = mass_error / std::max({out.mass_in, out.mass_out, kLeastFlow});
  const double whole = std::max({out.heat_in, out.heat_out, kLeastHeat});
  out.energy = std::abs(net) / whole;
  out.energy_cells = cells / whole;
  return out;
}

std::string LayerSystem::place_of(int k) const {
  if (k < n_cells()) {
    int l = 0;
    while (k >= offset(l + 1)) ++l;
    const field::Unknown& u = unknowns(l)[k - offset(l)];
    return std::string(kBalanceNames[u.kind]) + " at cell (" + std::to_string(u.i) + ", " +
           std::to_string(u.j) + ") of " +
           (model_.layers[static_cast<std::size_t>(l)].kind == LayerKind::gap ? "the gap" : "the inside");
  }
  const int own = k - n_cells();
  if (own < model_.pressure_of(0))
    return "'" + model_.links[static_cast<std::size_t>(own % model_.n_links())].name + "'";
  const int node = (own - model_.pressure_of(0)) % model_.n_nodes();
  const int graph_node = model_.nodes[static_cast<std::size_t>(node)];
  return "'" + model_.network.graph.nodes[static_cast<std::size_t>(graph_node)].name + "'";
}

}  // namespace tuft::plan
