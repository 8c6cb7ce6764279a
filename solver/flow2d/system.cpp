#include "solver/flow2d/system.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace tuft::flow2d {
namespace {

constexpr const char* kBalanceNames[4] = {"x-momentum", "y-momentum", "mass", "heat"};
// Momentum is balanced against at least this share of the device's pressures; 1e-9 of it is 1e-14 of them.
constexpr double kPressureShare = 1e-5;
constexpr double kFaster = 1.5;  // ratio of velocities from which scales are taken anew

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

FlowSystem::FlowSystem(const Flow& flow) : flow_(flow) {
  offset_.push_back(0);
  for (const Problem* problem : flow.layers) {
    residuals_.push_back(std::make_unique<Residual>(*problem));
    unknowns_.push_back(std::make_unique<Unknowns>(*problem, residuals_.back()->mesh()));
    imbalance_.push_back(still_state(*problem));
    offset_.push_back(offset_.back() + unknowns_.back()->n());
  }
  column_.resize(static_cast<std::size_t>(n()));
  row_.resize(static_cast<std::size_t>(n()));
  if (flow.coupling_terms != nullptr) find_loose_cells();
}

int FlowSystem::number(const CellRef& cell, Kind kind) const {
  const int k = unknowns_[cell.layer]->number(kind, cell.i, cell.j);
  return k < 0 ? -1 : k + offset(cell.layer);
}

void FlowSystem::find_loose_cells() {
  const int nx = this->nx(), ny = this->ny();
  const auto per_layer = static_cast<std::size_t>(nx) * static_cast<std::size_t>(ny);
  const auto at = [&](int l, int i, int j) {
    return static_cast<std::size_t>(l) * per_layer + static_cast<std::size_t>(j * nx + i);
  };
  const std::size_t outside = per_layer * flow_.layers.size();
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
  for (const auto& [a, b] : flow_.coupling_terms->openings())
    bodies.join(at(a.layer, a.i, a.j), b ? at(b->layer, b->i, b->j) : outside);
  std::vector<bool> served(outside + 1, false);
  served[bodies.root(outside)] = true;
  for (int l = 0; l < n_layers(); ++l)
    for (int j = 0; j < ny; ++j)
      for (int i = 0; i < nx; ++i) {
        if (number({l, i, j}, kind_p) < 0) continue;
        const std::size_t root = bodies.root(at(l, i, j));
        if (served[root]) continue;
        served[root] = true;
        loose_.push_back({l, i, j});
      }
}

Scales FlowSystem::scales_by_sizes(int l, const Fields& fields, double difference) const {
  const Problem& p = residual(l).problem();
  const State& state = fields.layers[l];
  const Magnitudes& sizes = flow_.magnitudes;
  Scales s;
  s.length = std::min(p.grid.x.length(), p.grid.y.length());
  s.depth = 0.0;
  for (std::size_t k = 0; k < p.depth.size(); ++k)
    if (!p.solid[k]) s.depth = std::max(s.depth, p.depth[k]);
  s.temperature = difference;
  s.velocity =
      std::max({largest(state.u()), largest(state.v()), sizes.flow / (p.fluid.density * s.length * s.depth)});
  const double friction = 12.0 * p.fluid.viscosity * s.velocity * s.length * s.length / s.depth;
  // Not below what the round-off of the pressures themselves leaves in a balance.
  s.momentum = std::max(p.fluid.density * s.velocity * s.velocity * s.length * s.depth + friction,
                        kPressureShare * sizes.pressure * s.length * s.depth);
  s.mass = p.fluid.density * s.velocity * s.length * s.depth;
  s.heat = s.temperature * (s.mass * p.fluid.specific_heat + p.fluid.conductivity * s.depth);
  return s;
}

bool FlowSystem::set_scales(const Fields& fields, bool begins) {
  if (flow_.coupling_terms == nullptr) {
    const Problem& p = residual(0).problem();
    const Scales promised = scales_of(p, nullptr);
    Scales s = scales_of(p, &fields.layers[0]);
    begins = begins || scales_.empty();
    if (begins && s.velocity < 0.03 * promised.velocity) s = promised;
    return take_scales({s}, begins);
  }
  const Fluid& fluid = residual(0).problem().fluid;
  double low = fluid.temperature, high = low;
  for (const State& s : fields.layers)
    for (const double t : s.temperature.values()) {
      low = std::min(low, t);
      high = std::max(high, t);
    }
  const double difference = std::max({high - low, 0.1 * flow_.magnitudes.temperature, 1e-3});
  std::vector<Scales> fresh;
  bool warmer = false;
  for (int l = 0; l < n_layers(); ++l) {
    fresh.push_back(scales_by_sizes(l, fields, difference));
    if (scales_.empty()) continue;
    const double ratio = difference / scales_[l].temperature;
    warmer = warmer || ratio > 2.0 || ratio < 0.5;
  }
  if (!take_scales(std::move(fresh), warmer || scales_.empty())) return false;
  for (int k = 0; k < n_own(); ++k) {
    const auto scale = flow_.coupling_terms->scale_of(k, flow_.magnitudes, difference);
    column_[n_cells() + k] = scale[0];
    row_[n_cells() + k] = scale[1];
  }
  return true;
}

/// Where velocities changed enough, or `whatever` they did.
bool FlowSystem::take_scales(std::vector<Scales> fresh, bool whatever) {
  for (std::size_t l = 0; l < fresh.size() && !whatever; ++l) {
    const double ratio = fresh[l].velocity / scales_[l].velocity;
    whatever = ratio >= kFaster || ratio <= 1.0 / kFaster;
  }
  if (!whatever) return false;
  scales_ = std::move(fresh);
  const double per_face = std::sqrt(static_cast<double>(nx()) * ny());
  for (int l = 0; l < n_layers(); ++l) {
    const Scales& s = scales_[l];
    residual(l).set_scales(s);
    const double columns[4] = {s.velocity, s.velocity, s.momentum / (s.length * s.depth), s.temperature};
    const double rows[4] = {per_face / s.momentum, per_face / s.momentum, per_face / s.mass,
                            per_face / s.heat};
    for (int k = 0; k < unknowns(l).n(); ++k) {
      const auto at = static_cast<std::size_t>(offset(l) + k);
      column_[at] = columns[unknowns(l)[k].kind];
      row_[at] = rows[unknowns(l)[k].kind];
    }
  }
  return true;
}

void FlowSystem::set_rate(double rate) {
  for (int l = 0; l < n_layers(); ++l) {
    const Scales& s = scales_[l];
    const double still = s.momentum / (s.length * s.depth);
    const double stop = rate * residual(l).problem().fluid.density * s.velocity * s.length;
    for (int k = 0; k < unknowns(l).n(); ++k)
      if (unknowns(l)[k].kind == kind_p) column_[offset(l) + k] = still + stop;
  }
}

std::vector<double> FlowSystem::balances(const Fields& fields) {
  if (flow_.coupling_terms != nullptr) flow_.coupling_terms->evaluate(fields);
  std::vector<double> r(static_cast<std::size_t>(n()));
  const int layers = n_layers();
#pragma omp parallel for schedule(dynamic, 1) if (layers > 1 && n_cells() > 20000)
  for (int l = 0; l < layers; ++l) {
    if (flow_.coupling_terms != nullptr) residual(l).set_beyond(&flow_.coupling_terms->exchange()[l]);
    residual(l).evaluate(fields.layers[l], &imbalance_[l]);
    if (storage_ != nullptr) storage_->subtract(l, residual(l), fields.layers[l], &imbalance_[l]);
    const Unknowns& u = unknowns(l);
    for (int k = 0; k < u.n(); ++k) {
      const auto at = static_cast<std::size_t>(offset(l) + k);
      r[at] = row_[at] * Unknowns::part(imbalance_[l], u[k].kind)(u[k].i, u[k].j);
    }
  }
  for (int k = 0; k < n_own(); ++k) {
    const auto at = static_cast<std::size_t>(n_cells() + k);
    r[at] = row_[at] * flow_.coupling_terms->imbalance()[k];
  }
  return r;
}

void FlowSystem::add_to_layer(int l, const std::vector<double>& step, double factor, Fields* fields) const {
  const Unknowns& u = unknowns(l);
  State& state = fields->layers[l];
  for (int k = 0; k < u.n(); ++k)
    Unknowns::part(state, u[k].kind)(u[k].i, u[k].j) += factor * step[offset(l) + k];
}

void FlowSystem::add(const std::vector<double>& step, double factor, Fields* fields) const {
  for (int l = 0; l < n_layers(); ++l) add_to_layer(l, step, factor, fields);
  for (int k = 0; k < n_own(); ++k) fields->own[k] += factor * step[n_cells() + k];
}

void FlowSystem::move(const Fields& from, const std::vector<double>& step, double factor,
                      Fields* fields) const {
  const int layers = n_layers();
  fields->layers.resize(from.layers.size());
#pragma omp parallel for schedule(dynamic, 1) if (layers > 1 && n_cells() > 20000)
  for (int l = 0; l < layers; ++l) {
    fields->layers[l] = from.layers[l];
    add_to_layer(l, step, factor, fields);
  }
  fields->own = from.own;
  for (int k = 0; k < n_own(); ++k) fields->own[k] += factor * step[n_cells() + k];
}

void FlowSystem::impose(Fields* fields) const {
  for (int l = 0; l < n_layers(); ++l) {
    State& state = fields->layers[l];
    impose_given_velocities(residual(l).problem(), &state);
    for (const auto& cell : unknowns(l).level_cells()) state.pressure(cell[0], cell[1]) = 0.0;
  }
}

void FlowSystem::set_renewal(std::vector<double>* out) const {
  out->assign(static_cast<std::size_t>(n()), 0.0);
  for (int l = 0; l < n_layers(); ++l) {
    const Residual& r = residual(l);
    const Scales& s = r.scales();
    const Mesh& mesh = r.mesh();
    const Fluid& fluid = r.problem().fluid;
    const auto& flow = r.mass_flow();
    const double cp = fluid.specific_heat, rate = fluid.density * s.velocity / s.length;
    const auto passing = [&](int i, int j) {
      i = std::clamp(i, 0, nx() - 1);
      j = std::clamp(j, 0, ny() - 1);
      return 0.5 * (std::abs(flow[0](i, j)) + std::abs(flow[0](i + 1, j)) + std::abs(flow[1](i, j)) +
                    std::abs(flow[1](i, j + 1)));
    };
    for (int k = 0; k < unknowns(l).n(); ++k) {
      const Unknown& d = unknowns(l)[k];
      double& renews = (*out)[offset(l) + k];
      if (d.kind == kind_u)
        renews =
            0.5 * (passing(d.i, d.j) + passing(d.i - 1, d.j)) + rate * mesh.component[0].volume(d.i, d.j);
      if (d.kind == kind_v)
        renews =
            0.5 * (passing(d.i, d.j) + passing(d.i, d.j - 1)) + rate * mesh.component[1].volume(d.i, d.j);
      if (d.kind == kind_t) renews = cp * (passing(d.i, d.j) + rate * mesh.volume(d.i, d.j));
    }
  }
}

std::string FlowSystem::place_of(int k) const {
  if (k >= n_cells()) return flow_.coupling_terms->name_of(k - n_cells());
  int l = 0;
  while (k >= offset(l + 1)) ++l;
  const Unknown& u = unknowns(l)[k - offset(l)];
  return std::string(kBalanceNames[u.kind]) + " at cell (" + std::to_string(u.i) + ", " +
         std::to_string(u.j) + ")" +
         (flow_.coupling_terms != nullptr ? " of " + flow_.coupling_terms->name_of_layer(l) : std::string());
}

}  // namespace tuft::flow2d
