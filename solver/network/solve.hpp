// Solves a network: from rest, fans on, then warming up, to the steady state.
#pragma once

#include <string>
#include <vector>

#include "solver/network/equations.hpp"
#include "solver/network/linear_step.hpp"

namespace tuft::network {

struct Options {
  double tolerance = 1e-11;         ///< largest scaled residual accepted [-], > 0
  bool frozen_temperature = false;  ///< solve the flow at the temperatures of the starting state
};

/// Beyond it a temperature counts as running away [K].
constexpr double kHottest = 1500.0;

enum class StopReason {
  converged,
  disconnected,  ///< a node has no way to the outside
  runaway,       ///< a temperature grows without bound: heat without a way out
  stalled        ///< no further progress
};

/// How a solve went. `message` names the place and the numbers; empty when converged.
struct Summary {
  StopReason stop = StopReason::stalled;
  std::string message = "solve was not called";
  int iterations = 0;     ///< linear systems solved
  double residual = 0.0;  ///< largest scaled residual
  bool converged() const { return stop == StopReason::converged; }
};

/// Solver of one graph with all its buffers. The graph must outlive it.
///
/// From a state at rest: first the flow at frozen temperatures, then everything, each by pseudo-transient
/// continuation (implicit Euler steps of one Newton correction each, lengthened as the residual falls), which
/// becomes Newton's method at the end. Flow alone is the descent of a potential bounded from below, so it
/// ends in a minimum whatever the fan curves; the warm-up follows the path of a device switched on cold.
///
/// Where fans rule, that path is not worth walking: a leap is tried first. The temperatures that belong to
/// the cold flow are a linear problem nearly, and Newton's method ends at the steady state from there. The
/// leap counts only if no flow ended far from its cold value, so that nothing can have turned on the way;
/// else the warm-up is walked after all.
class Solver {
 public:
  explicit Solver(const Graph& graph);

  /// Solves from rest.
  Summary solve(const Options& options = {});

  /// Solves from the state given, such as the one of a neighbouring condition (same graph layout).
  Summary solve_from(const State& start, const Options& options = {});

  /// Newton's method from the state given, which is near the one wanted (a source was let go or held, a value
  /// was changed a little); `solve_from` where that fails.
  Summary solve_near(const State& start, const Options& options = {});

  /// Newton's method alone; not converged where it does not get there from the state given, which says
  /// nothing about whether there is a solution.
  Summary solve_close(const State& start, const Options& options = {});

  /// Holds a temperature at a value [K] in the solves to come, or lets it go; see Equations::hold.
  void hold(int temperature, double value) { equations_.hold(temperature, value); }
  void release(int temperature) { equations_.release(temperature); }

  /// The state reached, and the equations evaluated there.
  const State& state() const { return x_; }
  const Equations& equations() const { return equations_; }

 private:
  bool leap(const Options& options, Summary& summary);
  bool newton(const Options& options, Summary& summary);
  bool warm_sensors();
  double half_delivery(const FanElement& fan, double speed) const;
  void note_speeds();
  bool speeds_changed() const;
  bool warm_at_this_flow(Summary& summary);
  bool flows_stayed(const State& cold, double share) const;
  bool march(bool frozen, double first_step, const Options& options, Summary& summary);
  struct StepOutcome {
    bool accepted;
    double factor;  ///< by which the next pseudo-time step should differ
  };
  State switched_on() const;
  void balance_mass();
  void polish(bool frozen, const Options& options, Summary& summary);
  enum class UseFactors { own, last };  ///< of the step's own state, or those at hand
  StepOutcome try_step(bool frozen, double step, double allowed, double& norm,
                       UseFactors factors = UseFactors::own);
  std::string worst_place(bool frozen) const;
  int hottest() const;

  Equations equations_;
  LinearStep step_;
  State x_, trial_, cold_, warm_;
  double share_left_ = 1.0;     // of the residual, by the last step with factors of its own
  std::vector<double> speeds_;  // of fans that follow, when the flow was found
};

}  // namespace tuft::network
