#include "solver/field/newton.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>

#include "solver/field/frontal_lu.hpp"
#include "solver/field/gmres.hpp"
#include "solver/field/jacobian.hpp"
#include "solver/field/unknowns.hpp"

namespace tuft::field {
namespace {

std::string number(double x) {
  char text[32];
  std::snprintf(text, sizeof text, "%.2e", x);
  return text;
}

/// How far along a step to go, and the residual there.
struct Trial {
  double length = 0.0;
  double size = -1.0;  ///< negative: no finite residual was found
  /// Steps in pseudo-time may enlarge the residual on the way to a far solution, within reason.
  bool acceptable(double before) const { return size >= 0.0 && size < 2.0 * before; }
};

constexpr const char* balance_names[4] = {"x-momentum", "y-momentum", "mass", "heat"};

}  // namespace

struct NewtonSolver::Impl {
  explicit Impl(const Problem& p)
      : problem(p),
        residual(p),
        unknowns(p, residual.mesh()),
        jacobian(unknowns),
        lu(unknowns.pattern(), unknowns.places(), p.grid.nx(), p.grid.ny()),
        left_over(still_state(p)),
        trial(left_over) {}

  const Problem& problem;
  Residual residual;
  Unknowns unknowns;
  CompactJacobian jacobian;
  FrontalLu<float> lu;
  State left_over, trial;

  std::array<double, 4> column_scale{}, row_scale{};
  std::vector<double> inertia;    ///< D at Courant number 1, per unknown
  std::vector<double> equalised;  ///< extra row factors of the factored matrix
  double factored_courant = -1.0;

  /// Takes the scales of the state, or what drives the problem promises while the air is still at rest.
  /// Returns whether they changed enough to matter.
  bool set_scales(const State& state, bool first) {
    const Scales promised = scales_of(problem, nullptr);
    Scales s = scales_of(problem, &state);
    if (first && s.velocity < 0.03 * promised.velocity) s = promised;
    const double ratio = s.velocity / residual.scales().velocity;
    if (!first && ratio < 1.5 && ratio > 1.0 / 1.5) return false;
    residual.set_scales(s);
    const double per_face = std::sqrt(static_cast<double>(problem.grid.nx()) * problem.grid.ny());
    column_scale = {s.velocity, s.velocity, s.momentum / (s.length * s.depth), s.temperature};
    row_scale = {per_face / s.momentum, per_face / s.momentum, per_face / s.mass, per_face / s.heat};
    return true;
  }

  double column(int k) const { return column_scale[static_cast<std::size_t>(unknowns[k].kind)]; }
  double row(int k) const { return row_scale[static_cast<std::size_t>(unknowns[k].kind)]; }

  /// Scaled balances of a state.
  std::vector<double> balances(const State& state) {
    residual.evaluate(state, &left_over);
    std::vector<double> r = unknowns.gather(left_over);
    for (int k = 0; k < unknowns.n(); ++k) r[static_cast<std::size_t>(k)] *= row(k);
    return r;
  }

  static double norm(const std::vector<double>& r) { return std::sqrt(ordered_dot(r, r)); }

  /// Mass flow that renews each unknown's volume, and at least what the mean flow would: its inertia.
  void set_inertia() {
    const Scales& s = residual.scales();
    const Mesh& mesh = residual.mesh();
    const auto& flow = residual.mass_flow();
    const double cp = problem.fluid.specific_heat, rate = problem.fluid.density * s.velocity / s.length;
    const auto passing = [&](int i, int j) {
      i = std::clamp(i, 0, problem.grid.nx() - 1);
      j = std::clamp(j, 0, problem.grid.ny() - 1);
      return 0.5 * (std::abs(flow[0](i, j)) + std::abs(flow[0](i + 1, j)) + std::abs(flow[1](i, j)) +
                    std::abs(flow[1](i, j + 1)));
    };
    inertia.assign(static_cast<std::size_t>(unknowns.n()), 0.0);
    for (int k = 0; k < unknowns.n(); ++k) {
      const Unknown& d = unknowns[k];
      double& out = inertia[static_cast<std::size_t>(k)];
      if (d.kind == kind_u)
        out = 0.5 * (passing(d.i, d.j) + passing(d.i - 1, d.j)) + rate * mesh.component[0].volume(d.i, d.j);
      if (d.kind == kind_v)
        out = 0.5 * (passing(d.i, d.j) + passing(d.i, d.j - 1)) + rate * mesh.component[1].volume(d.i, d.j);
      if (d.kind == kind_t) out = cp * (passing(d.i, d.j) + rate * mesh.volume(d.i, d.j));
    }
  }

