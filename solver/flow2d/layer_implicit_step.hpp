// One implicit step in time of all layers and what joins them.
#pragma once

#include <memory>

#include "solver/flow2d/bordered_factors.hpp"
#include "solver/flow2d/layer_storage.hpp"

namespace tuft::plan {

struct StepTolerances {
  double residual = 1e-8;  ///< scaled [-]
  double mass = 1e-10;     ///< left over and not stored, over what passes [-]
  double energy = 1e-7;    ///< the same of heat, net and summed over cells [-]
};

struct StepSolve {
  bool solved = false;
  int newton = 0, iterations = 0, factorisations = 0;
  double residual = 0.0;
  field::Audit books;  ///< with what is stored: the balances of the step
};

/// Solves R(w) = d content(w)/dt for the fields at the end of a step by Newton's method: the balances and
/// factors of the steady solver (F25), storage on their diagonal. Factors are kept from step to step for as
/// long as GMRES needs few iterations with them.
class ImplicitStep {
 public:
  /// `model` must outlive the object. What it gives as heat may change between steps.
  ImplicitStep(const Model& model, const Magnitudes& magnitudes);

  /// Contents of all layers.
  std::vector<field::State> contents(const Fields& fields);
  /// From `fields` (a guess of the end of the step) on. They are left as far as Newton's method got.
  StepSolve solve(const Storage& storage, const StepTolerances& tolerances, Fields* fields);
  /// Puts what `coupling` says to fields that are given, nothing stored.
  void evaluate(const Fields& fields);
  /// Takes the measures of balances and steps from the fields; factors are made anew where they changed.
  void take_scales(const Fields& fields);
  void impose(Fields* fields) const { layers_.impose(fields); }
  /// Root mean square of a - b over all velocities and temperatures, each against its own measure [-].
  double distance(const Fields& a, const Fields& b) const;

  const Coupling& coupling() const { return layers_.coupling(); }

 private:
  void factor(const Storage& storage, const Fields& fields);
  int newton_direction(const Fields& fields, const std::vector<double>& balances, std::vector<double>* d);

  double go_along(const std::vector<double>& d, double before, Fields* fields, std::vector<double>* balances);

  LayerSystem layers_;
  BorderedFactors factors_;
  double factored_rate_ = 0.0;  ///< c0/step of the factors [1/s]; 0: there are none
  int last_iterations_ = 0;
};

}  // namespace tuft::plan
