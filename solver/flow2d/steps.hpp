// Newton steps in pseudo-time on whatever has unknowns and balances: the control of steps, written once.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "solver/flow2d/newton.hpp"

namespace tuft::field {

/// A state with unknowns and balances, both scaled: a scaled step times `columns` is a step in the unknowns'
/// own units, a balance times `rows` is a scaled one.
class SteppedSystem {
 public:
  virtual ~SteppedSystem() = default;

  /// Scaled balances of the state.
  virtual std::vector<double> balances() = 0;
  /// Scaled balances of the state moved by `length` times `step` (own units); the state stays.
  virtual std::vector<double> balances_along(const std::vector<double>& step, double length) = 0;
  /// Moves the state.
  virtual void move(const std::vector<double>& step, double length) = 0;

  /// Takes the flow that renews each unknown's volume from the balances last evaluated: D at Courant
  /// number 1.
  virtual void set_inertia() = 0;
  virtual const std::vector<double>& inertia() const = 0;
  virtual const std::vector<double>& columns() const = 0;
  virtual const std::vector<double>& rows() const = 0;
  /// Takes the scales of the state; returns whether they changed enough to matter: factors do not outlive
  /// that.
  virtual bool rescale() = 0;

  /// Makes the preconditioner of D/courant - J at the state.
  virtual void factor(double courant) = 0;
  /// Its approximate inverse, scaled.
  virtual void precondition(const std::vector<double>& in, std::vector<double>* out) const = 0;

  /// Books of the balances last evaluated.
  virtual Audit books() const = 0;
  /// Balance and place of entry k, for a person.
  virtual std::string place_of(std::size_t k) const = 0;
  /// Cells of the grid, for observers.
  virtual std::array<int, 2> cells() const = 0;
};

/// When factors are made anew, and how far steps are solved; by measurement.
struct StepRules {
  int kept_iterations = 10;  ///< factors are kept while GMRES needs no more
  double near = 1e300;       ///< above this residual they are made anew once it has fallen to a quarter
  bool no_further = false;   ///< solve steps no further than the residual asked for needs
};

/// Steps until the tolerances hold (docs/field.md, F12). The balances last evaluated are those of the state
/// the system is left with.
NewtonSummary take_steps(const NewtonOptions& options, const StepRules& rules, SteppedSystem* system);

}  // namespace tuft::field