  void factor(const State& state, double courant) {
    const Scales& s = residual.scales();
    const double step[4] = {1e-6 * s.velocity, 1e-6 * s.velocity, 1e-4 * column_scale[2],
                            1e-6 * s.temperature};
    std::vector<double> values = jacobian.evaluate(state, step, &residual);
    const SparsePattern& pattern = unknowns.pattern();
    equalised.assign(static_cast<std::size_t>(unknowns.n()), 1.0);
    for (int r = 0; r < unknowns.n(); ++r) {
      double largest = 0.0;
      const int begin = pattern.row_start[static_cast<std::size_t>(r)],
                end = pattern.row_start[static_cast<std::size_t>(r) + 1];
      for (int k = begin; k < end; ++k) {
        double& value = values[static_cast<std::size_t>(k)];
        const int c = pattern.column[static_cast<std::size_t>(k)];
        value = -value;
        if (c == r) value += inertia[static_cast<std::size_t>(r)] / courant;
        value *= row(r) * column(c);
        largest = std::max(largest, std::abs(value));
      }
      if (!(largest > 0.0)) continue;
      equalised[static_cast<std::size_t>(r)] = 1.0 / largest;
      for (int k = begin; k < end; ++k) values[static_cast<std::size_t>(k)] /= largest;
    }
    lu.factor(values);
    factored_courant = courant;
  }

  /// One step's d, in the units of the unknowns.
  GmresSummary solve_step(const State& state, const std::vector<double>& r, double courant, double tolerance,
                          std::vector<double>* d) {
    const auto apply = [&](const std::vector<double>& in, std::vector<double>* out) {
      double largest = 0.0;
      for (double v : in) largest = std::max(largest, std::abs(v));
      const double h = largest > 0.0 ? 1e-6 / largest : 1.0;
      std::vector<double> step(in.size());
      for (int k = 0; k < unknowns.n(); ++k)
        step[static_cast<std::size_t>(k)] = in[static_cast<std::size_t>(k)] * column(k);
      trial = state;
      unknowns.add(step, h, &trial);
      const std::vector<double> moved = balances(trial);
      for (int k = 0; k < unknowns.n(); ++k) {
        const auto K = static_cast<std::size_t>(k);
        (*out)[K] = inertia[K] / courant * row(k) * step[K] - (moved[K] - r[K]) / h;
      }
    };
    const auto precondition = [&](const std::vector<double>& in, std::vector<double>* out) {
      for (std::size_t k = 0; k < in.size(); ++k) (*out)[k] = in[k] * equalised[k];
      lu.solve(out);
    };
    GmresOptions options;
    options.tolerance = tolerance;
    options.max_iterations = 40;
    const GmresSummary summary = gmres(apply, precondition, r, options, d);
    for (int k = 0; k < unknowns.n(); ++k) (*d)[static_cast<std::size_t>(k)] *= column(k);
    return summary;
  }

  /// The whole step, or a part of it that lowers the residual when the whole does not.
  Trial best_along(const State& state, const std::vector<double>& d, double size) {
    Trial best;
    for (const double length : {1.0, 0.5, 0.25, 0.1}) {
      trial = state;
      unknowns.add(d, length, &trial);
      const double found = norm(balances(trial));
      if (std::isfinite(found) && (best.size < 0.0 || found < best.size)) best = {length, found};
      if (best.size >= 0.0 && best.size < size) break;
    }
    return best;
  }

