#include "solver/flow2d/layer_coupled_newton.hpp"

#include "solver/flow2d/renewal.hpp"
#include "solver/flow2d/steps.hpp"
#include "solver/flow2d/bordered_factors.hpp"
#include "solver/flow2d/layer_system.hpp"

namespace tuft::plan {
namespace {

// Residual above which the matrix still changes much from step to step, and iterations that cost as much as
// factors anew (by measurement on 4, 2 and 1 mm cells).
constexpr double kNear = 0.02;
constexpr int kKeptIterations = 10;

}  // namespace

struct CoupledNewton::Impl : field::SteppedSystem {
  Impl(const Model& model, const Magnitudes& magnitudes)
      : layers(model, magnitudes), factors(layers, model) {}

  LayerSystem layers;
  BorderedFactors factors;
  std::vector<double> renewal;  ///< D at Courant number 1, per unknown
  Fields* fields = nullptr;     ///< being solved
  Fields moved;                 ///< the same, moved along a step
  bool held = false;            ///< the temperatures are
  bool flow_kept = false;       ///< the flow's factors are those of a state nearby, at the same scales

  std::vector<double> balances() override { return layers.balances(*fields); }
  std::vector<double> balances_along(const std::vector<double>& step, double length) override {
    layers.move(*fields, step, length, &moved);
    return layers.balances(moved);
  }
  void move(const std::vector<double>& step, double length) override { layers.add(step, length, fields); }
  const std::vector<double>& inertia() const override { return renewal; }
  const std::vector<double>& columns() const override { return layers.columns(); }
  const std::vector<double>& rows() const override { return layers.rows(); }
  bool rescale() override { return layers.set_scales(*fields); }
  void factor(double courant) override {
    const field::Rows rows = held ? field::Rows::flow : flow_kept ? field::Rows::heat : field::Rows::all;
    factors.factor(*fields, renewal, courant, &layers, rows);
    flow_kept = false;
  }
  void precondition(const std::vector<double>& in, std::vector<double>* out) const override {
    factors.solve(in, out);
  }
  field::Audit books() const override { return layers.books(); }
  std::string place_of(std::size_t k) const override { return layers.place_of(static_cast<int>(k)); }
  std::array<int, 2> cells() const override {
    const field::Grid& grid = layers.residual(0).problem().grid;
    return {grid.nx(), grid.ny()};
  }

  /// Flows and pressures that join the layers have none.
  void set_inertia() override {
    renewal.assign(static_cast<std::size_t>(layers.n()), 0.0);
    for (int l = 0; l < layers.n_layers(); ++l)
      field::set_renewal(layers.residual(l), layers.unknowns(l), renewal.data() + layers.offset(l));
  }
};

CoupledNewton::CoupledNewton(const Model& model, const Magnitudes& magnitudes)
    : impl_(new Impl(model, magnitudes)) {}
CoupledNewton::~CoupledNewton() = default;
const Coupling& CoupledNewton::coupling() const { return impl_->layers.coupling(); }
const field::Residual& CoupledNewton::residual(int layer) const { return impl_->layers.residual(layer); }

field::NewtonSummary CoupledNewton::solve(const field::NewtonOptions& options, Fields* fields) {
  Impl& s = *impl_;
  s.layers.impose(fields);
  s.held = !s.layers.residual(0).problem().energy;
  if (s.layers.set_scales(*fields)) s.flow_kept = false;
  s.fields = fields;
  field::NewtonSummary summary = field::take_steps(options, {kKeptIterations, kNear, true}, &s);
  s.flow_kept = s.held && summary.end == field::StepsEnd::converged && summary.factorisations > 0;
  return summary;
}

}  // namespace tuft::plan
