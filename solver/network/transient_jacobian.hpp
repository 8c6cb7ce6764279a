// The linearised transient of a network at one state: what moves, how fast, and on what it depends.
#pragma once

#include <Eigen/Core>

#include "solver/network/equations.hpp"

namespace tuft::heat {

/// Inertance of the air in and around an opening of face area A [m2] and depth l [m]: (l + 2 * 0.85 r) / A
/// [1/m], r = sqrt(A / pi). What its mass flow gains in a second is the pressure difference over it:
/// I dm/dt = p'_a - p'_b - drop. An estimate: air on either side of a hole in a wall moves along as far as
/// 0.85 radii (8 / (3 pi) r, the low-frequency end correction of a flanged pipe; Rayleigh, from memory).
double opening_inertance(double area, double depth);

/// The same for a fan, whose passage nobody measured: a short duct as wide as the air at free delivery needs
/// to have the shut-off pressure as its velocity head, A = Q sqrt(rho / (2 p)). Judgement.
double fan_inertance(const elements::FanCurve& curve);

/// M dx/dt = F(x) linearised: M dx/dt = J x. Rows: momentum of every element [Pa], mass of every node [kg/s],
/// heat of every temperature [W]. Columns: flows [kg/s], pressures [Pa], temperatures [K]. The mass rows have
/// no time in them (air holds no mass worth counting), nor has a temperature that is held.   (theory.md, B1)
struct TransientJacobian {
  Eigen::MatrixXd matrix;      ///< J
  Eigen::VectorXd mass;        ///< diagonal of M: inertances [1/m], zeros, capacities [J/K]
  Eigen::VectorXd row_scale;   ///< size of a residual in each row: Scales of pressure, flow, heat
  Eigen::VectorXd unit_scale;  ///< size of a change in each column: Scales of flow, pressure, temperature
};

/// Residual F of the state last evaluated by `equations`, which is `x`; rows as above.
Eigen::VectorXd transient_residual(const network::Equations& equations, const network::State& x);

/// J and M at the state last evaluated by `equations`, which is `x`. Capacities may be 0 here: such a
/// temperature follows at once.
TransientJacobian transient_jacobian(const network::Equations& equations, const network::State& x);

/// The unknowns in one vector, and back.
Eigen::VectorXd packed(const network::State& x);
network::State unpacked(const network::Equations& equations, const Eigen::VectorXd& u);

}  // namespace tuft::heat
