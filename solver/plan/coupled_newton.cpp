#include "solver/plan/coupled_newton.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "solver/field/gmres.hpp"
#include "solver/plan/bordered_factors.hpp"
#include "solver/plan/layer_system.hpp"

namespace tuft::plan {
namespace {

using field::NewtonOptions;
using field::NewtonSummary;
using field::StepsEnd;

std::string number(double x) {
  char text[32];
  std::snprintf(text, sizeof text, "%.2e", x);
  return text;
}

double norm(const std::vector<double>& r) { return std::sqrt(field::ordered_dot(r, r)); }

struct Trial {
  double length = 0.0;
  double size = -1.0;  ///< negative: no finite residual was found
  bool acceptable(double before) const { return size >= 0.0 && size < 2.0 * before; }
};

// Residual below which the matrix no longer changes much from step to step (by measurement).
constexpr double kNear = 0.05;

/// How far to solve a step: roughly at first, then no further than the residual asked for needs.
double linear_tolerance(double size, const NewtonOptions& options) {
  return size < 1e-4 ? std::clamp(0.01 * options.residual_tolerance / size, 1e-4, 1e-2) : 1e-2;
}

}  // namespace

struct CoupledNewton::Impl {
  Impl(const Model& model, const Magnitudes& magnitudes)
      : layers(model, magnitudes), factors(layers, model) {}

  LayerSystem layers;
  BorderedFactors factors;
  std::vector<double> inertia;
  double factored_courant = -1.0;

  /// Mass flow that renews each unknown's volume, and at least what the mean flow would.
  void set_inertia() {
    inertia.assign(static_cast<std::size_t>(layers.n()), 0.0);
    for (int l = 0; l < layers.n_layers(); ++l) set_inertia_of(l);
  }

  void set_inertia_of(int l) {
    const field::Residual& residual = layers.residual(l);
    const field::Scales& s = residual.scales();
    const field::Problem& p = residual.problem();
    const auto& flow = residual.mass_flow();
    const double cp = p.fluid.specific_heat, rate = p.fluid.density * s.velocity / s.length;
    const auto passing = [&](int i, int j) {
      i = std::clamp(i, 0, p.grid.nx() - 1);
      j = std::clamp(j, 0, p.grid.ny() - 1);
      return 0.5 * (std::abs(flow[0](i, j)) + std::abs(flow[0](i + 1, j)) + std::abs(flow[1](i, j)) +
                    std::abs(flow[1](i, j + 1)));
    };
    for (int k = 0; k < layers.unknowns(l).n(); ++k) {
      const field::Unknown& d = layers.unknowns(l)[k];
      double& out = inertia[static_cast<std::size_t>(layers.offset(l) + k)];
      const auto& mesh = residual.mesh();
      if (d.kind == field::kind_u)
        out = 0.5 * (passing(d.i, d.j) + passing(d.i - 1, d.j)) + rate * mesh.component[0].volume(d.i, d.j);
      if (d.kind == field::kind_v)
        out = 0.5 * (passing(d.i, d.j) + passing(d.i, d.j - 1)) + rate * mesh.component[1].volume(d.i, d.j);
      if (d.kind == field::kind_t) out = cp * (passing(d.i, d.j) + rate * mesh.volume(d.i, d.j));
    }
  }

  /// One step's d, in the units of the unknowns.
  field::GmresSummary solve_step(const Fields& fields, const std::vector<double>& r, double courant,
                                 double tolerance, std::vector<double>* d) {
    const auto apply = [&](const std::vector<double>& in, std::vector<double>* out) {
      double largest = 0.0;
      for (const double v : in) largest = std::max(largest, std::abs(v));
      const double h = largest > 0.0 ? 1e-6 / largest : 1.0;
      std::vector<double> step(in.size());
      for (std::size_t k = 0; k < in.size(); ++k) step[k] = in[k] * layers.column(static_cast<int>(k));
      Fields moved = fields;
      layers.add(step, h, &moved);
      const std::vector<double> after = layers.balances(moved);
      for (std::size_t k = 0; k < in.size(); ++k)
        (*out)[k] = inertia[k] / courant * layers.row(static_cast<int>(k)) * step[k] - (after[k] - r[k]) / h;
    };
    const auto precondition = [&](const std::vector<double>& in, std::vector<double>* out) {
      factors.solve(in, out);
    };
    field::GmresOptions options;
    options.tolerance = tolerance;
    options.max_iterations = 40;
    const field::GmresSummary summary = field::gmres(apply, precondition, r, options, d);
    for (std::size_t k = 0; k < d->size(); ++k) (*d)[k] *= layers.column(static_cast<int>(k));
    return summary;
  }

