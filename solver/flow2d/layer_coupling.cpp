#include "solver/flow2d/layer_coupling.hpp"

#include <algorithm>

namespace tuft::flow2d {
namespace {

double temperature_at(const Fields& fields, const CellRef& c) {
  return fields.layers[c.layer].temperature(c.i, c.j);
}

double pressure_at(const Fields& fields, const CellRef& c) {
  return fields.layers[c.layer].pressure(c.i, c.j);
}

}  // namespace

Coupling::Coupling(const LayerModel& model) : model_(model) {
  const int nx = model.raster.nx, ny = model.raster.ny;
  for (std::size_t l = 0; l < model.layers.size(); ++l)
    exchange_.push_back({Array2(nx, ny), Array2(nx, ny), Array2(nx, ny)});
  imbalance_.resize(static_cast<std::size_t>(model.n_own()));
  cell_flows_.resize(model.openings.size());
  link_flows_.resize(model.links.size());
  std::vector<Mask> listed(model.layers.size(), Mask(nx, ny));
  const auto list = [&](const CellRef& c) {
    unsigned char& seen = listed[c.layer](c.i, c.j);
    if (seen == 0) cells_.push_back(c);
    seen = 1;
  };
  for (std::size_t k = 0; k < model.openings.size(); ++k) {
    if (model.openings[k].b.kind != EndKind::node) continue;
    openings_beside_.push_back(k);
    list(model.openings[k].a.cell);
  }
  for (const Link& link : model.links)
    for (const End* end : {&link.a, &link.b}) {
      if (end->kind == EndKind::cell) list(end->cell);
      if (end->kind != EndKind::group) continue;
      for (const Group::Member& m : model.groups[end->index].members) list(m.cell);
    }
  cells_beside_ = cells_;
  for (const CellOpening& o : model.openings) {
    list(o.a.cell);
    if (o.b.kind == EndKind::cell) list(o.b.cell);
  }
}

void Coupling::clear(const std::vector<CellRef>& cells) {
  for (const CellRef& c : cells) {
    Exchange& e = exchange_[c.layer];
    e.mass(c.i, c.j) = e.out(c.i, c.j) = e.heat(c.i, c.j) = 0.0;
  }
  std::fill(imbalance_.begin(), imbalance_.end(), 0.0);
}

SideAir Coupling::side(const Fields& fields, const End& end, double outside) const {
  const Fluid& air = fluid();
  switch (end.kind) {
    case EndKind::outside:
      return {end.pressure, outside};
    case EndKind::cell: {
      const double t = temperature_at(fields, end.cell);
      return {pressure_at(fields, end.cell) + air.buoyancy_density(t) * end.lever, t};
    }
    case EndKind::group: {
      SideAir mean;
      for (const Group::Member& m : model_.groups[end.index].members) {
        const double t = temperature_at(fields, m.cell);
        mean.pressure += m.share * (pressure_at(fields, m.cell) + air.buoyancy_density(t) * m.lever);
        mean.temperature += m.share * t;
      }
      return mean;
    }
    case EndKind::node:
      break;
  }
  const double t = fields.own[model_.temperature_of(end.index)];
  const double p = fields.own[model_.pressure_of(end.index)];
  return {p + air.buoyancy_density(t) * end.lever, t};
}

/// Counted from the reference temperature, as the field counts heat.
double Coupling::heat_of(double mass, double temperature) const {
  return mass * fluid().specific_heat * (temperature - fluid().temperature);
}

void Coupling::add_cell(const Fields& fields, const CellRef& cell, double in, double out, double heat) {
  Exchange& e = exchange_[cell.layer];
  e.mass(cell.i, cell.j) += in - out;
  e.out(cell.i, cell.j) -= out;
  e.heat(cell.i, cell.j) += heat - heat_of(out, temperature_at(fields, cell));
}

/// `in` and `out` are gross flows into and out of the end, `brought` the heat that comes with the first.
void Coupling::add_end(const Fields& fields, const End& end, double in, double out, double brought) {
  switch (end.kind) {
    case EndKind::outside:
      return;
    case EndKind::cell:
      add_cell(fields, end.cell, in, out, brought);
      return;
    case EndKind::group:
      for (const Group::Member& m : model_.groups[end.index].members)
        add_cell(fields, m.cell, m.share * in, m.share * out, m.share * brought);
      return;
    case EndKind::node:
      break;
  }
  const double t = fields.own[model_.temperature_of(end.index)];
  imbalance_[model_.pressure_of(end.index)] += in - out;
  imbalance_[model_.temperature_of(end.index)] += brought - heat_of(out, t);
}

void Coupling::evaluate_link(const Fields& fields, int k) {
  const Link& link = model_.links[k];
  const auto own = [&](int unknown) { return fields.own[unknown]; };
  const auto over = [&](int unknown) -> double& { return imbalance_[unknown]; };
  const double net = own(model_.flow_of(k));
  const int end_a = model_.end_temperature_of(k, 0), end_b = model_.end_temperature_of(k, 1);
  const double temperature_a = own(end_a), temperature_b = own(end_b);
  const SideAir a = side(fields, link.a, link.outside), b = side(fields, link.b, link.outside);
  OpeningFlow flow;
  double drop = 0.0;
  if (link.kind == LinkKind::passage || link.kind == LinkKind::opening) {
    flow = opening_flow_at(link.law, fluid(), net, temperature_a, temperature_b, &drop);
  } else {
    flow.forward = std::max(net, 0.0);
    flow.backward = std::max(-net, 0.0);
  }
  if (link.kind == LinkKind::fan) {
    // The density at the inlet counts in both directions, as in the network.
    const network::FanElement& fan = model_.network.graph.fans[link.graph_fan];
    const double density = fluid().density_at(temperature_a);
    drop = -fan.curve.rise(net / density, fan.speed, density).pressure;
  }
  over(model_.flow_of(k)) = a.pressure - b.pressure - drop;
  over(end_a) = a.temperature - temperature_a;
  over(end_b) = b.temperature - temperature_b;
  link_flows_[k] = flow;
  add_end(fields, link.a, flow.backward, flow.forward,
          heat_of(flow.backward, temperature_b) - flow.conducted);
  add_end(fields, link.b, flow.forward, flow.backward, heat_of(flow.forward, temperature_a) + flow.conducted);
}

void Coupling::evaluate_opening(const Fields& fields, std::size_t k) {
  const CellOpening& o = model_.openings[k];
  OpeningFlow& flow = cell_flows_[k];
  const SideAir from = side(fields, o.a, o.outside), to = side(fields, o.b, o.outside);
  flow = opening_flow(o.law, fluid(), from, to);
  add_end(fields, o.a, flow.backward, flow.forward, heat_of(flow.backward, to.temperature) - flow.conducted);
  add_end(fields, o.b, flow.forward, flow.backward, heat_of(flow.forward, from.temperature) + flow.conducted);
}

void Coupling::evaluate(const Fields& fields) {
  clear(cells_);
  for (std::size_t k = 0; k < model_.openings.size(); ++k) evaluate_opening(fields, k);
  for (int k = 0; k < model_.n_links(); ++k) evaluate_link(fields, k);
}

void Coupling::evaluate_beside(const Fields& fields) {
  clear(cells_beside_);
  for (const std::size_t k : openings_beside_) evaluate_opening(fields, k);
  for (int k = 0; k < model_.n_links(); ++k) evaluate_link(fields, k);
}

std::vector<std::pair<CellRef, std::optional<CellRef>>> Coupling::openings() const {
  std::vector<std::pair<CellRef, std::optional<CellRef>>> out;
  for (const CellOpening& o : model_.openings)
    out.emplace_back(o.a.cell, o.b.kind == EndKind::cell ? std::optional<CellRef>(o.b.cell) : std::nullopt);
  return out;
}

std::array<double, 2> Coupling::scale_of(int own, const Magnitudes& sizes, double difference) const {
  if (own < model_.end_temperature_of(0, 0)) return {sizes.flow, 1.0 / sizes.pressure};
  if (own < model_.pressure_of(0)) return {difference, 1.0 / difference};
  if (own < model_.temperature_of(0)) return {sizes.pressure, 1.0 / sizes.flow};
  return {difference, 1.0 / (sizes.flow * fluid().specific_heat * difference)};
}

void Coupling::add_balance(Gross* gross, std::vector<std::array<double, 2>>* spaces) const {
  for (int n = 0; n < model_.n_nodes(); ++n)
    spaces->push_back({imbalance_[model_.pressure_of(n)], imbalance_[model_.temperature_of(n)]});
  const auto add = [&](double in, double out) {
    gross->mass_in += in;
    gross->mass_out += out;
  };
  for (std::size_t k = 0; k < model_.openings.size(); ++k)
    if (model_.openings[k].b.kind == EndKind::outside) add(cell_flows_[k].backward, cell_flows_[k].forward);
  for (std::size_t k = 0; k < model_.links.size(); ++k) {
    if (model_.links[k].a.kind == EndKind::outside)
      add(link_flows_[k].forward, link_flows_[k].backward);
    else if (model_.links[k].b.kind == EndKind::outside)
      add(link_flows_[k].backward, link_flows_[k].forward);
  }
}

std::string Coupling::name_of(int own) const {
  if (own < model_.pressure_of(0)) return "'" + model_.links[own % model_.n_links()].name + "'";
  const int node = (own - model_.pressure_of(0)) % model_.n_nodes();
  const int graph_node = model_.nodes[node];
  return "'" + model_.network.graph.nodes[graph_node].name + "'";
}

std::string Coupling::name_of_layer(int layer) const {
  return model_.layers[layer].kind == LayerKind::gap ? "the gap" : "the inside";
}

LayerFlow::LayerFlow(LayerModel model, const Magnitudes& magnitudes)
    : model_(std::move(model)), coupling_(model_) {
  for (Layer& layer : model_.layers) flow_.layers.push_back(&layer.problem);
  flow_.coupling_terms = &coupling_;
  flow_.magnitudes = magnitudes;
  flow_.factors_apart = true;
}

double LayerFlow::passage() const {
  const Problem& p = model_.layers.front().problem;
  double depth = 0.0;
  for (const double h : p.depth.values()) depth = std::max(depth, h);
  return p.fluid.density * p.grid.x.length() * p.grid.y.length() * depth / flow_.magnitudes.flow;
}

double LayerFlow::air() const {
  double volume = 0.0;
  for (const Layer& layer : model_.layers)
    for (std::size_t k = 0; k < layer.problem.depth.size(); ++k)
      if (layer.problem.solid[k] == 0) volume += layer.problem.depth[k];
  return volume * model_.raster.dx * model_.raster.dy * model_.layers.front().problem.fluid.density;
}

Fields still_fields(const LayerModel& model) {
  Fields fields;
  for (const Layer& layer : model.layers) fields.layers.push_back(still_state(layer.problem));
  fields.own.assign(static_cast<std::size_t>(model.n_own()), 0.0);
  const auto warm = [&](int unknown) { fields.own[unknown] = model.network.graph.ambient.temperature; };
  for (int k = 0; k < model.n_links(); ++k)
    for (const int end : {0, 1}) warm(model.end_temperature_of(k, end));
  for (int n = 0; n < model.n_nodes(); ++n) warm(model.temperature_of(n));
  return fields;
}

}  // namespace tuft::flow2d
