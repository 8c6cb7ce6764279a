// The steady state with the controls closed: fans that follow a sensor, power that gives way to heat.
#pragma once

#include <vector>

#include "geometry/device/condition.hpp"
#include "solver/network/heat_paths.hpp"
#include "solver/network/solve.hpp"
#include "solver/network/source_limits.hpp"

namespace tuft::network {

/// A steady state with everything closed.
struct Steady {
  Summary summary;
  State state;
  std::vector<SourceOutcome> sources;  ///< in the device's order; sources without a temperature stay full
  double power = 0.0;                  ///< given to air and bodies, a warm lap included [W]
};

/// Solves from a start, the sources' powers changed in `net.graph` as the limits ask. Which sources are held
/// is found by trying (an active set): a source above its throttling temperature is held there; one that
/// could take more than it is asked for is let go; one that cannot live on its least power gets that and may
/// pass its limit; past its shutdown temperature its power is off for good.
Steady solve_steady(const geometry::Case& content, const HeatLayout& layout, Network& net,
                    const State* start = nullptr);

/// The same for one network, with what it was solved by at hand afterwards. Case, layout and network must
/// outlive it; it changes powers in the network as `solve_steady` does, so each object serves one solve.
class SteadySolver {
 public:
  SteadySolver(const geometry::Case& content, const HeatLayout& layout, Network& net);
  SteadySolver(const SteadySolver&) = delete;
  SteadySolver& operator=(const SteadySolver&) = delete;

  /// From a start, or from cold.
  Steady solve(const State* start = nullptr);

  /// From the state a neighbouring case reached with every source at full power (`free_state`), by Newton's
  /// method alone until the limits close; not converged where that does not get there.
  Steady solve_close(const State& start);

  /// The state before any limit closed; that of the solution where none did.
  const State& free_state() const { return free_; }

  /// The equations evaluated at the solution.
  const Equations& equations() const { return solver_.equations(); }

 private:
  void close_limits(Steady& steady);
  bool adjust();
  bool any(bool (SteadySolver::*change)(std::size_t));
  bool hold_all();
  bool hold(std::size_t source);
  bool give_way(std::size_t source);
  bool find_power(std::size_t source);
  bool shut_down_hottest();
  bool set_power(std::size_t source, SourceState state, double power);
  void write_held_powers();
  double too_hot(std::size_t source) const;
  double least(std::size_t source) const { return limits_[source].least(asked_[source]); }
  bool can_give_way(std::size_t source) const { return limits_[source].can_give_way(asked_[source]); }
  double temperature(int index) const { return solver_.state().temperature[index]; }
  Body& body(int temperature) { return body_at(net_.graph, temperature); }

  const geometry::Device& device_;
  const HeatLayout& layout_;
  Network& net_;
  Solver solver_;
  std::vector<SourceLimits> limits_;
  std::vector<double> asked_;
  std::vector<SourceOutcome> outcome_;
  State start_;  // of the next solve
  State free_;
};

}  // namespace tuft::network
