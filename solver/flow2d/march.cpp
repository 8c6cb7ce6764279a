#include "solver/flow2d/march.hpp"

#include <algorithm>
#include <cmath>

#include "solver/flow2d/friction.hpp"
#include "solver/flow2d/line_solve.hpp"
#include "solver/flow2d/parallel.hpp"
#include "solver/flow2d/residual.hpp"

namespace tuft::field {
namespace {

/// Coefficients of d/dt at the new time, times dt: c0 new + c1 now + c2 before; and of extrapolation to it.
struct TimeWeights {
  double c0 = 1.0, c1 = -1.0, c2 = 0.0;
  double now = 1.0, before = 0.0;
};

TimeWeights weights_for(double dt, double last_dt) {
  if (!(last_dt > 0.0)) return {};
  const double r = dt / last_dt;
  return {(1 + 2 * r) / (1 + r), -(1 + r), r * r / (1 + r), 1 + r, -r};
}

void blend(double a, const Array2& x, double b, const Array2& y, Array2* out) {
  for (std::size_t k = 0; k < out->size(); ++k) (*out)[k] = a * x[k] + b * y[k];
}

PressureEquation pressure_equation(const Mesh& mesh) {
  const auto conductance = [&](std::size_t d) {
    Array2 a(mesh.component[d].area.nx(), mesh.component[d].area.ny());
    for (std::size_t k = 0; k < a.size(); ++k)
      if (mesh.component[d].active[k])
        a[k] = mesh.component[d].area[k] * mesh.component[d].area[k] / mesh.component[d].volume[k];
    return a;
  };
  return {conductance(0), conductance(1), {}};
}

MultigridOptions pressure_options(const MarchOptions& options) {
  MultigridOptions out;
  out.tolerance = options.pressure_tolerance;
  out.max_cycles = options.max_cycles;
  return out;
}

}  // namespace

struct Marcher::Impl {
  Impl(const Problem& p, State start, const MarchOptions& options)
      : problem(p),
        residual(p),
        solver_options(pressure_options(options)),
        pressure(p.grid, pressure_equation(residual.mesh()), solver_options),
        now(std::move(start)) {
    impose_given_velocities(problem, &now);
    before = now;
    guess = now;
    left_over = still_state(problem);
    increment = Array2(p.grid.nx(), p.grid.ny());
    density_now = density_before = momentum_density(now);
    residual.set_scales(scales_of(p, &now));
  }

  const Problem& problem;
  Residual residual;
  MultigridOptions solver_options;
  Multigrid pressure;
  State now, before, guess, left_over;
  Array2 increment;
  /// rho at cells, and at the faces of both components, of a time level.
  struct Densities {
    Array2 cell;
    std::array<Array2, 2> face;
  };
  Densities density_now, density_before;
  double last_dt = 0.0, time = 0.0;

  Densities momentum_density(const State& state) {
    State scratch = state;
    residual.evaluate_mass(state, &scratch);
    Densities out{residual.density(),
                  {Array2(state.u().nx(), state.u().ny()), Array2(state.v().nx(), state.v().ny())}};
    for (int d = 0; d < 2; ++d) {
      Array2& face = out.face[static_cast<std::size_t>(d)];
      const Mask& active = residual.mesh().component[static_cast<std::size_t>(d)].active;
      for (int j = 0; j < face.ny(); ++j)
        for (int i = 0; i < face.nx(); ++i)
          face(i, j) = active(i, j)
                           ? residual.face_density(d, i, j, state.velocity[static_cast<std::size_t>(d)](i, j))
                           : problem.fluid.density;
    }
    return out;
  }

