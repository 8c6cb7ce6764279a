#include "solver/flow2d/newton.hpp"

#include <algorithm>
#include <cmath>

#include "solver/sparse/gmres.hpp"

namespace tuft::flow2d {
namespace {

constexpr int kMostNewton = 12;
constexpr int kMostAtStart = 40;
constexpr int kMostInnerIterations = 12;  // as many cost about what factors anew cost (by measurement)
constexpr double kDrift = 2.5;    // of c0/step over that of the factors, beyond which they are made anew
constexpr double kSlow = 0.2;     // a Newton step that leaves more wants factors of the new state
constexpr double kLinear = 1e-3;  // how far each direction is solved

double norm(const std::vector<double>& r) { return std::sqrt(sparse::ordered_dot(r, r)); }

}  // namespace

/// d of (D/courant - J) d = R, in the units of the unknowns; D are the inertia taken last, R the scaled
/// `balances` of `fields`, and products J v differences of them. Returns GMRES' iterations.
int NewtonSolver::direction(const Fields& fields, const std::vector<double>& balances, double courant,
                            double tolerance, std::vector<double>* d) {
  const std::vector<double>&columns = system_.columns(), &rows = system_.rows();
  const int n = static_cast<int>(columns.size());
  const bool share = n > kManyUnknowns, inert = !inertia_.empty();
  const auto apply = [&](const std::vector<double>& in, std::vector<double>* out) {
    double largest = 0.0;
    for (const double v : in) largest = std::max(largest, std::abs(v));
    const double h = largest > 0.0 ? 1e-6 / largest : 1.0;
    step_.resize(in.size());
#pragma omp parallel for schedule(static) if (share)
    for (int m = 0; m < n; ++m) {
      step_[m] = in[m] * columns[m];
    }
    system_.move(fields, step_, h, &moved_);
    balances_ = system_.balances(moved_);
#pragma omp parallel for schedule(static) if (share)
    for (int m = 0; m < n; ++m) {
      const double stays = inert ? inertia_[m] / courant * rows[m] * step_[m] : 0.0;
      (*out)[m] = stays - (balances_[m] - balances[m]) / h;
    }
  };
  const auto precondition = [&](const std::vector<double>& in, std::vector<double>* out) {
    factors_.solve(in, out);
  };
  sparse::GmresOptions options;
  options.tolerance = tolerance;
  options.max_iterations = kMostIterations;
  const sparse::GmresSummary summary = sparse::gmres(apply, precondition, balances, options, d);
  for (std::size_t k = 0; k < d->size(); ++k) (*d)[k] *= columns[k];
  return summary.iterations;
}

std::vector<State> NewtonSolver::contents(const Fields& fields) {
  std::vector<State> out;
  for (int l = 0; l < system_.n_layers(); ++l)
    out.push_back(content_of(&system_.residual(l), fields.layers[l]));
  return out;
}

void NewtonSolver::take_scales(const Fields& fields) {
  if (system_.set_scales(fields, false)) factored_rate_ = 0.0;
}

void NewtonSolver::evaluate(const Fields& fields) {
  system_.set_storage(nullptr);
  system_.balances(fields);
}

void NewtonSolver::factor_for(const Storage& storage, const Fields& fields) {
  const double rate = storage.weights().c0 / storage.weights().step;
  system_.set_rate(rate);
  std::vector<double> stored(static_cast<std::size_t>(system_.n()), 0.0);
  for (int l = 0; l < system_.n_layers(); ++l)
    for (int k = 0; k < system_.unknowns(l).n(); ++k) {
      const Unknown& u = system_.unknowns(l)[k];
      stored[system_.offset(l) + k] = storage.slope(system_.residual(l), fields.layers[l], u.kind, u.i, u.j);
    }
  factors_.factor(fields, stored, 1.0, &system_);
  factored_rate_ = rate;
  last_iterations_ = 0;
}

/// The whole way, or the part of it that lowers the residual where the whole does not: laws have kinks where
/// a flow turns. Returns the residual there.
double NewtonSolver::go_along(const std::vector<double>& d, double before, Fields* fields,
                              std::vector<double>* balances) {
  double gone = 0.0, best = 0.0, best_size = -1.0;
  for (const double length : {1.0, 0.5, 0.25, 0.1, 0.03}) {
    system_.add(d, length - gone, fields);
    gone = length;
    *balances = system_.balances(*fields);
    const double size = norm(*balances);
    if (std::isfinite(size) && (best_size < 0.0 || size < best_size)) {
      best = length;
      best_size = size;
    }
    if (size < before) return size;
  }
  system_.add(d, best - gone, fields);
  *balances = system_.balances(*fields);
  return norm(*balances);
}

StepSolve NewtonSolver::solve_step(const Storage& storage, const StepTolerances& tolerances, Fields* fields) {
  StepSolve out;
  inertia_.clear();
  system_.set_storage(&storage);
  std::vector<double> balances = system_.balances(*fields);
  out.residual = norm(balances);
  const auto within = [&] {
    out.balance = system_.balance();
    return out.residual <= tolerances.residual && out.balance.mass <= tolerances.mass &&
           out.balance.energy <= tolerances.energy && out.balance.energy_cells <= tolerances.energy;
  };
  const int most = storage.at_start() ? kMostAtStart : kMostNewton;
  const double rate = storage.weights().c0 / storage.weights().step;
  const double drift = std::max(rate, factored_rate_) / std::min(rate, factored_rate_);
  if (!(drift < kDrift) || last_iterations_ > kMostInnerIterations) {
    factor_for(storage, *fields);
    ++out.factorisations;
  }
  int steps_in_vain = 0;
  while (!(out.solved = within()) && out.newton < most && steps_in_vain < kMostInVain &&
         std::isfinite(out.residual)) {
    std::vector<double> d;
    last_iterations_ = direction(*fields, balances, 1.0, kLinear, &d);
    ++out.newton;
    out.iterations += last_iterations_;
    const double before = out.residual;
    out.residual = go_along(d, before, fields, &balances);
    steps_in_vain = in_vain(last_iterations_, out.residual / before) ? steps_in_vain + 1 : 0;
    // Old factors may be what fails.
    if (!(out.residual < kSlow * before) && std::isfinite(out.residual)) {
      factor_for(storage, *fields);
      ++out.factorisations;
    }
  }
  system_.set_storage(nullptr);
  return out;
}

double NewtonSolver::distance(const Fields& a, const Fields& b) const {
  double sum = 0.0, n = 0.0;
  for (int l = 0; l < system_.n_layers(); ++l) {
    const Unknowns& u = system_.unknowns(l);
    for (int k = 0; k < u.n(); ++k) {
      if (u[k].kind == kind_p) continue;
      const double apart = (Unknowns::part(a.layers[l], u[k].kind)(u[k].i, u[k].j) -
                            Unknowns::part(b.layers[l], u[k].kind)(u[k].i, u[k].j)) /
                           system_.column(system_.offset(l) + k);
      sum += apart * apart;
      n += 1.0;
    }
  }
  return std::sqrt(sum / std::max(n, 1.0));
}

}  // namespace tuft::flow2d