  std::string where_largest(const std::vector<double>& r) const {
    std::size_t at = 0;
    for (std::size_t k = 0; k < r.size(); ++k)
      if (std::abs(r[k]) > std::abs(r[at])) at = k;
    if (r.empty()) return "nowhere";
    const Unknown& d = unknowns[static_cast<int>(at)];
    return std::string(balance_names[d.kind]) + " at cell (" + std::to_string(d.i) + ", " +
           std::to_string(d.j) + ")";
  }
};

NewtonSolver::NewtonSolver(const Problem& problem) : impl_(new Impl(problem)) {}
NewtonSolver::~NewtonSolver() = default;

NewtonSummary NewtonSolver::solve(const NewtonOptions& options, State* state) {
  Impl& s = *impl_;
  NewtonSummary summary;
  impose_given_velocities(s.problem, state);
  for (const auto& cell : s.unknowns.level_cells()) state->pressure(cell[0], cell[1]) = 0.0;
  s.set_scales(*state, true);
  std::vector<double> r = s.balances(*state);
  double size = Impl::norm(r), courant = options.first_courant, best = size;
  int since_best = 0, rejected = 0, last_iterations = 1000;
  summary.history.push_back(size);
  std::vector<double> d;
  const auto within = [&] {
    summary.audit = audit(s.residual, s.left_over);
    return size <= options.residual_tolerance && summary.audit.mass <= options.mass_tolerance &&
           summary.audit.energy <= options.energy_tolerance &&
           summary.audit.energy_cells <= options.energy_tolerance;
  };
  bool converged = within();
  while (!converged && summary.steps < options.max_steps) {
    ++summary.steps;
    s.balances(*state);  // mass flows of this state, for its inertia
    s.set_inertia();
    // A kept factorisation serves while GMRES needs few iterations with it.
    const double drift = std::max(courant, s.factored_courant) / std::min(courant, s.factored_courant);
    const bool stale = s.factored_courant < 0.0 || last_iterations > 10 ||
                       (drift > 4.0 && std::min(courant, s.factored_courant) < 1e4);
    if (stale) {
      s.factor(*state, courant);
      ++summary.factorisations;
    }
    const double tolerance = size < 1e-4 ? 1e-4 : 1e-2;
    const GmresSummary linear = s.solve_step(*state, r, courant, tolerance, &d);
    last_iterations = linear.iterations;
    summary.linear_iterations += linear.iterations;
    const Trial trial = s.best_along(*state, d, size);
    if (!trial.acceptable(size)) {
      courant *= 0.2;
      last_iterations = 1000;
      if (++rejected > 25) {
        summary.end = StepsEnd::diverged;
        summary.message = "every step enlarges the residual, however small; last " + number(size) +
                          ", largest in " + s.where_largest(r);
        return summary;
      }
      continue;
    }
    s.unknowns.add(d, trial.length, state);
    r = s.balances(*state);
    const double new_size = trial.size;
    const double ratio = size / std::max(new_size, 1e-300);
    courant = std::min(options.last_courant, courant * std::clamp(std::pow(ratio, 1.5) * 1.5, 0.5, 30.0));
    size = new_size;
    if (s.set_scales(*state, false)) {
      r = s.balances(*state);
      best = size = Impl::norm(r);
    }
    summary.history.push_back(size);
    if (options.observer)
      options.observer(
          {s.problem.grid.nx(), s.problem.grid.ny(), summary.steps, size, courant, linear.iterations, stale});
    converged = within();
    since_best = size < 0.9 * best ? 0 : since_best + 1;
    best = std::min(best, size);
    if (!converged && since_best >= 30) {
      summary.end = StepsEnd::stagnated;
      summary.message =
          "the residual has not fallen for 30 steps; last " + number(size) + ", best " + number(best) +
          ", largest in " + s.where_largest(r) +
          ". Likely causes: the flow has no steady state, a limiter switches, the grid is too coarse";
      return summary;
    }
  }
  summary.end = converged ? StepsEnd::converged : StepsEnd::step_limit;
  summary.message = (converged ? "converged: residual " : "step limit reached: residual ") + number(size) +
                    ", mass " + number(summary.audit.mass) + ", energy " + number(summary.audit.energy);
  if (!converged) summary.message += "; largest in " + s.where_largest(r);
  return summary;
}

}  // namespace tuft::field