  DiffusionLines momentum_lines(int d, const Array2& density, double rate) const {
    const auto D = static_cast<std::size_t>(d);
    const ComponentMesh& mesh = residual.mesh().component[D];
    const int nx = mesh.area.nx(), ny = mesh.area.ny();
    DiffusionLines l{Array2(nx, ny), Array2(nx, ny), Array2(nx, ny),
                     Array2(nx, ny), Array2(nx, ny), mesh.active};
    const Axis& axis = problem.grid.axis(d);
    const Axis& cross = problem.grid.axis(1 - d);
    const Array2& mu = residual.viscosity();
    for (int j = 0; j < ny; ++j)
      for (int i = 0; i < nx; ++i) {
        if (!mesh.active(i, j)) continue;
        const int a = d == 0 ? i : j, c = d == 0 ? j : i;
        const int bi = d == 0 ? std::max(i - 1, 0) : i, bj = d == 1 ? std::max(j - 1, 0) : j;
        const int fi = std::min(i, mu.nx() - 1), fj = std::min(j, mu.ny() - 1);
        const double viscosity = 0.5 * (mu(bi, bj) + mu(fi, fj));
        const double width = cross.widths()[static_cast<std::size_t>(c)];
        const auto along = [&](int cell, int ci, int cj) {
          return mu(ci, cj) * residual.mesh().depth(ci, cj) * width /
                 axis.widths()[static_cast<std::size_t>(cell)];
        };
        const double back = a > 0 ? along(a - 1, bi, bj) : 0.0, ahead = a < axis.n() ? along(a, fi, fj) : 0.0;
        const double below = viscosity * mesh.shear(i, j);
        const double above = viscosity * (d == 0 ? mesh.shear(i, j + 1) : mesh.shear(i + 1, j));
        // Couplings run both ways with one value; to a node that is given they only hold.
        const auto is_active = [&](int x, int y) {
          return x >= 0 && y >= 0 && x < nx && y < ny && mesh.active(x, y);
        };
        const double x_back = d == 0 ? back : below, x_ahead = d == 0 ? ahead : above;
        const double y_back = d == 1 ? back : below, y_ahead = d == 1 ? ahead : above;
        (is_active(i - 1, j) ? l.west(i, j) : l.held_x(i, j)) += x_back;
        if (!is_active(i + 1, j)) l.held_x(i, j) += x_ahead;
        (is_active(i, j - 1) ? l.south(i, j) : l.held_y(i, j)) += y_back;
        if (!is_active(i, j + 1)) l.held_y(i, j) += y_ahead;
        (d == 0 ? l.held_y(i, j) : l.held_x(i, j)) += viscosity * mesh.wall(i, j);
        l.storage(i, j) = rate * density(i, j) * mesh.volume(i, j);
        if (problem.is_porous(d, i, j))
          l.held_x(i, j) += mesh.volume(i, j) *
                            porous_drag(problem, d, i, j, density(i, j), viscosity, guess.velocity[D](i, j));
        else if (problem.layer_friction)
          l.held_x(i, j) += mesh.volume(i, j) * layer_friction(density(i, j), viscosity, mesh.depth(i, j),
                                                               std::abs(guess.velocity[D](i, j)));
      }
    return l;
  }

  DiffusionLines heat_lines(const Array2& storage) const {
    const int nx = storage.nx(), ny = storage.ny();
    DiffusionLines l{storage,        Array2(nx, ny), Array2(nx, ny),
                     Array2(nx, ny), Array2(nx, ny), Mask(nx, ny, 1)};
    for (std::size_t k = 0; k < problem.held.size(); ++k) l.active[k] = problem.held[k] ? 0 : 1;
    const auto& g = residual.conductance();
    const auto& edges = residual.mesh().edges;
    const auto fixed = [](const Edge& e) {
      return (e.kind == EdgeKind::wall || e.kind == EdgeKind::inflow) && e.heat == HeatKind::temperature;
    };
    for (int j = 0; j < ny; ++j)
      for (int i = 0; i < nx; ++i) {
        if (i > 0) l.west(i, j) = g[0](i, j);
        if (j > 0) l.south(i, j) = g[1](i, j);
        if (i == 0 && fixed(edges[0][static_cast<std::size_t>(j)])) l.held_x(i, j) += g[0](0, j);
        if (i == nx - 1 && fixed(edges[1][static_cast<std::size_t>(j)])) l.held_x(i, j) += g[0](nx, j);
        if (j == 0 && fixed(edges[2][static_cast<std::size_t>(i)])) l.held_y(i, j) += g[1](i, 0);
        if (j == ny - 1 && fixed(edges[3][static_cast<std::size_t>(i)])) l.held_y(i, j) += g[1](i, ny);
      }
    return l;
  }

  /// Heat capacity of a cell's content over dt [W/K].
  double capacity(int i, int j, double density) const {
    const double volume = residual.mesh().volume(i, j);
    if (!problem.is_solid(i, j)) return density * problem.fluid.specific_heat * volume;
    return volume * (problem.solid_heat_capacity.empty() ? 1e6 : problem.solid_heat_capacity(i, j));
  }

