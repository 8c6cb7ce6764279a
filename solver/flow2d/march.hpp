// A flow in time: implicit steps of second order whose length keeps to an error.
#pragma once

#include <cstddef>
#include <vector>

#include "solver/flow2d/newton.hpp"
#include "solver/flow2d/system.hpp"

namespace tuft::flow2d {

/// Chips, boards and fins of one part (docs/field.md, F30): C dT/dt = P - G (T - T_air), T_air the mean of
/// the part's air, and that air is given G (T - T_air) evenly in place of P.
struct HeatLump {
  double capacity = 0.0;           ///< C [J/K], > 0
  double conductance = 0.0;        ///< G [W/K], > 0
  double start = 0.0;              ///< temperature at the start [K]
  double power = 0.0;              ///< P, which the problem's heat sources hold at first [W]
  Problem* problem = nullptr;      ///< of the layer that the part's air lies in
  std::size_t layer = 0;           ///< its number
  std::vector<std::size_t> cells;  ///< of the part
  double area = 0.0;               ///< of those, all together [m2]
};

/// All lumps of a flow. Gives their heat to its layers as `heat_source`, step by step.
class ThermalMasses {
 public:
  ThermalMasses() = default;
  /// `given`: all heat the flow is given, by what faults are measured [W].
  ThermalMasses(std::vector<HeatLump> lumps, double given);

  bool empty() const { return lumps_.empty(); }
  /// Lets the lumps go a step with the air as warm as `air` says (one a lump), and gives the layers their
  /// heat.
  void advance(const TimeWeights& weights, const std::vector<double>& air);
  /// Mean temperature of the air of each lump's part [K].
  std::vector<double> air_of(const Fields& fields) const;
  /// Heat that would be wrong for taking the air to be as warm as `air` where it is `true_air` [W], worst
  /// lump.
  double fault(const std::vector<double>& air, const std::vector<double>& true_air) const;
  /// What faults are measured by: all heat given, or what would pass if all lumps were as warm as at the
  /// start in air of the room's warmth [W], > 0.
  double given() const { return given_; }
  /// The step holds: from here on it is the past.
  void accept();
  /// As they were one step back, which was the start.
  void go_back();

  double power() const;    ///< given to all lumps [W]
  double passing() const;  ///< what they give to the air [W]
  std::vector<double> temperatures() const;

 private:
  struct Lump : HeatLump {
    double next = 0.0, now = 0.0, before = 0.0, heat = 0.0;
  };

  std::vector<Lump> lumps_;
  double given_ = 1e-3;
};

struct MarchOptions {
  /// Error of one step, root mean square over all velocities and temperatures, each against the layer's
  /// fastest air or the largest difference of temperatures [-].
  double tolerance = 5e-4;
  double fixed_step = 0.0;  ///< > 0: every step is that long and no error is controlled [s]
  double first_step = 0.0;  ///< [s]; 0: a thousandth of a passage
  double passage = 1.0;     ///< time the air takes to pass, about [s]
  /// Of a passage: no step is made shorter than that for its error's sake [-].
  /// Faster things are damped instead of followed.
  double shortest_share = 0.0;
  double longest = 1e9;       ///< [s]
  StepTolerances tolerances;  ///< of the balances at every step
};

struct MarchStep {
  bool good = false;    ///< false: no step was found, however short; the state is that before
  double step = 0.0;    ///< its length [s]
  double error = 0.0;   ///< estimate, over the tolerance [-]; 0 while it is undecided
  double change = 0.0;  ///< of the fields over the step, as the error is measured [-]
  int tries = 0;        ///< steps begun for it
  StepSolve solved;     ///< its balances hold what is stored
};

/// Advances a flow with all that joins its layers (docs/field.md, F29): backward differences of second order
/// with steps that may vary, every balance implicit, so that stability limits no step. Vents, fans, passages
/// and spaces beside the layers have no inertia and store nothing: they follow at once. Local errors are had
/// from what the solution's third differences promise (a parabola through the last three states against the
/// step taken); a step with too large an error is taken again.
class March {
 public:
  /// `stores`: what gives the layers heat as it warms; nullptr: nothing. It outlives the object.
  March(const Flow& flow, Fields start, const MarchOptions& options, ThermalMasses* thermal_masses = nullptr);

  /// One step, which ends at `limit` [s since the start] at the latest.
  MarchStep step(double limit);

  double time() const { return time_; }  ///< since the start [s]
  const Fields& fields() const { return now_; }
  /// Balances of a layer at the present fields.
  const Residual& residual(int layer) const { return solver_.system().residual(layer); }
  /// Kinetic energy of the air [J].
  double kinetic_energy() const;

 private:
  Fields promised(double h) const;
  double share_of_error(double h) const;
  double error_of_first(double h, double apart) const;
  void start_again(double shorter);
  bool settle_at_once(double limit);
  StepSolve advance(double h, Fields* next);
  double length_for(double limit) const;
  void accept(double h, Fields next, double limit);

  NewtonSolver solver_;
  ThermalMasses none_;
  ThermalMasses& thermal_masses_;
  MarchOptions options_;
  Fields now_, before_, last_;  ///< at this time, one step back, two steps back
  std::vector<State> content_now_, content_before_;
  double time_ = 0.0, h1_ = 0.0, h2_ = 0.0, wanted_ = 0.0, shortest_ = 0.0;
  int past_ = 0;  ///< steps behind the present state, counted to 2
  int restarts_ = 0;
  bool settled_at_once_ = false;
};

}  // namespace tuft::flow2d
