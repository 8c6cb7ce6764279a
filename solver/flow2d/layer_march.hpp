// The plan layers in time: implicit steps of second order whose length keeps to an error.
#pragma once

#include <memory>
#include <vector>

#include "solver/flow2d/layer_heat_store.hpp"
#include "solver/flow2d/layer_implicit_step.hpp"

namespace tuft::plan {

struct MarchOptions {
  /// Error of one step, root mean square over all velocities and temperatures, each against the layer's
  /// fastest air or the largest difference of temperatures [-].
  double tolerance = 5e-4;
  double fixed_step = 0.0;  ///< > 0: every step is that long and no error is controlled [s]
  double first_step = 0.0;  ///< [s]; 0: a thousandth of the time air takes across the device
  /// Of the time air takes across the device: no step is made shorter than that for its error's sake [-].
  /// Faster things are damped instead of followed.
  double shortest_share = 0.0;
  double longest = 1e9;       ///< [s]
  StepTolerances tolerances;  ///< of the balances at every step
};

struct MarchStep {
  bool good = false;    ///< false: no step was found, however short; the state is that before
  double step = 0.0;    ///< its length [s]
  double error = 0.0;   ///< estimate, over the tolerance [-]; 0 while it can't be told
  double change = 0.0;  ///< of the fields over the step, as the error is measured [-]
  int tries = 0;        ///< steps begun for it
  StepSolve solved;     ///< its balances hold what is stored
};

/// Advances the layers with all that joins them (docs/field.md, F29): backward differences of second order
/// with steps that may vary, every balance implicit, so that stability limits no step. Vents, fans, passages
/// and spaces beside the layers have no inertia and store nothing: they follow at once. Local errors are had
/// from what the solution's third differences promise (a parabola through the last three states against the
/// step taken); a step with too large an error is taken again.
class March {
 public:
  /// The model is the object's own. `given` is what it was made with.
  March(Model model, const Magnitudes& magnitudes, Fields start, const Given& given,
        const std::vector<HeatStore>& stores, const MarchOptions& options);
  ~March();

  /// One step, which ends at `limit` [s since the start] at the latest.
  MarchStep step(double limit);

  double time() const;  ///< since the start [s]
  const Fields& fields() const;
  const Model& model() const;
  /// Flows at the present fields.
  const Coupling& coupling() const;
  const HeatStores& stores() const;

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace tuft::plan