  void extrapolate(const TimeWeights& w) {
    for (std::size_t d = 0; d < 2; ++d)
      blend(w.now, now.velocity[d], w.before, before.velocity[d], &guess.velocity[d]);
    blend(w.now, now.temperature, w.before, before.temperature, &guess.temperature);
    guess.pressure = now.pressure;
    impose_given_velocities(problem, &guess);
  }

  void advance_temperature(const TimeWeights& w, double dt, State* next) {
    const Array2& t = guess.temperature;
    Array2 r(t.nx(), t.ny()), storage(t.nx(), t.ny());
    const double cp = problem.fluid.specific_heat;
    for (int j = 0; j < t.ny(); ++j)
      for (int i = 0; i < t.nx(); ++i) {
        const double c = capacity(i, j, residual.density()(i, j));
        const double rate =
            (w.c0 * t(i, j) + w.c1 * now.temperature(i, j) + w.c2 * before.temperature(i, j)) / dt;
        // Heat per mass: what air gathering in the cell brings along is no warming (0 once mass balances).
        const double gathered = cp * (t(i, j) - problem.fluid.temperature) * left_over.pressure(i, j);
        storage(i, j) = w.c0 / dt * c;
        r(i, j) = left_over.temperature(i, j) - gathered - c * rate;
      }
    solve_by_lines(heat_lines(storage), &r);
    for (std::size_t k = 0; k < r.size(); ++k) next->temperature[k] = t[k] + r[k];
  }

  void advance_velocity(int d, const TimeWeights& w, double dt, const Densities& density_next, State* next) {
    const auto D = static_cast<std::size_t>(d);
    const ComponentMesh& mesh = residual.mesh().component[D];
    const Array2& u = guess.velocity[D];
    Array2 r(u.nx(), u.ny());
    for (std::size_t k = 0; k < r.size(); ++k) {
      if (!mesh.active[k]) continue;
      const double momentum = w.c0 * density_next.face[D][k] * u[k] +
                              w.c1 * density_now.face[D][k] * now.velocity[D][k] +
                              w.c2 * density_before.face[D][k] * before.velocity[D][k];
      r[k] = left_over.velocity[D][k] - mesh.volume[k] * momentum / dt;
    }
    solve_by_lines(momentum_lines(d, density_next.face[D], w.c0 / dt), &r);
    for (std::size_t k = 0; k < r.size(); ++k)
      if (mesh.active[k]) next->velocity[D][k] = u[k] + r[k];
  }

  /// The pressure equation with the vents' slopes: they give way as pressure changes.
  Multigrid with_vents(const State& state, double rate) const {
    PressureEquation equation = pressure_equation(residual.mesh());
    equation.held = Array2(problem.grid.nx(), problem.grid.ny());
    for (const CellVent& v : problem.vents)
      equation.held(v.i, v.j) +=
          rate * vent_flow(problem.fluid, v, state.pressure(v.i, v.j), state.temperature(v.i, v.j)).slope;
    return Multigrid(problem.grid, equation, solver_options);
  }

