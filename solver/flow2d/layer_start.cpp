#include "solver/flow2d/layer_start.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "solver/numerics/curves.hpp"

namespace tuft::flow2d {
namespace {

constexpr double kLeastThroughFlow = 1e-9;  // [kg/s]
constexpr double kLeastPressure = 1e-4;     // [Pa]
constexpr double kLeastDifference = 1e-6;   // [K], below it nothing is warm and 1 K is the measure

struct NodeAir {
  double pressure, temperature;
};

NodeAir at_node(const network::Solver& solver, int node) {
  return {solver.state().pressure[node], solver.state().temperature[node]};
}

/// Graph nodes at a link's two ends.
std::array<int, 2> ends_of(const LayerModel& model, const network::Solver& solver, const Link& link) {
  const network::Graph& graph = model.network.graph;
  if (link.kind != LinkKind::fan) {
    const network::Opening& opening = graph.openings[link.graph_opening];
    return {link.kind == LinkKind::free ? opening.b : opening.a, opening.b};
  }
  const int element = solver.equations().n_openings() + link.graph_fan;
  return {solver.equations().side_a(element), solver.equations().side_b(element)};
}

double through_flow(const network::Solver& solver) {
  const network::Equations& equations = solver.equations();
  double sum = 0.0;
  for (int e = 0; e < equations.n_openings(); ++e)
    if (equations.side_b(e) == network::kOutside)
      sum += 0.5 * (equations.element(e).forward + equations.element(e).backward);
  return sum;
}

int parts_zone(const LayerModel& model, int part) {
  return part < static_cast<int>(model.raster.zone_storey.size()) ? part : -1;
}

void fill_zone_cell(const LayerModel& model, const network::Solver& solver, std::size_t l, int i, int j,
                    int zone, Fields* fields) {
  const network::Graph& graph = model.network.graph;
  const int node = model.network.layout.zone_node[zone];
  const NodeAir air = at_node(solver, node);
  const geometry::Vec3 at(model.raster.x(i), model.raster.y(j), model.layers[l].height(i, j));
  const double lever = network::height_lever(graph, node, at);
  const Fluid& fluid = model.layers[l].problem.fluid;
  fields->layers[l].pressure(i, j) = air.pressure + fluid.buoyancy_density(air.temperature) * lever;
  fields->layers[l].temperature(i, j) = air.temperature;
}

/// Linear from the pressure before a stack to that behind it.
void fill_fin_cell(const LayerModel& model, const network::Solver& solver, std::size_t l, int i, int j, int f,
                   Fields* fields) {
  const geometry::FinBlock& block = model.raster.fins[f];
  const NodeAir before = at_node(solver, model.fin_entry_node[f]),
                behind = at_node(solver, model.network.layout.fin_node[f]);
  const int first = block.along == 0 ? block.i0 : block.j0, last = block.along == 0 ? block.i1 : block.j1;
  double way = static_cast<double>((block.along == 0 ? i : j) - first) / (last - first - 1);
  if (block.sign < 0) way = 1.0 - way;
  fields->layers[l].pressure(i, j) = before.pressure + way * (behind.pressure - before.pressure);
  fields->layers[l].temperature(i, j) = before.temperature + way * (behind.temperature - before.temperature);
}

/// The network's flow through a stack, evenly over its section.
void fill_fin_velocity(const LayerModel& model, const network::Solver& solver, std::size_t f,
                       Fields* fields) {
  const geometry::FinBlock& block = model.raster.fins[f];
  const bool x = block.along == 0;
  State& state = fields->layers[block.storey];
  const Problem& p = model.layers[block.storey].problem;
  const double breadth =
      x ? (block.j1 - block.j0) * model.raster.dy : (block.i1 - block.i0) * model.raster.dx;
  const double flow = solver.state().flow[model.network.layout.fin_opening[f]];
  for (int j = block.j0; j < block.j1; ++j)
    for (int i = block.i0; i < block.i1; ++i) {
      if (x ? i == block.i0 : j == block.j0) continue;
      const double section = breadth * p.depth(i, j) * p.fluid.density_at(state.temperature(i, j));
      (x ? state.u() : state.v())(i, j) = block.sign * flow / section;
    }
}

/// Value of a coarse cell of the same part near a place, by distance; false where there is none.
bool nearby_value(const Layer& layer, const Array2& values, int part, int I, int J, double* value) {
  double best = 1e300;
  for (int dj = -2; dj <= 2; ++dj)
    for (int di = -2; di <= 2; ++di) {
      const int i = I + di, j = J + dj;
      if (i < 0 || j < 0 || i >= values.nx() || j >= values.ny() || layer.part(i, j) != part) continue;
      const double apart = di * di + dj * dj;
      if (apart >= best) continue;
      best = apart;
      *value = values(i, j);
    }
  return best < 1e300;
}

bool all_of_part(const Layer& layer, int part, int I, int J) {
  for (int j = J - 1; j <= J + 1; ++j)
    for (int i = I - 1; i <= I + 1; ++i)
      if (i >= 0 && j >= 0 && i < layer.part.nx() && j < layer.part.ny() && layer.part(i, j) != part)
        return false;
  return true;
}

/// Velocities of component d: linear along themselves between the coarse faces, constant across a coarse
/// cell, averaged over the fine face. Flow that balances in the coarse cells balances in any part of one, and
/// nothing leaks in from a wall that runs along; interpolation both ways starts eddies in the corners, which
/// take many steps to die.
Array2 carried_velocity(const Grid& from, const Array2& coarse, int d, const Grid& to) {
  const Axis &along = from.axis(d), &across = from.axis(1 - d);
  Array2 fine(to.nx() + (d == 0), to.ny() + (d == 1));
  for (int j = 0; j < fine.ny(); ++j)
    for (int i = 0; i < fine.nx(); ++i) {
      const auto a = static_cast<std::size_t>(d == 0 ? i : j), c = static_cast<std::size_t>(d == 0 ? j : i);
      const double x = to.axis(d).faces()[a];
      const double low = to.axis(1 - d).faces()[c], high = to.axis(1 - d).faces()[c + 1];
      const int A = numerics::interval_of(along.faces(), x);
      const auto left = along.faces()[A];
      const double way = std::clamp((x - left) / along.widths()[A], 0.0, 1.0);
      double sum = 0.0;
      for (int C = numerics::interval_of(across.faces(), low); C < across.n(); ++C) {
        const double begin = std::max(low, across.faces()[C]),
                     end = std::min(high, across.faces()[static_cast<std::size_t>(C) + 1]);
        if (end <= begin) break;
        const double before = d == 0 ? coarse(A, C) : coarse(C, A);
        const double after = d == 0 ? coarse(A + 1, C) : coarse(C, A + 1);
        sum += (end - begin) * (before + way * (after - before));
      }
      fine(i, j) = sum / (high - low);
    }
  return fine;
}

/// Velocities come across from their own part alone: where the grids place a wall differently, a jet on its
/// far side is none here.
void keep_velocities_to_parts(const Layer& from, const Layer& to, State* fine) {
  const int nx = to.part.nx(), ny = to.part.ny();
  const auto strange = [&](int i, int j) {
    if (i < 0 || j < 0 || i >= nx || j >= ny) return false;
    const int I = numerics::interval_of(from.problem.grid.x.faces(), to.problem.grid.x.centres()[i]);
    const int J = numerics::interval_of(from.problem.grid.y.faces(), to.problem.grid.y.centres()[j]);
    return from.part(I, J) != to.part(i, j);
  };
  for (int d = 0; d < 2; ++d) {
    Array2& u = fine->velocity[d];
    for (int j = 0; j < u.ny(); ++j)
      for (int i = 0; i < u.nx(); ++i)
        if (strange(i, j) || (d == 0 ? strange(i - 1, j) : strange(i, j - 1))) u(i, j) = 0.0;
  }
}

void keep_to_parts(const Layer& from, const State& coarse, const Layer& to, State* fine) {
  const int nx = to.part.nx(), ny = to.part.ny();
  for (int j = 0; j < ny; ++j)
    for (int i = 0; i < nx; ++i) {
      const int part = to.part(i, j);
      if (part == geometry::kNoPart) {
        fine->pressure(i, j) = 0.0;
        fine->temperature(i, j) = to.problem.fluid.temperature;
        continue;
      }
      const int I = std::min(i * from.part.nx() / nx, from.part.nx() - 1),
                J = std::min(j * from.part.ny() / ny, from.part.ny() - 1);
      if (all_of_part(from, part, I, J)) continue;
      nearby_value(from, coarse.pressure, part, I, J, &fine->pressure(i, j));
      nearby_value(from, coarse.temperature, part, I, J, &fine->temperature(i, j));
    }
}

}  // namespace

Fields start_from_network(const LayerModel& model, const network::Solver& solver) {
  Fields fields = still_fields(model);
  // A network that is at rest to round-off is at rest.
  if (!(through_flow(solver) > kLeastThroughFlow)) return fields;
  const int n_zones = static_cast<int>(model.raster.zone_storey.size());
  for (std::size_t l = 0; l < model.layers.size(); ++l) {
    const Layer& layer = model.layers[l];
    if (layer.kind != LayerKind::inside) continue;
    for (int j = 0; j < layer.part.ny(); ++j)
      for (int i = 0; i < layer.part.nx(); ++i) {
        const int part = layer.part(i, j);
        if (part == geometry::kNoPart) continue;
        if (parts_zone(model, part) >= 0)
          fill_zone_cell(model, solver, l, i, j, part, &fields);
        else
          fill_fin_cell(model, solver, l, i, j, part - n_zones, &fields);
      }
  }
  for (std::size_t f = 0; f < model.raster.fins.size(); ++f) fill_fin_velocity(model, solver, f, &fields);
  const int n_openings = solver.equations().n_openings();
  for (std::size_t k = 0; k < model.links.size(); ++k) {
    const Link& link = model.links[k];
    fields.own[k] =
        solver.state().flow[link.kind == LinkKind::fan ? n_openings + link.graph_fan : link.graph_opening];
  }
  for (int k = 0; k < model.n_links(); ++k) {
    const auto ends = ends_of(model, solver, model.links[k]);
    for (const int end : {0, 1}) {
      const int node = ends[end];
      fields.own[model.end_temperature_of(k, end)] =
          node == network::kOutside ? model.links[k].outside : solver.state().temperature[node];
    }
  }
  for (std::size_t n = 0; n < model.nodes.size(); ++n) {
    const NodeAir air = at_node(solver, model.nodes[n]);
    fields.own[model.pressure_of(static_cast<int>(n))] = air.pressure;
    fields.own[model.temperature_of(static_cast<int>(n))] = air.temperature;
  }
  return fields;
}

Magnitudes magnitudes_of(const LayerModel& model, const network::Solver& solver) {
  Magnitudes out{through_flow(solver), kLeastPressure, 0.0};
  const network::Equations& equations = solver.equations();
  for (int n = 0; n < equations.n_nodes(); ++n) {
    out.pressure = std::max(out.pressure, std::abs(solver.state().pressure[n]));
    out.temperature = std::max(
        out.temperature, std::abs(solver.state().temperature[n] - model.network.graph.ambient.temperature));
  }
  out.flow = std::max(out.flow, kLeastThroughFlow);
  if (out.temperature < kLeastDifference) out.temperature = 1.0;
  return out;
}

bool alike(const LayerModel& a, const LayerModel& b) {
  if (a.layers.size() != b.layers.size() || a.links.size() != b.links.size() || a.nodes != b.nodes)
    return false;
  for (std::size_t l = 0; l < a.layers.size(); ++l)
    if (a.layers[l].kind != b.layers[l].kind || a.layers[l].face != b.layers[l].face) return false;
  return true;
}

Fields start_from_coarse(const LayerModel& from, const Fields& coarse, const LayerModel& to) {
  Fields fine;
  for (std::size_t l = 0; l < to.layers.size(); ++l) {
    fine.layers.push_back(interpolated(from.layers[l].problem, coarse.layers[l], to.layers[l].problem));
    keep_to_parts(from.layers[l], coarse.layers[l], to.layers[l], &fine.layers[l]);
    for (int d = 0; d < 2; ++d) {
      fine.layers[l].velocity[d] = carried_velocity(from.layers[l].problem.grid, coarse.layers[l].velocity[d],
                                                    d, to.layers[l].problem.grid);
    }
    keep_velocities_to_parts(from.layers[l], to.layers[l], &fine.layers[l]);
    impose_given_velocities(to.layers[l].problem, &fine.layers[l]);
  }
  fine.own = coarse.own;
  return fine;
}

Fields carried_over(const LayerModel& from, const Fields& fields, const LayerModel& to) {
  Fields out = still_fields(to);
  std::vector<bool> used(from.layers.size(), false);
  for (std::size_t l = 0; l < to.layers.size(); ++l)
    for (std::size_t m = 0; m < from.layers.size(); ++m) {
      if (used[m] || from.layers[m].kind != to.layers[l].kind || from.layers[m].face != to.layers[l].face)
        continue;
      used[m] = true;
      out.layers[l] = fields.layers[m];
      impose_given_velocities(to.layers[l].problem, &out.layers[l]);
      break;
    }
  const auto copy = [&](int there, int here) { out.own[here] = fields.own[there]; };
  for (int k = 0; k < to.n_links(); ++k)
    for (int m = 0; m < from.n_links(); ++m) {
      const Link &a = from.links[m], &b = to.links[k];
      if (a.kind != b.kind || a.name != b.name) continue;
      copy(from.flow_of(m), to.flow_of(k));
      for (const int end : {0, 1}) copy(from.end_temperature_of(m, end), to.end_temperature_of(k, end));
      break;
    }
  const auto name = [](const LayerModel& model, int node) {
    return model.network.graph.nodes[model.nodes[node]].name;
  };
  for (int k = 0; k < to.n_nodes(); ++k)
    for (int m = 0; m < from.n_nodes(); ++m) {
      if (name(from, m) != name(to, k)) continue;
      copy(from.pressure_of(m), to.pressure_of(k));
      copy(from.temperature_of(m), to.temperature_of(k));
      break;
    }
  return out;
}

}  // namespace tuft::flow2d
