// A controlled network as the integrator sees it: heat in time, the flow following at once.
#pragma once

#include <Eigen/Core>

#include "solver/network/equations.hpp"
#include "solver/network/linear_step.hpp"
#include "solver/network/transient_controls.hpp"
#include "solver/numerics/dense.hpp"

namespace tuft::network {

/// The heat balances of a network at given temperatures. Air has so little mass that flow and pressure are
/// taken as settled at every instant (theory.md, W1): for given temperatures T the flow F solves
///
///     R(F, T) = 0                        momentum and mass, N1 and N2
///     C_i dT_i/dt = H_i(F(T), T)         heat into each node and body, N3 and links [W]                (W1)
///
/// and the slope of the heat with the flow following comes from the same matrix as a Newton step (W2):
///
///     dH/dT = A_TT - A_TF A_FF^-1 A_FT.
///
/// The graph must outlive it. Its powers and fans may change; `changed` has to be called then.
class QuasiSteady {
 public:
  /// Throws std::invalid_argument where a capacity is not > 0 or the graph is not connected.
  explicit QuasiSteady(const Graph& graph);

  int size() const { return equations_.n_temperatures(); }
  /// Of each temperature [J/K].
  const Eigen::VectorXd& capacity() const { return capacity_; }

  /// Starts from a flow near the one wanted; its temperatures do not count. Without it, the first flow is
  /// found as a device is switched on cold: from rest at room temperature, fans on.
  void start_from(const State& near);

  /// Settles the flow at temperatures [K], from the flow last accepted. False where none is found; the
  /// functions below speak of the state last settled.
  bool settle(const Eigen::VectorXd& temperature);

  /// The flow last settled is where the next ones start.
  void accept();
  /// The graph's powers, fans or sensors have changed.
  void changed() { settled_ = slope_known_ = false; }

  const State& state() const { return x_; }
  const Equations& equations() const { return equations_; }

  /// Heat into each temperature [W]; positive warms.
  const Eigen::VectorXd& heat() const { return heat_; }
  /// Sum of all powers [W].
  double given() const;
  /// Heat that leaves to the room with the air, through walls and from surfaces [W], summed at the openings
  /// and links to the room and not from `heat`.
  double left() const;
  /// d heat_i / d T_j [W/K], the flow following. One evaluation and two factorisations.
  const Eigen::MatrixXd& heat_slope();

 private:
  bool newton();
  bool march();
  bool switch_on();
  void evaluate();

  const Graph* graph_;
  Equations equations_;
  LinearStep step_;
  State accepted_, x_;
  Eigen::VectorXd capacity_, heat_, residual_;
  Eigen::MatrixXd slope_, following_;
  numerics::DenseLu flow_lu_;
  bool settled_ = false;
  bool slope_known_ = false;
  bool fresh_ = true;  // no flow is known yet
};

// A controlled network as the integrator sees it.

/// y: temperatures over the room's [K], nodes then bodies; then the energy given and the energy left [J]
/// since the start. The last two ride along as quadratures (theory.md, W5):
///
///     E_given' = powers,   E_left' = heat to the room,   sum of C_i T_i' = E_given' - E_left'.
///
/// The third is no equation of the system but follows from mass and heat being balanced in every space; the
/// Jacobian's rows keep it, so backward differences keep it too, up to what the flow leaves unbalanced.
class System {
 public:
  System(QuasiSteady& heat, Controls& controls, double ambient);

  int n_temperatures() const { return n_; }
  Eigen::VectorXd temperatures(const Eigen::Ref<const Eigen::VectorXd>& y) const;

  /// False where f has no value at y; a shorter step is tried then.
  bool rates(const Eigen::Ref<const Eigen::VectorXd>& y, Eigen::Ref<Eigen::VectorXd> rate);
  bool jacobian(const Eigen::Ref<const Eigen::VectorXd>& y, Eigen::Ref<Eigen::MatrixXd> slope);
  bool roots(const Eigen::Ref<const Eigen::VectorXd>& y, double* values);

  /// d rate / d T of temperatures [1/s] at the state last settled; the rows of held ones are zero.
  const Eigen::MatrixXd& temperature_jacobian();
  /// Rates of temperatures [K/s] at the state last settled.
  const Eigen::VectorXd& temperature_rates();

 private:
  QuasiSteady* heat_;
  Controls* controls_;
  double ambient_;
  int n_;
  Eigen::VectorXd temperature_, rate_;
  Eigen::MatrixXd slope_;
};

/// How far from rest the temperatures are by a straight continuation (theory.md, W6): J d = -rate, the
/// largest |d| [K]; held temperatures stand still. Keeps the factors of J and makes them anew when they
/// matter, as the question is asked at every step.
class Distance {
 public:
  Distance(System& system, const Controls& controls) : system_(&system), controls_(&controls) {}

  /// Whether the state last settled is that near.
  bool within(double kelvin);
  /// The distance itself, from a fresh J. Infinite where J has no inverse.
  double fresh();
  /// Modes have changed: forget the factors.
  void forget() { age_ = kOld; }

 private:
  static constexpr int kOld = 25;  // asked that often, they are made anew
  double with_old_factors();

  System* system_;
  const Controls* controls_;
  numerics::DenseLu factors_;
  int age_ = kOld;
};

/// Largest real part of the eigenvalues of the free temperatures' Jacobian [1/s]; below 0 the state is
/// stable.
double fastest_growth(System& system, const Controls& controls);

}  // namespace tuft::network
