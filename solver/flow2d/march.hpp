// The time-accurate mode: a second-order projection method.
#pragma once

#include <memory>
#include <string>

#include "solver/flow2d/multigrid.hpp"
#include "solver/flow2d/state.hpp"

namespace tuft::field {

struct MarchOptions {
  double pressure_tolerance = 1e-8;  ///< of the pressure equation, against its right-hand side
  int max_cycles = 60;
};

struct StepSummary {
  bool finite = true;  ///< every value is a number; otherwise the step was too long
  bool pressure_solved = true;
  int cycles = 0;        ///< of multigrid
  double mass = 0.0;     ///< sum of the cells' left-over mass flows [kg/s]
  double change = 0.0;   ///< largest velocity change over the step [m/s]
  double largest = 0.0;  ///< largest velocity [m/s]
};

/// Advances a state in time (docs/field.md, F11). Backward differences of second order with the convection
/// extrapolated and the diffusion implicit (Ascher, Ruuth & Wetton 1995, SIAM J. Numer. Anal. 32:797-823),
/// then the pressure increment that restores the mass balance (van Kan 1986, SIAM J. Sci. Stat. Comput.
/// 7:870-891). Velocities and temperature are of second order in the step, which may vary. Convection limits
/// the step to a Courant number near 0.5.
///
/// With the gas law a closed body is held at constant background pressure, so that heating it would push air
/// out that has nowhere to go: such a transient keeps volume, not mass.
class Marcher {
 public:
  /// `problem` must outlive the object.
  Marcher(const Problem& problem, State start, const MarchOptions& options = {});
  ~Marcher();

  StepSummary step(double dt);
  const State& state() const;
  double time() const;  ///< since the start [s]
  /// Step [s] in which no air crosses more than `courant` of a cell, from the present state and scales.
  double step_for(double courant) const;
  /// Kinetic energy of the air [J].
  double kinetic_energy() const;

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace tuft::field
