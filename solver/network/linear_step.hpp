// One linear step of the network: openings eliminated, a small dense system left.
#pragma once

#include <Eigen/Core>
#include <Eigen/LU>

#include "solver/network/equations.hpp"

namespace tuft::network {

/// What pseudo-time adds to the diagonal; zero for a plain Newton step.
struct Inertia {
  double flow = 0.0;  ///< added to every element's slope [Pa s/kg]
  double heat = 0.0;  ///< relative: times each node's own conductance scale, added to its heat balance
};

/// Buffers and solver of the linear systems of one graph. Sized once; `compute` allocates nothing.
///
/// The flow of each opening is eliminated by its own momentum equation (its slope is never zero); fans keep
/// theirs, as a fan's slope vanishes at the top of a hump and for a still rotor without flow. The unknowns
/// left are fan flows, pressures and temperatures.
class LinearStep {
 public:
  explicit LinearStep(const Equations& equations);

  /// Newton correction of the state last evaluated by `equations`, into flow, pressure, temperature.
  /// With `frozen_temperature` the energy equations are replaced by no change.
  /// @return false if the system is singular or the correction is not finite.
  bool compute(const Equations& equations, const State& x, const Inertia& inertia, bool frozen_temperature);

  const State& correction() const { return correction_; }

  /// Scaled residual norm (largest entry) of the state last evaluated, which is `x`.
  double norm(const Equations& equations, const State& x, bool frozen_temperature);

  /// The same for the implicit pseudo-time step that led to `x` by the correction last computed: what its
  /// linearisation left over. Small steps leave little however far the steady state is.
  double step_norm(const Equations& equations, const State& x, const Inertia& inertia,
                   bool frozen_temperature);

 private:
  double node_inertia(const Equations& equations, int node, const Inertia& inertia) const;
  void assemble(const Equations& equations, const State& x, const Inertia& inertia, bool frozen_temperature);
  void add_opening(const Equations& equations, const State& x, int e, double inertia);
  void add_fan(const Equations& equations, const State& x, int f, double inertia);
  void add_advection(const Equations& equations, const State& x, int e);
  void recover_flows(const Equations& equations, double inertia);

  int n_fans_, n_nodes_, size_;
  Eigen::MatrixXd matrix_;
  Eigen::VectorXd right_, solution_;
  Eigen::VectorXd mass_, heat_;
  Eigen::PartialPivLU<Eigen::MatrixXd> flow_lu_, full_lu_;
  State correction_;
};

}  // namespace tuft::network
