#include "solver/flow2d/layer_implicit_step.hpp"

#include <algorithm>
#include <cmath>

#include "solver/sparse/gmres.hpp"

namespace tuft::plan {
namespace {

constexpr int kMostNewton = 12;
constexpr int kMostAtStart = 40;
constexpr int kMostInnerIterations = 12;  // as many cost about what factors anew cost (by measurement)
constexpr double kDrift = 2.5;    // of c0/step over that of the factors, beyond which they are made anew
constexpr double kSlow = 0.2;     // a Newton step that leaves more wants factors of the new state
constexpr double kLinear = 1e-3;  // how far each direction is solved

double norm(const std::vector<double>& r) { return std::sqrt(field::ordered_dot(r, r)); }

}  // namespace

ImplicitStep::ImplicitStep(const Model& model, const Magnitudes& magnitudes)
    : layers_(model, magnitudes), factors_(layers_, model) {}

std::vector<field::State> ImplicitStep::contents(const Fields& fields) {
  std::vector<field::State> out;
  for (int l = 0; l < layers_.n_layers(); ++l)
    out.push_back(content_of(&layers_.residual(l), fields.layers[static_cast<std::size_t>(l)]));
  return out;
}

void ImplicitStep::take_scales(const Fields& fields) {
  if (layers_.set_scales(fields)) factored_rate_ = 0.0;
}

void ImplicitStep::evaluate(const Fields& fields) {
  layers_.set_storage(nullptr);
  layers_.balances(fields);
}

void ImplicitStep::factor(const Storage& storage, const Fields& fields) {
  layers_.set_rate(storage.weights().c0 / storage.weights().step);
  std::vector<double> stored(static_cast<std::size_t>(layers_.n()), 0.0);
  for (int l = 0; l < layers_.n_layers(); ++l)
    for (int k = 0; k < layers_.unknowns(l).n(); ++k) {
      const field::Unknown& u = layers_.unknowns(l)[k];
      stored[static_cast<std::size_t>(layers_.offset(l) + k)] =
          storage.slope(layers_.residual(l), fields.layers[static_cast<std::size_t>(l)], u.kind, u.i, u.j);
    }
  factors_.factor(fields, stored, 1.0, &layers_);
  factored_rate_ = storage.weights().c0 / storage.weights().step;
  last_iterations_ = 0;
}

/// d of -dG/dw d = G, in the unknowns' units; G are the balances with what is stored taken off.
int ImplicitStep::newton_direction(const Fields& fields, const std::vector<double>& balances,
                                   std::vector<double>* d) {
  const auto apply = [&](const std::vector<double>& in, std::vector<double>* out) {
    double largest = 0.0;
    for (const double v : in) largest = std::max(largest, std::abs(v));
    const double h = largest > 0.0 ? 1e-6 / largest : 1.0;
    std::vector<double> step(in.size());
    for (std::size_t k = 0; k < in.size(); ++k) step[k] = in[k] * layers_.column(static_cast<int>(k));
    Fields moved = fields;
    layers_.add(step, h, &moved);
    const std::vector<double> r = layers_.balances(moved);
    for (std::size_t k = 0; k < in.size(); ++k) (*out)[k] = (balances[k] - r[k]) / h;
  };
  const auto precondition = [&](const std::vector<double>& in, std::vector<double>* out) {
    factors_.solve(in, out);
  };
  field::GmresOptions options;
  options.tolerance = kLinear;
  options.max_iterations = 40;
  const field::GmresSummary summary = field::gmres(apply, precondition, balances, options, d);
  for (std::size_t k = 0; k < d->size(); ++k) (*d)[k] *= layers_.column(static_cast<int>(k));
  return summary.iterations;
}

/// The whole way, or the part of it that lowers the residual where the whole does not: laws have kinks where
/// a flow turns. Returns the residual there.
double ImplicitStep::go_along(const std::vector<double>& d, double before, Fields* fields,
                              std::vector<double>* balances) {
  double gone = 0.0, best = 0.0, best_size = -1.0;
  for (const double length : {1.0, 0.5, 0.25, 0.1, 0.03}) {
    layers_.add(d, length - gone, fields);
    gone = length;
    *balances = layers_.balances(*fields);
    const double size = norm(*balances);
    if (std::isfinite(size) && (best_size < 0.0 || size < best_size)) {
      best = length;
      best_size = size;
    }
    if (size < before) return size;
  }
  layers_.add(d, best - gone, fields);
  *balances = layers_.balances(*fields);
  return norm(*balances);
}

StepSolve ImplicitStep::solve(const Storage& storage, const StepTolerances& tolerances, Fields* fields) {
  StepSolve out;
  layers_.set_storage(&storage);
  std::vector<double> balances = layers_.balances(*fields);
  out.residual = norm(balances);
  const auto within = [&] {
    out.books = layers_.books();
    return out.residual <= tolerances.residual && out.books.mass <= tolerances.mass &&
           out.books.energy <= tolerances.energy && out.books.energy_cells <= tolerances.energy;
  };
  const int most = storage.at_start() ? kMostAtStart : kMostNewton;
  const double rate = storage.weights().c0 / storage.weights().step;
  const double drift = std::max(rate, factored_rate_) / std::min(rate, factored_rate_);
  if (!(drift < kDrift) || last_iterations_ > kMostInnerIterations) {
    factor(storage, *fields);
    ++out.factorisations;
  }
  while (!(out.solved = within()) && out.newton < most && std::isfinite(out.residual)) {
    std::vector<double> d;
    last_iterations_ = newton_direction(*fields, balances, &d);
    ++out.newton;
    out.iterations += last_iterations_;
    const double before = out.residual;
    out.residual = go_along(d, before, fields, &balances);
    // Old factors may be what fails.
    if (!(out.residual < kSlow * before) && std::isfinite(out.residual)) {
      factor(storage, *fields);
      ++out.factorisations;
    }
  }
  layers_.set_storage(nullptr);
  return out;
}

double ImplicitStep::distance(const Fields& a, const Fields& b) const {
  double sum = 0.0, n = 0.0;
  for (int l = 0; l < layers_.n_layers(); ++l) {
    const auto L = static_cast<std::size_t>(l);
    const field::Unknowns& u = layers_.unknowns(l);
    for (int k = 0; k < u.n(); ++k) {
      if (u[k].kind == field::kind_p) continue;
      const double apart = (field::Unknowns::part(a.layers[L], u[k].kind)(u[k].i, u[k].j) -
                            field::Unknowns::part(b.layers[L], u[k].kind)(u[k].i, u[k].j)) /
                           layers_.column(layers_.offset(l) + k);
      sum += apart * apart;
      n += 1.0;
    }
  }
  return std::sqrt(sum / std::max(n, 1.0));
}

}  // namespace tuft::plan
