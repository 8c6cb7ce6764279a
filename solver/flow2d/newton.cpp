#include "solver/flow2d/newton.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "solver/sparse/frontal_lu.hpp"
#include "solver/flow2d/jacobian.hpp"
#include "solver/flow2d/renewal.hpp"
#include "solver/flow2d/steps.hpp"
#include "solver/flow2d/unknowns.hpp"

namespace tuft::field {
namespace {

constexpr const char* balance_names[4] = {"x-momentum", "y-momentum", "mass", "heat"};

}  // namespace

struct NewtonSolver::Impl : SteppedSystem {
  explicit Impl(const Problem& p)
      : problem(p),
        residual(p),
        unknowns(p, residual.mesh()),
        lu(unknowns.pattern(), unknowns.places(), p.grid.nx(), p.grid.ny()),
        left_over(still_state(p)),
        trial(left_over) {}

  const Problem& problem;
  Residual residual;
  Unknowns unknowns;
  FrontalLu<float> lu;
  State left_over, trial;
  State* state = nullptr;  ///< being solved

  std::vector<double> column_scale, row_scale;  ///< per unknown
  std::vector<double> renewal;                  ///< D at Courant number 1, per unknown
  std::vector<double> equalised;                ///< extra row factors of the factored matrix

  /// Takes the scales of the state, or what drives the problem promises while the air is still at rest.
  /// Returns whether they changed enough to matter.
  bool set_scales(bool first) {
    const Scales promised = scales_of(problem, nullptr);
    Scales s = scales_of(problem, state);
    if (first && s.velocity < 0.03 * promised.velocity) s = promised;
    const double ratio = s.velocity / residual.scales().velocity;
    if (!first && ratio < 1.5 && ratio > 1.0 / 1.5) return false;
    residual.set_scales(s);
    const double per_face = std::sqrt(static_cast<double>(problem.grid.nx()) * problem.grid.ny());
    const double columns_of[4] = {s.velocity, s.velocity, s.momentum / (s.length * s.depth), s.temperature};
    const double rows_of[4] = {per_face / s.momentum, per_face / s.momentum, per_face / s.mass,
                               per_face / s.heat};
    column_scale.resize(static_cast<std::size_t>(unknowns.n()));
    row_scale.resize(column_scale.size());
    for (std::size_t k = 0; k < row_scale.size(); ++k) {
      column_scale[k] = columns_of[unknowns[static_cast<int>(k)].kind];
      row_scale[k] = rows_of[unknowns[static_cast<int>(k)].kind];
    }
    return true;
  }

  bool rescale() override { return set_scales(false); }
  const std::vector<double>& columns() const override { return column_scale; }
  const std::vector<double>& rows() const override { return row_scale; }

  std::vector<double> balances_of(const State& at) {
    residual.evaluate(at, &left_over);
    std::vector<double> r = unknowns.gather(left_over);
    for (std::size_t k = 0; k < r.size(); ++k) r[k] *= row_scale[k];
    return r;
  }
  std::vector<double> balances() override { return balances_of(*state); }
  std::vector<double> balances_along(const std::vector<double>& step, double length) override {
    trial = *state;
    unknowns.add(step, length, &trial);
    return balances_of(trial);
  }
  void move(const std::vector<double>& step, double length) override { unknowns.add(step, length, state); }

  const std::vector<double>& inertia() const override { return renewal; }
  void set_inertia() override {
    renewal.resize(static_cast<std::size_t>(unknowns.n()));
    set_renewal(residual, unknowns, renewal.data());
  }

  void factor(double courant) override {
    const SparsePattern& pattern = unknowns.pattern();
    std::vector<double> values(pattern.column.size());
    compact_jacobian(unknowns, residual, *state, Rows::all, values.data());
    equalised.assign(static_cast<std::size_t>(unknowns.n()), 1.0);
    for (int r = 0; r < unknowns.n(); ++r) {
      double largest = 0.0;
      const int begin = pattern.row_start[static_cast<std::size_t>(r)],
                end = pattern.row_start[static_cast<std::size_t>(r) + 1];
      for (int k = begin; k < end; ++k) {
        double& value = values[static_cast<std::size_t>(k)];
        const int c = pattern.column[static_cast<std::size_t>(k)];
        value = -value;
        if (c == r) value += renewal[static_cast<std::size_t>(r)] / courant;
        value *= row_scale[static_cast<std::size_t>(r)] * column_scale[static_cast<std::size_t>(c)];
        largest = std::max(largest, std::abs(value));
      }
      if (!(largest > 0.0)) continue;
      equalised[static_cast<std::size_t>(r)] = 1.0 / largest;
      for (int k = begin; k < end; ++k) values[static_cast<std::size_t>(k)] /= largest;
    }
    lu.factor(values);
  }

  void precondition(const std::vector<double>& in, std::vector<double>* out) const override {
    for (std::size_t k = 0; k < in.size(); ++k) (*out)[k] = in[k] * equalised[k];
    lu.solve(out);
  }

  Audit books() const override { return audit(residual, left_over); }
  std::string place_of(std::size_t k) const override {
    const Unknown& d = unknowns[static_cast<int>(k)];
    return std::string(balance_names[d.kind]) + " at cell (" + std::to_string(d.i) + ", " +
           std::to_string(d.j) + ")";
  }
  std::array<int, 2> cells() const override { return {problem.grid.nx(), problem.grid.ny()}; }
};

NewtonSolver::NewtonSolver(const Problem& problem) : impl_(new Impl(problem)) {}
NewtonSolver::~NewtonSolver() = default;

NewtonSummary NewtonSolver::solve(const NewtonOptions& options, State* state) {
  Impl& s = *impl_;
  impose_given_velocities(s.problem, state);
  for (const auto& cell : s.unknowns.level_cells()) state->pressure(cell[0], cell[1]) = 0.0;
  s.state = state;
  s.set_scales(true);
  return take_steps(options, StepRules(), &s);
}

}  // namespace tuft::field
