#include "solver/flow2d/growth.hpp"

#include <algorithm>
#include <cmath>
#include <complex>
#include <cstdint>

#include "solver/sparse/arnoldi.hpp"

namespace tuft::flow2d {
namespace {

// How far each system is solved. At 1e-4 a rate that is far beyond the shift can be told where there is none,
// and the sign of one near 0 is not sure (by measurement).
constexpr double kSolved = 1e-6;
constexpr double kOfError = 5e-2;  // share below which what Arnoldi's method leaves adds little to an error
constexpr double kSlow = 0.1;      // share of the rate at which the fastest air crosses a layer
constexpr int kMostIterations = 60;
constexpr int kFewest = 8, kMost = 60;  // of Arnoldi's steps
constexpr double kSureGrowth = 0.1;     // error of a growth over it
constexpr double kSureFading = 0.2;     // the same of a rate below 0: at 0.5 another mode was told
constexpr double kFast = 100.0;         // times the shift: rates beyond are not told from those of pressures
constexpr double kStill = 1e-6;  // rate of moving over that of spreading heat, below which air is at rest
constexpr double kDifference = 1e-6;  // step of differences, of the measures

}  // namespace

/// Products with (shift M - J)^-1 M about a steady flow: an implicit step of the length 1/shift, of the first
/// order, of the linearised flow, over the shift.
class ShiftedInverse {
 public:
  ShiftedInverse(const Fields& steady, double shift, NewtonSolver* solver)
      : steady_(steady),
        solver_(*solver),
        system_(solver->system_),
        content_(solver->contents(steady)),
        storage_({1.0, -1.0, 0.0, 1.0 / shift}, content_, content_),
        shift_(shift) {
    for (int l = 0; l < system_.n_layers(); ++l) {
      const Problem& p = system_.residual(l).problem();
      exact_ = exact_ && p.momentum_scheme != Convection::limited && p.energy_scheme != Convection::limited &&
               p.closure.empty();
    }
    solver_.inertia_.clear();
    system_.balances(steady_);
    solver_.factor_for(storage_, steady_);
    solver_.factors_.take_far(steady_, system_);
    take_contents();
  }
  /// The next solve is to make its own.
  ~ShiftedInverse() {
    solver_.factored_rate_ = 0.0;
    solver_.flow_kept_ = false;
    system_.set_rate(0.0);
    solver_.evaluate(steady_);
  }

  /// Returns the share of the right-hand side that is left: kSolved, or more where that is not reached.
  double apply(const std::vector<double>& in, std::vector<double>* out) {
    system_.set_storage(&storage_);
    const auto multiply = [this](const std::vector<double>& v, std::vector<double>* product) {
      exact_ ? by_slopes(v, product) : by_differences(v, product);
    };
    const auto precondition = [this](const std::vector<double>& v, std::vector<double>* x) {
      solver_.factors_.solve(v, x);
    };
    sparse::GmresOptions options;
    options.tolerance = kSolved;
    options.max_iterations = kMostIterations;
    const sparse::GmresSummary summary = sparse::gmres(multiply, precondition, stored(in), options, out);
    system_.set_storage(nullptr);
    return std::max(kSolved, summary.reduction);
  }

 private:
  static double step_for(const std::vector<double>& v) {
    double largest = 0.0;
    for (const double x : v) largest = std::max(largest, std::abs(x));
    return largest > 0.0 ? kDifference / largest : 1.0;
  }
  const Fields& moved_by(const std::vector<double>& v, double factor) {
    step_.resize(v.size());
    for (std::size_t k = 0; k < v.size(); ++k) step_[k] = v[k] * system_.columns()[k];
    system_.move(steady_, step_, factor, &moved_);
    return moved_;
  }

  /// To either side: where air is at rest upwind values have a corner.
  void by_differences(const std::vector<double>& v, std::vector<double>* out) {
    const double h = step_for(v);
    const std::vector<double> after = system_.balances(moved_by(v, h)),
                              before = system_.balances(moved_by(v, -h));
    for (std::size_t k = 0; k < v.size(); ++k) (*out)[k] = (before[k] - after[k]) / (2.0 * h);
  }

