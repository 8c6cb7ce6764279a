// The steady state of all layers and what joins them, by Newton steps in pseudo-time.
#pragma once

#include <memory>

#include "solver/flow2d/newton.hpp"
#include "solver/flow2d/layer_coupling.hpp"

namespace tuft::plan {

/// Typical sizes the network knows: what balances and steps are measured against.
struct Magnitudes {
  double flow = 1e-9;        ///< [kg/s], > 0
  double pressure = 1e-4;    ///< [Pa], > 0
  double temperature = 1.0;  ///< difference [K], > 0
};

/// The field's own steps (docs/field.md, F12) on several layers at once, bordered by the flows of fans and
/// passages and the states of well-mixed spaces (F25): the layers' compact Jacobians and the slopes of the
/// cell openings make one matrix on the (x, y) grid, whose LU factors precondition GMRES together with the
/// Schur complement of the few unknowns beside it.
class CoupledNewton {
 public:
  /// `model` must outlive the object; the inertia, schemes and `energy` of its problems may change between
  /// solves. Where `energy` is on here and off in a solve, temperatures are held, and the flow's factors
  /// serve for the first steps of a solve with it on.
  CoupledNewton(const Model& model, const Magnitudes& magnitudes);
  ~CoupledNewton();

  /// From `fields` on. Convergence and the meaning of the summary are those of field::NewtonSolver, balances
  /// summed over all layers and spaces.
  field::NewtonSummary solve(const field::NewtonOptions& options, Fields* fields);

  /// Flows of the fields last evaluated.
  const Coupling& coupling() const;
  /// Balances of a layer in the fields last evaluated.
  const field::Residual& residual(int layer) const;

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace tuft::plan
