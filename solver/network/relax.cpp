#include "solver/network/relax.hpp"

#include <algorithm>
#include <cmath>

#include "solver/numerics/dense.hpp"
#include "solver/network/state_size.hpp"
#include "solver/network/transient_jacobian.hpp"

namespace tuft::heat {
namespace {

constexpr int kMostSteps = 4000;
constexpr double kFirstStep = 1e-3;    // [s]
constexpr double kLargestMove = 0.05;  // in one step, of the state's own largest flow and rise
constexpr double kLongest = 20.0;      // [s]: well below what a device takes to leave an unstable state
constexpr double kAtRest = 1e-10;      // scaled residual

// Largest change of a flow or temperature; pressures follow from those.
double move(const network::Equations& eq, const Eigen::VectorXd& change, const network::State& x) {
  const auto [flow, rise] = size_of(eq, x);
  double most = 0.0;
  for (int e = 0; e < eq.n_flows(); ++e) most = std::max(most, std::abs(change[e]) / flow);
  for (double d : change.tail(eq.n_temperatures())) most = std::max(most, std::abs(d) / rise);
  return most;
}

}  // namespace

bool relax(const Model& model, const Held& held, network::State& x) {
  network::Equations eq(model.net.graph);
  for (const auto& [temperature, value] : held) eq.hold(temperature, value);
  double step = kFirstStep;
  for (int i = 0; i < kMostSteps; ++i) {
    eq.evaluate(x);
    const Eigen::VectorXd rate = transient_residual(eq, x);
    const TransientJacobian j = transient_jacobian(eq, x);
    if (!rate.allFinite()) return false;
    if (rate.cwiseQuotient(j.row_scale).cwiseAbs().maxCoeff() <= kAtRest) return true;
    Eigen::MatrixXd m = -j.matrix;
    m.diagonal() += j.mass / step;
    m = j.row_scale.cwiseInverse().asDiagonal() * m * j.unit_scale.asDiagonal();
    const Eigen::VectorXd change =
        base::DenseLu(m).solve(rate.cwiseQuotient(j.row_scale)).cwiseProduct(j.unit_scale);
    const double moved = move(eq, change, x);
    if (!(moved <= 2.0 * kLargestMove) && step > 1e-9) {
      step *= 0.3;
      continue;
    }
    x = unpacked(eq, packed(x) + change);
    if (moved < kLargestMove) step = std::min(1.5 * step, kLongest);
  }
  return false;
}

std::optional<network::State> rest_from_cold(const Model& model) {
  network::State x = network::Equations(model.net.graph).at_rest();
  if (!relax(model, {}, x)) return std::nullopt;
  return x;
}

}  // namespace tuft::heat