  void by_slopes(const std::vector<double>& v, std::vector<double>* out) {
    solver_.factors_.multiply(v, out);
    for (const FarSlope& e : far_contents_) (*out)[e.row] += shift_ * e.value * v[e.column];
  }

  /// The slopes of what is stored, scaled as balances are.
  void take_contents() {
    contents_.assign(static_cast<std::size_t>(system_.n()), 0.0);
    for (int l = 0; l < system_.n_layers(); ++l) {
      const Unknowns& u = system_.unknowns(l);
      const Residual& residual = system_.residual(l);
      const State& state = steady_.layers[static_cast<std::size_t>(l)];
      const int offset = system_.offset(l);
      for (int k = 0; k < u.n(); ++k) {
        const int m = offset + k;
        contents_[static_cast<std::size_t>(m)] = storage_.slope(residual, state, u[k].kind, u[k].i, u[k].j) /
                                                 shift_ * system_.row(m) * system_.column(m);
      }
      for (const FarSlope& e : far_content_slopes(u, residual, state)) {
        const int row = offset + e.row, column = offset + e.column;
        far_contents_.push_back({row, column, e.value * system_.row(row) * system_.column(column)});
      }
    }
  }

  /// M v, scaled as balances are.
  std::vector<double> stored(const std::vector<double>& v) const {
    std::vector<double> out(v.size());
    for (std::size_t k = 0; k < v.size(); ++k) out[k] = contents_[k] * v[k];
    for (const FarSlope& e : far_contents_) out[e.row] += e.value * v[e.column];
    return out;
  }

