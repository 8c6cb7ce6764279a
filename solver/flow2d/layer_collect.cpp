#include "solver/flow2d/layer_collect.hpp"

#include <algorithm>

namespace tuft::flow2d {
namespace {

/// VentSums of what passes a vent, until all its parts are in.
struct VentSums {
  double warmth_in = 0.0, warmth_out = 0.0;  // flow times temperature
  double would_in = 0.0, would_out = 0.0;    // area times temperature
  double drawing = 0.0;                      // area
};

void finish(const VentSums& sums, double through, const Fluid& fluid, VentFlows* vent) {
  if (!(vent->area > 0.0)) return;
  vent->temperature_in = vent->inflow > 0.0 ? sums.warmth_in / vent->inflow : sums.would_in / vent->area;
  vent->temperature_out = vent->outflow > 0.0 ? sums.warmth_out / vent->outflow : sums.would_out / vent->area;
  const double larger = std::max(vent->inflow, vent->outflow);
  const double t = vent->outflow > vent->inflow ? vent->temperature_out : vent->temperature_in;
  vent->face_velocity = larger / (fluid.density_at(t) * vent->area);
  vent->share = through > 0.0 ? std::min(larger / through, 1.0) : 0.0;
  vent->drawing_share = sums.drawing / vent->area;
}

struct Part {
  double area, into, out_of, exchange, outside, inside;  // temperatures of the two sides
};

void add_part(const Part& part, VentFlows* vent, VentSums* sums) {
  vent->inflow += part.into;
  vent->outflow += part.out_of;
  vent->exchange += part.exchange;
  vent->area += part.area;
  sums->warmth_in += part.into * part.outside;
  sums->warmth_out += part.out_of * part.inside;
  sums->would_in += part.area * part.outside;
  sums->would_out += part.area * part.inside;
  if (part.into > part.out_of) sums->drawing += part.area;
}

double finish_all(const std::vector<VentSums>& sums, const Fluid& fluid, std::vector<VentFlows>* vents) {
  double through = 0.0;
  for (const VentFlows& vent : *vents) through += vent.inflow;
  for (std::size_t v = 0; v < vents->size(); ++v) finish(sums[v], through, fluid, &(*vents)[v]);
  return through;
}

void collect_vents(const LayerModel& model, const Fields& fields, const Coupling& coupling,
                   PlanResult* result) {
  result->vents.assign(model.raster.vents.size(), VentFlows{});
  for (VentFlows& vent : result->vents)
    vent.temperature_in = vent.temperature_out = result->ambient_temperature;
  std::vector<VentSums> sums(result->vents.size());
  for (std::size_t k = 0; k < model.openings.size(); ++k) {
    const CellOpening& o = model.openings[k];
    if (o.vent < 0) continue;
    const OpeningFlow& flow = coupling.cell_flows()[k];
    const double a = coupling.side(fields, o.a, o.outside).temperature;
    const double b = coupling.side(fields, o.b, o.outside).temperature;
    const Part part = o.reversed ? Part{o.law.area, flow.forward, flow.backward, flow.exchange, a, b}
                                 : Part{o.law.area, flow.backward, flow.forward, flow.exchange, b, a};
    add_part(part, &result->vents[o.vent], &sums[o.vent]);
    result->vents[o.vent].cells.push_back(
        {o.a.cell.layer, o.a.cell.i, o.a.cell.j, part.area, part.into, part.out_of});
  }
  for (std::size_t k = 0; k < model.links.size(); ++k) {
    const Link& link = model.links[k];
    if (link.vent < 0) continue;
    const OpeningFlow& flow = coupling.link_flows()[k];
    add_part({link.law.area, flow.backward, flow.forward, flow.exchange,
              coupling.side(fields, link.b, link.outside).temperature,
              coupling.side(fields, link.a, link.outside).temperature},
             &result->vents[link.vent], &sums[link.vent]);
  }
  result->through_flow = finish_all(sums, coupling.fluid(), &result->vents);
}

void collect_links(const geometry::Device& device, const LayerModel& model, const Fields& fields,
                   const Coupling& coupling, PlanResult* result) {
  result->fans.assign(device.fans.size(), LinkFlow{});
  for (std::size_t k = 0; k < model.links.size(); ++k) {
    const Link& link = model.links[k];
    if (link.kind != LinkKind::fan && link.kind != LinkKind::passage) continue;
    const SideAir a = coupling.side(fields, link.a, link.outside),
                  b = coupling.side(fields, link.b, link.outside);
    LinkFlow flow;
    flow.name = link.name;
    flow.flow = fields.own[k];
    flow.temperature = flow.flow >= 0.0 ? a.temperature : b.temperature;
    flow.volume_flow = flow.flow / coupling.fluid().density_at(a.temperature);
    const bool fan = link.kind == LinkKind::fan;
    flow.pressure_rise = fan ? b.pressure - a.pressure : a.pressure - b.pressure;
    if (fan)
      result->fans[link.index] = flow;
    else
      result->passages.push_back(flow);
  }
}

/// What metal gives to the cells of a layer [W]; empty where there is none.
Array2 heat_of_channels(const Layer& layer, const State& state) {
  if (layer.problem.channels.empty()) return {};
  Residual residual(layer.problem);
  State scratch = state;
  residual.evaluate(state, &scratch);
  return residual.channel_heat();
}

void collect_fins(const LayerBoundaryData& given, const Layer& layer, const Array2& heat,
                  PlanResult* result) {
  for (std::size_t k = 0; k < layer.problem.channels.size(); ++k) {
    const HeatedChannels& block = layer.problem.channels[k];
    const auto f = static_cast<std::size_t>(layer.stack_of_channels[k]);
    FinHeat fins{static_cast<int>(f), block.metal, 0.0, given.fin_metals[f].heat};
    for (int j = block.j0; j < block.j1; ++j)
      for (int i = block.i0; i < block.i1; ++i) fins.heat += heat(i, j);
    result->power += fins.heat - fins.network_heat;
    result->fins.push_back(fins);
  }
}

LayerFields layer_fields(const LayerModel& model, std::size_t l, const Fields& fields, const Array2& fins) {
  const Layer& layer = model.layers[l];
  const State& state = fields.layers[l];
  const int nx = model.raster.nx, ny = model.raster.ny;
  LayerFields out;
  if (layer.kind == LayerKind::gap)
    out.name = std::string("gap-") + geometry::face_word(layer.face);
  else
    out.name = l == 0 ? "inside" : "inside-" + std::to_string(l + 1);
  out.x = layer.problem.grid.x.faces();
  out.y = layer.problem.grid.y.faces();
  out.height = layer.height;
  out.depth = layer.problem.depth;
  out.part = layer.part;
  out.u_face = state.u();
  out.v_face = state.v();
  out.pressure = state.pressure;
  out.temperature = state.temperature;
  out.solid = layer.problem.solid;
  out.u = out.v = out.density = out.heat = Array2(nx, ny);
  for (int j = 0; j < ny; ++j)
    for (int i = 0; i < nx; ++i) {
      out.u(i, j) = 0.5 * (state.u()(i, j) + state.u()(i + 1, j));
      out.v(i, j) = 0.5 * (state.v()(i, j) + state.v()(i, j + 1));
      out.density(i, j) = layer.problem.fluid.density_at(state.temperature(i, j));
      if (!layer.problem.heat_source.empty())
        out.heat(i, j) = layer.problem.heat_source(i, j) * layer.problem.depth(i, j);
      if (!fins.empty()) out.heat(i, j) += fins(i, j) / (model.raster.dx * model.raster.dy);
    }
  return out;
}

}  // namespace

std::vector<VentFlows> network_flows(const LayerModel& model) {
  const network::Graph& graph = model.layered.graph;
  network::Solver solver(graph);
  solver.solve();
  const auto temperature = [&](int node) {
    return node == network::kOutside ? graph.ambient.temperature : solver.state().temperature[node];
  };
  std::vector<VentFlows> vents(model.layered.layout.vent_openings.size());
  std::vector<VentSums> sums(vents.size());
  for (std::size_t v = 0; v < vents.size(); ++v) {
    vents[v].temperature_in = vents[v].temperature_out = graph.ambient.temperature;
    for (const int o : model.layered.layout.vent_openings[v]) {
      const network::Opening& opening = graph.openings[o];
      const network::ElementState& element = solver.equations().element(o);
      add_part({opening.area, element.backward, element.forward, element.exchange, temperature(opening.b),
                temperature(opening.a)},
               &vents[v], &sums[v]);
    }
  }
  finish_all(sums, model.layers.front().problem.fluid, &vents);
  return vents;
}

void collect_flows(const geometry::Device& device, const LayerModel& model, const Fields& fields,
                   const Coupling& coupling, PlanResult* result) {
  collect_vents(model, fields, coupling, result);
  collect_links(device, model, fields, coupling, result);
}

void collect(const geometry::Device& device, const LayerBoundaryData& given, const LayerModel& model,
             const Fields& fields, const Coupling& coupling, PlanResult* result) {
  result->power = model.power;
  result->ambient_density = coupling.fluid().density;
  result->ambient_temperature = coupling.fluid().temperature;
  collect_flows(device, model, fields, coupling, result);
  for (std::size_t l = 0; l < model.layers.size(); ++l) {
    const Array2 fins = heat_of_channels(model.layers[l], fields.layers[l]);
    collect_fins(given, model.layers[l], fins, result);
    result->layers.push_back(layer_fields(model, l, fields, fins));
  }
  result->network_vents = network_flows(model);
}

void put_means(const PlanResult& means, PlanResult* result) {
  result->vents = means.vents;
  result->fans = means.fans;
  result->passages = means.passages;
  result->through_flow = means.through_flow;
}

}  // namespace tuft::flow2d
