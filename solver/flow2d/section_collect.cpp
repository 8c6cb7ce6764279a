#include "solver/flow2d/section_run.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "solver/flow2d/section_plane.hpp"

namespace tuft::flow2d {
namespace {

double area_of(const Grid& grid, int i, int j) { return grid.x.widths()[i] * grid.y.widths()[j]; }

void set_fields(const SectionModel& model, const Moment& fields, SectionResult* r) {
  const Problem& p = model.problem;
  const State& s = fields.state;
  const int nx = p.grid.nx(), ny = p.grid.ny();
  r->x = p.grid.x.faces();
  r->y = p.grid.y.faces();
  r->part = model.part;
  r->vent = Array2T<int>(nx, ny, -1);
  for (const VentCell& m : model.vent_cells) r->vent(m.i, m.j) = m.vent;
  r->u_face = s.u();
  r->v_face = s.v();
  r->pressure = s.pressure;
  r->temperature = s.temperature;
  r->density = fields.density;
  r->u = r->v = Array2(nx, ny);
  for (int j = 0; j < ny; ++j)
    for (int i = 0; i < nx; ++i) {
      if (p.is_solid(i, j)) {
        if (!p.is_held(i, j)) r->temperature(i, j) = p.fluid.temperature;
        continue;
      }
      r->u(i, j) = 0.5 * (s.u()(i, j) + s.u()(i + 1, j));
      r->v(i, j) = 0.5 * (s.v()(i, j) + s.v()(i, j + 1));
    }
}

void set_vents(const geometry::Case& content, const SectionModel& model, const Moment& fields,
               SectionResult* r) {
  r->vents.resize(content.device.vents.size());
  std::vector<double> heat(r->vents.size(), 0.0), cells(r->vents.size(), 0.0), mass(r->vents.size(), 0.0);
  for (std::size_t v = 0; v < r->vents.size(); ++v) {
    r->vents[v].cut = model.cuts[v];
    r->vents[v].length = model.lengths[v];
    r->vents[v].drawn = model.problem.fluid.temperature;
  }
  for (const VentCell& m : model.vent_cells) {
    const double in = fields.carriers.sink(m.i, m.j), out = fields.carriers.source(m.i, m.j);
    r->vents[m.vent].inflow += in;
    r->vents[m.vent].outflow += out;
    heat[m.vent] += in * fields.state.temperature(m.i, m.j);
    r->vents[m.vent].pressure += fields.state.pressure(m.i, m.j) * area_of(model.problem.grid, m.i, m.j);
    cells[m.vent] += area_of(model.problem.grid, m.i, m.j);
    mass[m.vent] += fields.density(m.i, m.j) * area_of(model.problem.grid, m.i, m.j);
  }
  for (std::size_t v = 0; v < r->vents.size(); ++v) {
    SectionVent& vent = r->vents[v];
    if (!(cells[v] > 0.0)) continue;
    vent.pressure /= cells[v];
    if (vent.inflow > 0.0) vent.drawn = heat[v] / vent.inflow;
    vent.speed = std::max(vent.inflow, vent.outflow) / (mass[v] / cells[v] * vent.length);
  }
}

/// Share of an intake's width across the plane that lies before the outlet's.
double facing(const geometry::Device& device, const Plane& plane, int outlet, int intake) {
  const Span a = span_along(device.vents[outlet], plane.normal);
  const Span b = span_along(device.vents[intake], plane.normal);
  return overlap(a, b).length() / b.length();
}

/// The share of an intake's air that is an outlet's as another grid has it; nothing where that does not know.
std::optional<double> share_in(const Found* found, int outlet, std::size_t intake) {
  if (found == nullptr || found->end == SectionEnd::not_converged) return std::nullopt;
  const DrawnAir& d = found->drawn;
  for (std::size_t k = 0; k < d.outlets.size(); ++k)
    if (d.outlets[k] == outlet && d.inflow[intake] > 0.0) return d.share(k, intake);
  return std::nullopt;
}

void set_recirculation(const geometry::Case& content, const Found& found, const Found* coarse,
                       SectionResult* r) {
  const DrawnAir& drawn = found.drawn;
  r->tracer = found.tracers.error;
  for (std::size_t k = 0; k < drawn.outlets.size(); ++k) {
    r->tracers.push_back({drawn.outlets[k], found.tracers.share[k]});
    for (std::size_t v = 0; v < r->vents.size(); ++v) {
      if (!(r->vents[v].inflow > 0.0) || static_cast<int>(v) == drawn.outlets[k]) continue;
      Recirculation back;
      back.outlet = drawn.outlets[k];
      back.intake = static_cast<int>(v);
      back.in_plane = drawn.share(k, v);
      back.facing = facing(content.device, r->plane, back.outlet, back.intake);
      if (!found.by_start.empty()) back.by_start = found.by_start[k][v];
      const std::optional<double> other = share_in(coarse, back.outlet, v);
      back.uncertain = other.has_value();
      if (other) back.by_cells = std::abs(back.in_plane - *other);
      r->recirculation.push_back(back);
    }
  }
}

/// Mass left over in all cells over what passes the vents: of a mean in time.
double imbalance(const SectionModel& model, const Moment& fields) {
  const Carriers& c = fields.carriers;
  double sum = 0.0, passing = 0.0;
  for (int j = 0; j < c.source.ny(); ++j)
    for (int i = 0; i < c.source.nx(); ++i) {
      passing += c.source(i, j) + c.sink(i, j);
      if (model.problem.is_solid(i, j)) continue;
      sum += std::abs(c.flow[0](i, j) - c.flow[0](i + 1, j) + c.flow[1](i, j) - c.flow[1](i, j + 1) +
                      c.source(i, j) - c.sink(i, j));
    }
  return passing > 0.0 ? sum / passing : sum;
}

}  // namespace

Moment moment_of(const SectionModel& model, const State& state, Residual* residual) {
  const Problem& p = model.problem;
  State imbalance = state;
  residual->evaluate(state, &imbalance);
  Moment f{state, residual->density(), {residual->mass_flow(), residual->conductance(), {}, {}}};
  const Exchange& exchange = residual->exchange();
  f.carriers.source = f.carriers.sink = Array2(p.grid.nx(), p.grid.ny());
  for (const VentCell& m : model.vent_cells) {
    f.carriers.sink(m.i, m.j) = -exchange.out(m.i, m.j);
    f.carriers.source(m.i, m.j) = exchange.mass(m.i, m.j) - exchange.out(m.i, m.j);
  }
  return f;
}

Moment moment_of(const SectionModel& model, const State& state) {
  Residual residual(model.problem);
  return moment_of(model, state, &residual);
}

void collect(const geometry::Case& content, const SectionModel& model, const Found& found,
             const Found* coarse, SectionResult* result) {
  SectionResult& r = *result;
  r.end = found.end;
  r.message = found.message;
  r.first_order = found.first_order;
  r.steadiness = found.steadiness;
  r.steps = found.steps;
  r.factorisations = found.factorisations;
  r.linear_iterations = found.linear_iterations;
  r.marched_steps = found.marched_steps;
  r.begins = found.begins;
  r.span = found.span;
  r.passages = found.passages;
  r.fluctuation = found.fluctuation;
  r.residual = found.residual;
  r.mass = found.end == SectionEnd::steady ? found.mass : imbalance(model, found.fields);
  r.energy = found.energy;
  set_fields(model, found.fields, result);
  set_vents(content, model, found.fields, result);
  set_recirculation(content, found, coarse, result);
  r.notes.insert(r.notes.end(), model.notes.begin(), model.notes.end());
}

}  // namespace tuft::flow2d
