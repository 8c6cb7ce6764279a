// How fast a fan turns: as a load asks, or by the temperature it follows, with hysteresis as play.
#pragma once

#include "geometry/device/condition.hpp"
#include "solver/network/equations.hpp"

namespace tuft::network {

/// What a load asks of a fan: a speed [rev/s], or to follow its table, at most at that speed.
struct FanOrder {
  double speed = 0.0;
  bool speed_control = false;
};
FanOrder order_to(const geometry::Device& device, const geometry::Load& load, int fan);

/// A fan's speed [rev/s] at a state, and its slope by the temperature it follows.
numerics::CurveValue speed_and_slope(const FanElement& fan, const Graph& graph, const State& x);
inline double speed_of(const FanElement& fan, const Graph& graph, const State& x) {
  return speed_and_slope(fan, graph, x).value;
}

/// Multiplies a fan's speed, its table included.
void speed_up(FanElement& fan, double factor);

/// The table a fan slows down by: the one it speeds up by, so much [K] colder.
numerics::Ramp slowing_table(const numerics::Ramp& table, double hysteresis);

/// Where a speed stands between the two branches of its play.
enum class PlayMode {
  held,    ///< between the branches: the speed stays
  rising,  ///< on the branch table(T), T rising
  falling  ///< on the branch table(T + h), T falling
};

/// A table of speed N [rev/s] against temperature T [K] with hysteresis h [K], as mechanical play (theory.md,
/// W3): N stays while
///
///     table(T) <= N <= table(T + h);
///
/// it goes up along table(T) and down along table(T + h). A value type. (Play operator: definition.)
class PlayOperator {
 public:
  PlayOperator() = default;
  /// The table's speeds must not fall, h >= 0. Throws std::invalid_argument otherwise.
  PlayOperator(numerics::Ramp table, double hysteresis);

  /// Least and most speed at T [rev/s].
  double least(double temperature) const { return table_.at(temperature).value; }
  double most(double temperature) const { return table_.at(temperature + hysteresis_).value; }
  /// The speed nearest to N that T allows.
  double clamped(double speed, double temperature) const;

  /// Temperature beyond which a speed goes up, and below which it goes down [K]; infinite where it never
  /// does.
  double goes_up_at(double speed) const;
  double goes_down_at(double speed) const;

  /// The two branches as tables of T.
  const numerics::Ramp& rising() const { return table_; }
  const numerics::Ramp& falling() const { return falling_; }

 private:
  numerics::Ramp table_, falling_;
  double hysteresis_ = 0.0;
};

}  // namespace tuft::network
