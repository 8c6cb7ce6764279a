// The network's transient linearised at one state, and whether a device would stay in that state.
#pragma once

#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <string>

#include "solver/network/equations.hpp"
#include "solver/network/linear_step.hpp"

namespace tuft::network {

/// Inertance of the air in and around an opening of face area A [m2] and depth l [m]: (l + 2 * 0.85 r) / A
/// [1/m], r = sqrt(A / pi). What its mass flow gains in a second is the pressure difference over it:
/// I dm/dt = p'_a - p'_b - drop. An estimate: air on either side of a hole in a wall moves along as far as
/// 0.85 radii (8 / (3 pi) r, the low-frequency end correction of a flanged pipe; Rayleigh, from memory).
double opening_inertance(double area, double depth);

/// The same for a fan, whose passage nobody measured: a short duct as wide as the air at free delivery needs
/// to have the shut-off pressure as its velocity head, A = Q sqrt(rho / (2 p)). Judgement.
double fan_inertance(const physics::FanCurve& curve);

/// M dx/dt = F(x) linearised: M dx/dt = J x; F is Equations::residual. Rows: momentum of every element [Pa],
/// mass of every node [kg/s], heat of every temperature [W]. Columns: flows [kg/s], pressures [Pa],
/// temperatures [K]. The mass rows have no time in them (air holds no mass worth counting), nor has a
/// temperature that is held.   (theory.md, B1)
struct TransientJacobian {
  Eigen::MatrixXd matrix;  ///< J
  Eigen::VectorXd mass;    ///< diagonal of M: inertances [1/m], zeros, capacities [J/K]
};

/// J and M at the state last evaluated by `equations`, which is `x`. Capacities may be 0 here: such a
/// temperature follows at once.
TransientJacobian transient_jacobian(const Equations& equations, const State& x);

/// d of (M rate - J) d = F at the state last evaluated, which is `x`: an implicit Euler step of 1 / `rate`
/// seconds, Newton's method with a rate of 0. Entries are not finite, or there are none, where that is
/// singular.
Eigen::VectorXd implicit_change(const Equations& equations, const State& x, double rate, LinearStep& step);

/// Whether a network is too large for all its eigenvalues.
bool is_large(const Equations& equations);

/// The unknowns in one vector, and back.
Eigen::VectorXd packed(const State& x);
State unpacked(const Equations& equations, const Eigen::VectorXd& u);

// How large the flows and temperature rises of a state are: what its changes are measured in.

struct StateSize {
  double flow;  ///< largest flow [kg/s], and no less than a thousandth of the network's scale
  double rise;  ///< largest difference from the room's temperature [K], and no less than the network's scale
};

inline StateSize size_of(const Equations& eq, const State& x) {
  constexpr double kLeastFlow = 1e-3;  // share of the network's scale
  StateSize size{kLeastFlow * eq.scales().flow, eq.scales().temperature};
  for (double m : x.flow) size.flow = std::max(size.flow, std::abs(m));
  for (double t : x.temperature)
    size.rise = std::max(size.rise, std::abs(t - eq.graph().ambient.temperature));
  return size;
}

// Is a steady state one that a device would stay in?

/// The least stable way in which a state can move.
struct Stability {
  bool stable = false;
  bool known = true;    ///< false: no mode was found (large networks alone); taken for stable
  double growth = 0.0;  ///< largest real part of all eigenvalues [1/s]; < 0: every disturbance dies out
  std::string place;    ///< the flow or temperature that moves most in it, by the name in the graph
  bool place_is_flow = false;
  State mode;  ///< its shape (real part): changes of flow, pressure (left 0), temperature; the
               ///< largest is 1 when flows are counted in the state's largest flow and temperatures
               ///< in its largest rise over the room
};

/// Stability of the state last evaluated by `equations`, which is `x`, held temperatures staying held and
/// fans following their sensors without delay.
///
/// The linearised transient (B1) is reduced to the flows that keep every node's mass, dm = Z y with B Z = 0
/// (the pressures then drop out, as B^T is what they act through), and the temperatures that are free; the
/// eigenvalues are those of that ordinary system (B2). Throws std::invalid_argument when a free temperature
/// has no capacity. Where a flow is exactly nought the equations have corners; the slopes on one side are
/// taken. Of a network of 150 unknowns or more only modes that do not swing are looked for, by inverse
/// iteration from three rates of growth.
Stability stability(const Equations& equations, const State& x);

}  // namespace tuft::network