  const Fields& steady_;
  NewtonSolver& solver_;
  FlowSystem& system_;
  const std::vector<State> content_;
  const Storage storage_;
  const double shift_;
  bool exact_ = true;  ///< the slopes are
  std::vector<double> contents_;
  std::vector<FarSlope> far_contents_;
  Fields moved_;
  std::vector<double> step_;
};

namespace {

bool at_rest(const Array2& velocity) {
  for (std::size_t k = 0; k < velocity.size(); ++k)
    if (velocity[k] != 0.0) return false;
  return true;
}

/// Rates above which little is expected to grow: that of an overturning of the air by its own weight, or a
/// part of that at which the fastest air crosses; and at least that at which heat spreads.
struct Rates {
  double moves = 0.0;    ///< of air that flows or overturns [1/s]
  double spreads = 0.0;  ///< of heat in air at rest [1/s]
  double shift() const { return std::max(moves, spreads); }
};

Rates rates_of(const Fields& steady, const FlowSystem& system) {
  Rates out;
  for (int l = 0; l < system.n_layers(); ++l) {
    const Residual& r = system.residual(l);
    const Problem& p = r.problem();
    const Array2& temperature = steady.layers[static_cast<std::size_t>(l)].temperature;
    double low = 1e300, high = -1e300;
    for (std::size_t k = 0; k < temperature.size(); ++k) {
      if (!p.solid.empty() && p.solid[k] != 0) continue;
      const double weight = p.fluid.buoyancy_density(temperature[k]);
      low = std::min(low, weight);
      high = std::max(high, weight);
    }
    const double gravity = std::hypot(p.gravity[0], p.gravity[1]), length = r.scales().length;
    const double spreads = p.fluid.conductivity / (p.fluid.density * p.fluid.specific_heat * length * length);
    out.spreads = std::max(out.spreads, spreads);
    const State& state = steady.layers[static_cast<std::size_t>(l)];
    if (at_rest(state.u()) && at_rest(state.v()) && gravity * (high - low) == 0.0) continue;
    out.moves = std::max({out.moves, kSlow * r.scales().velocity / length,
                          std::sqrt(std::max(0.0, gravity * (high - low) / (p.fluid.density * length)))});
  }
  return out;
}

/// Numbers between -1 and 1 in no order (Marsaglia 2003, J. Stat. Softw. 8(14), from memory), so that no
/// symmetry of the flow keeps a mode out.
std::vector<double> mixed(int n) {
  std::vector<double> out;
  std::uint64_t x = 88172645463325252u;
  for (int k = 0; k < n; ++k) {
    x ^= x << 13;
    x ^= x >> 7;
    x ^= x << 17;
    out.push_back(static_cast<double>(x >> 11) * 0x1p-52 - 1.0);
  }
  return out;
}

/// Largest velocity or temperature 1 by the system's measures, in the unknowns' own units; its sign so that
/// it points to the side of `start`, which no symmetry of the flow decides.
std::vector<double> sized(std::vector<double> mode, const std::vector<double>& start,
                          const FlowSystem& system) {
  double largest = 0.0;
  for (int l = 0; l < system.n_layers(); ++l)
    for (int k = 0; k < system.unknowns(l).n(); ++k)
      if (system.unknowns(l)[k].kind != kind_p)
        largest = std::max(largest, std::abs(mode[static_cast<std::size_t>(system.offset(l) + k)]));
  const double factor = (sparse::ordered_dot(mode, start) < 0.0 ? -1.0 : 1.0) / largest;
  for (std::size_t k = 0; k < mode.size(); ++k) mode[k] *= factor * system.columns()[k];
  return mode;
}

/// The rightmost of the eigenvalues s = shift - 1/v that are told so far.
struct Rightmost {
  int number = -1;
  std::complex<double> value{0.0, 0.0};
  double error = 0.0;
};

Rightmost rightmost_of(const std::vector<sparse::RitzValue>& all, double shift) {
  Rightmost out;
  for (std::size_t k = 0; k < all.size(); ++k) {
    const double size = std::abs(all[k].value);
    if (size * shift * kFast < 1.0) continue;
    const std::complex<double> s = shift - 1.0 / all[k].value;
    if (out.number < 0 || s.real() > out.value.real())
      out = {static_cast<int>(k), s, all[k].residual / (size * size)};
  }
  return out;
}

/// A closed body of gas whose level of pressure is given, not its mass: how much it holds then changes with
/// its warmth, which is nothing that a closed body does in time.
bool has_free_mass(const FlowSystem& system) {
  for (int l = 0; l < system.n_layers(); ++l)
    if (!system.unknowns(l).level_cells().empty() &&
        system.residual(l).problem().fluid.law == DensityLaw::ideal_gas)
      return true;
  return false;
}

/// Which mode grows fastest, or fades most slowly.
Growth told_from(const std::vector<double>& start, double shift, const FlowSystem& system,
                 ShiftedInverse* inverse) {
  Growth out;
  sparse::Arnoldi arnoldi(start);
  bool more = true;
  double left = kSolved;
  while (more && !out.known && arnoldi.steps() < kMost) {
    more = arnoldi.step([&](const std::vector<double>& in, std::vector<double>* product) {
      left = std::max(left, inverse->apply(in, product));
    });
    const Rightmost found = rightmost_of(arnoldi.ritz_values(), shift);
    if (found.number < 0) continue;
    out.rate = found.value.real();
    // Products are off by `left` of the largest, 1/shift; so is an eigenvalue v, and s by that over v^2.
    const double away = std::abs(shift - found.value), solves = left * away * std::max(1.0, away / shift);
    out.error = found.error + solves;
    out.frequency = std::abs(found.value.imag()) / (2.0 * std::acos(-1.0));
    out.steps = arnoldi.steps();
    const double sure = out.rate > 0.0 ? kSureGrowth : kSureFading;
    out.known = (!more || out.steps >= kFewest) && out.error < sure * std::abs(out.rate);
    if (out.grows()) out.mode = sized(arnoldi.vector_of(found.number), start, system);
    // Only better solved systems would tell more; what the fewest steps tell is not given up before them.
    if (out.steps >= kFewest && found.error < kOfError * out.error) break;
  }
  return out;
}

}  // namespace

Growth growth_of(const Fields& steady, NewtonSolver* solver) {
  const FlowSystem& system = solver->system();
  if (has_free_mass(system)) return {};
  const Rates rates = rates_of(steady, system);
  const double shift = rates.shift();
  if (!(shift > 0.0)) return {};
  // Still air of one temperature: nothing feeds a disturbance, and heat spreads.
  if (rates.moves == 0.0) {
    Growth fades;
    fades.known = true;
    fades.rate = -rates.spreads;
    return fades;
  }
  ShiftedInverse inverse(steady, shift, solver);
  return told_from(mixed(system.n()), shift, system, &inverse);
}

}  // namespace tuft::flow2d