  /// The whole step, or a part of it that lowers the residual when the whole does not.
  Trial best_along(const Fields& fields, const std::vector<double>& d, double size) {
    Trial best;
    for (const double length : {1.0, 0.5, 0.25, 0.1}) {
      Fields moved = fields;
      layers.add(d, length, &moved);
      const double found = norm(layers.balances(moved));
      if (std::isfinite(found) && (best.size < 0.0 || found < best.size)) best = {length, found};
      if (best.size >= 0.0 && best.size < size) break;
    }
    return best;
  }

  std::string where_largest(const std::vector<double>& r) const {
    std::size_t at = 0;
    for (std::size_t k = 0; k < r.size(); ++k)
      if (std::abs(r[k]) > std::abs(r[at])) at = k;
    return r.empty() ? "nowhere" : layers.place_of(static_cast<int>(at));
  }
};

CoupledNewton::CoupledNewton(const Model& model, const Magnitudes& magnitudes)
    : impl_(new Impl(model, magnitudes)) {}
CoupledNewton::~CoupledNewton() = default;
const Coupling& CoupledNewton::coupling() const { return impl_->layers.coupling(); }
const field::Residual& CoupledNewton::residual(int layer) const { return impl_->layers.residual(layer); }

NewtonSummary CoupledNewton::solve(const NewtonOptions& options, Fields* fields) {
  Impl& s = *impl_;
  NewtonSummary summary;
  s.layers.impose(fields);
  s.layers.set_scales(*fields);
  std::vector<double> r = s.layers.balances(*fields);
  double size = norm(r), courant = options.first_courant, best = size;
  int since_best = 0, rejected = 0, last_iterations = 1000;
  double factored_size = size;
  summary.history.push_back(size);
  std::vector<double> d;
  const auto within = [&] {
    summary.audit = s.layers.books();
    return size <= options.residual_tolerance && summary.audit.mass <= options.mass_tolerance &&
           summary.audit.energy <= options.energy_tolerance &&
           summary.audit.energy_cells <= options.energy_tolerance;
  };
  bool converged = within();
  while (!converged && summary.steps < options.max_steps) {
    ++summary.steps;
    s.layers.balances(*fields);  // mass flows of these fields, for their inertia
    s.set_inertia();
    const double drift = std::max(courant, s.factored_courant) / std::min(courant, s.factored_courant);
    const bool stale = s.factored_courant < 0.0 || last_iterations > 20 ||
                       (drift > 4.0 && std::min(courant, s.factored_courant) < 1e4) ||
                       (size > kNear && size < 0.25 * factored_size);
    if (stale) {
      s.factors.factor(*fields, s.inertia, courant, &s.layers);
      s.factored_courant = courant;
      factored_size = size;
      ++summary.factorisations;
    }
    const field::GmresSummary linear = s.solve_step(*fields, r, courant, linear_tolerance(size, options), &d);
    last_iterations = linear.iterations;
    summary.linear_iterations += linear.iterations;
    const Trial trial = s.best_along(*fields, d, size);
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
    s.layers.add(d, trial.length, fields);
    r = s.layers.balances(*fields);
    const double ratio = size / std::max(trial.size, 1e-300);
    courant = std::min(options.last_courant, courant * std::clamp(std::pow(ratio, 1.5) * 1.5, 0.5, 30.0));
    size = trial.size;
    if (s.layers.set_scales(*fields)) {
      r = s.layers.balances(*fields);
      best = size = norm(r);
      last_iterations = 1000;
    }
    summary.history.push_back(size);
    if (options.observer)
      options.observer({s.layers.residual(0).problem().grid.nx(), s.layers.residual(0).problem().grid.ny(),
                        summary.steps, size, courant, linear.iterations, stale});
    converged = within();
    since_best = size < 0.9 * best ? 0 : since_best + 1;
    best = std::min(best, size);
    if (!converged && since_best >= 30) {
      summary.end = StepsEnd::stagnated;
      summary.message = "the residual has not fallen for 30 steps; last " + number(size) + ", best " +
                        number(best) + ", largest in " + s.where_largest(r);
      return summary;
    }
  }
  s.layers.balances(*fields);
  summary.end = converged ? StepsEnd::converged : StepsEnd::step_limit;
  summary.message = (converged ? "converged: residual " : "step limit reached: residual ") + number(size) +
                    ", mass " + number(summary.audit.mass) + ", energy " + number(summary.audit.energy);
  if (!converged) summary.message += "; largest in " + s.where_largest(r);
  return summary;
}

}  // namespace tuft::plan