  StepSummary project(const TimeWeights& w, double dt, const Densities& density_next, State* next) {
    StepSummary summary;
    residual.evaluate_mass(*next, &left_over);
    Array2 b = left_over.pressure;
    const Array2& volume = residual.mesh().volume;
    for (std::size_t k = 0; k < b.size(); ++k)
      if (problem.solid.empty() || !problem.solid[k])
        b[k] -= volume[k] *
                (w.c0 * density_next.cell[k] + w.c1 * density_now.cell[k] + w.c2 * density_before.cell[k]) /
                dt;
    Array2 x = increment;
    for (std::size_t k = 0; k < x.size(); ++k) x[k] *= dt / w.c0;
    if (!problem.vents.empty()) pressure = with_vents(*next, w.c0 / dt);
    const MultigridSummary solved = pressure.solve(b, &x);
    summary.cycles = solved.cycles;
    summary.pressure_solved = solved.converged;
    for (int d = 0; d < 2; ++d) {
      const auto D = static_cast<std::size_t>(d);
      const ComponentMesh& mesh = residual.mesh().component[D];
      const int n = problem.grid.axis(d).n();
      for (int j = 0; j < mesh.area.ny(); ++j)
        for (int i = 0; i < mesh.area.nx(); ++i) {
          if (!mesh.active(i, j)) continue;
          const int a = d == 0 ? i : j;
          const double ahead = a < n ? x(i, j) : 0.0,
                       behind = a > 0 ? (d == 0 ? x(i - 1, j) : x(i, j - 1)) : 0.0;
          next->velocity[D](i, j) -=
              mesh.area(i, j) / (density_next.face[D](i, j) * mesh.volume(i, j)) * (ahead - behind);
        }
    }
    for (std::size_t k = 0; k < x.size(); ++k) {
      increment[k] = x[k] * w.c0 / dt;
      next->pressure[k] += increment[k];
    }
    return summary;
  }
};

Marcher::Marcher(const Problem& problem, State start, const MarchOptions& options)
    : impl_(new Impl(problem, std::move(start), options)) {}
Marcher::~Marcher() = default;
const State& Marcher::state() const { return impl_->now; }
double Marcher::time() const { return impl_->time; }

StepSummary Marcher::step(double dt) {
  Impl& s = *impl_;
  const TimeWeights w = weights_for(dt, s.last_dt);
  s.extrapolate(w);
  s.residual.evaluate(s.guess, &s.left_over);
  State next = s.guess;
  if (s.problem.energy) {
    // The mass left over at the extrapolated state includes what density changes store.
    s.advance_temperature(w, dt, &next);
  }
  const Impl::Densities density_next =
      s.problem.fluid.law == DensityLaw::ideal_gas ? s.momentum_density(next) : s.density_now;
  s.advance_velocity(0, w, dt, density_next, &next);
  s.advance_velocity(1, w, dt, density_next, &next);
  StepSummary summary = s.project(w, dt, density_next, &next);
  for (std::size_t d = 0; d < 2; ++d)
    for (std::size_t k = 0; k < next.velocity[d].size(); ++k) {
      const double u = next.velocity[d][k];
      summary.finite = summary.finite && std::isfinite(u);
      summary.change = std::max(summary.change, std::abs(u - s.now.velocity[d][k]));
      summary.largest = std::max(summary.largest, std::abs(u));
    }
  for (double t : next.temperature.values()) summary.finite = summary.finite && std::isfinite(t);
  s.residual.evaluate_mass(next, &s.left_over);
  for (std::size_t k = 0; k < next.pressure.size(); ++k) {
    if (!s.problem.solid.empty() && s.problem.solid[k]) continue;
    const double stored =
        s.residual.mesh().volume[k] *
        (w.c0 * density_next.cell[k] + w.c1 * s.density_now.cell[k] + w.c2 * s.density_before.cell[k]) / dt;
    summary.mass += std::abs(s.left_over.pressure[k] - stored);
  }
  s.before = std::move(s.now);
  s.now = std::move(next);
  s.density_before = std::move(s.density_now);
  s.density_now = density_next;
  s.last_dt = dt;
  s.time += dt;
  return summary;
}

double Marcher::step_for(double courant) const {
  const Impl& s = *impl_;
  const Scales scales = scales_of(s.problem, nullptr);
  double fastest = scales.velocity / scales.length;
  for (int d = 0; d < 2; ++d) {
    const Array2& u = s.now.velocity[static_cast<std::size_t>(d)];
    const auto& widths = s.problem.grid.axis(d).widths();
    for (int j = 0; j < u.ny(); ++j)
      for (int i = 0; i < u.nx(); ++i) {
        const int a = std::min(d == 0 ? i : j, static_cast<int>(widths.size()) - 1);
        const double width = std::min(widths[static_cast<std::size_t>(a)],
                                      widths[static_cast<std::size_t>(std::max(a - 1, 0))]);
        fastest = std::max(fastest, std::abs(u(i, j)) / width);
      }
  }
  return courant / fastest;
}

double Marcher::kinetic_energy() const {
  const Impl& s = *impl_;
  double sum = 0.0;
  for (std::size_t d = 0; d < 2; ++d)
    for (std::size_t k = 0; k < s.now.velocity[d].size(); ++k)
      if (s.residual.mesh().component[d].active[k])
        sum += 0.5 * s.density_now.face[d][k] * s.residual.mesh().component[d].volume[k] *
               s.now.velocity[d][k] * s.now.velocity[d][k];
  return sum;
}

}  // namespace tuft::field
