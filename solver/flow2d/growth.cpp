#include "solver/flow2d/growth.hpp"

#include <algorithm>
#include <cmath>
#include <complex>
#include <cstdint>

#include "solver/sparse/pencil_space.hpp"

namespace tuft::flow2d {
namespace {

constexpr double kSlow = 0.1;            // share of the rate at which the fastest air crosses a layer
constexpr int kFewest = 12, kMost = 90;  // directions
constexpr double kSureGrowth = 0.005;    // error of a growth over it
constexpr double kSureFading = 0.1;      // the same of a rate below 0: at 0.5 another mode was told
constexpr double kFast = 100.0;          // times the shift: rates beyond are not told from those of pressures
constexpr double kDifference = 1e-6;     // step of differences, of the measures

}  // namespace

/// K = shift M - J about a steady flow, and its factors: an implicit step of the length 1/shift, of the first
/// order, of the linearised flow. All products are scaled as balances are.
class ShiftedFlow {
 public:
  ShiftedFlow(const Fields& steady, double shift, NewtonSolver* solver)
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
  ~ShiftedFlow() {
    solver_.factored_rate_ = 0.0;
    solver_.flow_kept_ = false;
    system_.set_rate(0.0);
    solver_.evaluate(steady_);
  }

  /// K v.
  void multiply(const std::vector<double>& v, std::vector<double>* out) {
    out->resize(v.size());
    exact_ ? by_slopes(v, out) : by_differences(v, out);
  }
  /// v of K v = in, about: by the factors alone.
  void solve(const std::vector<double>& in, std::vector<double>* out) const {
    solver_.factors_.solve(in, out);
  }
  /// M v.
  std::vector<double> stored(const std::vector<double>& v) const {
    std::vector<double> out(v.size());
    for (std::size_t k = 0; k < v.size(); ++k) out[k] = contents_[k] * v[k];
    for (const FarSlope& e : far_contents_) out[e.row] += e.value * v[e.column];
    return out;
  }
  /// M transposed, times v.
  void stored_transposed(const std::vector<double>& v, std::vector<double>* out) const {
    out->resize(v.size());
    for (std::size_t k = 0; k < v.size(); ++k) (*out)[k] = contents_[k] * v[k];
    for (const FarSlope& e : far_contents_) (*out)[e.column] += e.value * v[e.row];
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
    system_.set_storage(&storage_);
    const std::vector<double> after = system_.balances(moved_by(v, h)),
                              before = system_.balances(moved_by(v, -h));
    system_.set_storage(nullptr);
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

/// A closed body of gas whose level of pressure is given, not its mass: how much it holds then changes with
/// its warmth, which is nothing that a closed body does in time.
bool has_free_mass(const FlowSystem& system) {
  for (int l = 0; l < system.n_layers(); ++l)
    if (!system.unknowns(l).level_cells().empty() &&
        system.residual(l).problem().fluid.law == DensityLaw::ideal_gas)
      return true;
  return false;
}

/// A pair with x and s = shift - 1/v.
struct Mode {
  std::complex<double> rate{0.0, 0.0};
  sparse::ComplexVector x;
  double error = 0.0;        ///< of the rate
  std::vector<double> next;  ///< what would take that away, about
  bool sure() const {
    return error < (rate.real() > 0.0 ? kSureGrowth : kSureFading) * std::abs(rate.real());
  }
};

/// Looks for the mode that grows fastest, or fades most slowly, in a space that grows by what is left over of
/// it, each time as the factors would correct it (after Davidson 1975, J. Comput. Phys. 17:87-94, from
/// memory).
class Search {
 public:
  Search(const FlowSystem& system, double shift, ShiftedFlow* flow)
      : system_(system), shift_(shift), flow_(*flow), start_(mixed(system.n())) {}

  Growth told() {
    Growth out;
    std::vector<double> next;
    flow_.solve(flow_.stored(start_), &next);
    while (!out.known && space_.size() < kMost) {
      const bool more = take(std::move(next));
      const std::vector<sparse::PencilPair> pairs = fastest_first();
      if (pairs.empty()) return out;
      Mode mode = mode_of(pairs.front());
      out.rate = mode.rate.real();
      out.error = mode.error;
      out.frequency = std::abs(mode.rate.imag()) / (2.0 * std::acos(-1.0));
      out.steps = space_.size();
      out.known = mode.sure() && (space_.size() >= kFewest || !more);
      if (out.known && out.grows()) out.mode = sized(std::move(mode.x.real), start_, system_);
      // One that is known already leads to no others.
      for (std::size_t k = 1; mode.sure() && k < pairs.size() && !out.known; ++k) mode = mode_of(pairs[k]);
      next = std::move(mode.next);
      if (!more) break;
    }
    return out;
  }

 private:
  /// False: there is no further direction.
  bool take(std::vector<double> direction) {
    const double length = std::sqrt(sparse::ordered_dot(direction, direction));
    if (!(length > 0.0) || !std::isfinite(length)) return false;
    for (double& x : direction) x /= length;
    std::vector<double> image;
    flow_.multiply(direction, &image);
    return space_.add(
        direction, std::move(image), flow_.stored(direction),
        [this](const std::vector<double>& v, std::vector<double>* out) { flow_.stored_transposed(v, out); });
  }

  /// Pairs whose rates are told from those of pressures, the one that grows fastest first, one of each two
  /// that are conjugate. Where there are none, all fade at once: the slowest first, as rates near those of
  /// pressures have any sign.
  std::vector<sparse::PencilPair> fastest_first() const {
    std::vector<sparse::PencilPair> told, all;
    for (sparse::PencilPair& pair : space_.pairs()) {
      if (pair.value.imag() < 0.0) continue;
      (std::abs(pair.value) * shift_ * kFast >= 1.0 ? told : all).push_back(std::move(pair));
    }
    std::stable_sort(told.begin(), told.end(),
                     [this](const auto& a, const auto& b) { return rate_of(a).real() > rate_of(b).real(); });
    std::stable_sort(all.begin(), all.end(),
                     [](const auto& a, const auto& b) { return std::abs(a.value) > std::abs(b.value); });
    return told.empty() ? all : told;
  }

  std::complex<double> rate_of(const sparse::PencilPair& pair) const { return shift_ - 1.0 / pair.value; }

  /// The error of 1/v is that of v over v^2, and v is off by what is left over beside the image, or by what
  /// the factors make of that beside x: by the larger of the two.
  Mode mode_of(const sparse::PencilPair& pair) {
    Mode out{rate_of(pair), space_.vector_of(pair), 0.0, {}};
    const sparse::ComplexVector image = space_.image_of(pair);
    const double re = pair.value.real(), im = pair.value.imag();
    sparse::ComplexVector left{flow_.stored(out.x.real), {}};
    const bool swings = !out.x.imaginary.empty();
    if (swings) left.imaginary = flow_.stored(out.x.imaginary);
    for (std::size_t k = 0; k < left.real.size(); ++k) {
      left.real[k] -= re * image.real[k];
      if (!swings) continue;
      left.real[k] += im * image.imaginary[k];
      left.imaginary[k] -= re * image.imaginary[k] + im * image.real[k];
    }
    const double beside_image = left.length(), v2 = std::norm(pair.value);
    const bool other =
        sparse::ordered_dot(left.imaginary, left.imaginary) > sparse::ordered_dot(left.real, left.real);
    flow_.solve(other ? left.imaginary : left.real, &out.next);
    const double corrected = std::sqrt((swings ? 2.0 : 1.0) * sparse::ordered_dot(out.next, out.next));
    out.error = std::max(beside_image, corrected / out.x.length()) / v2;
    return out;
  }

  const FlowSystem& system_;
  const double shift_;
  ShiftedFlow& flow_;
  const std::vector<double> start_;
  sparse::PencilSpace space_;
};

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
  ShiftedFlow flow(steady, shift, solver);
  return Search(system, shift, &flow).told();
}

}  // namespace tuft::flow2d
