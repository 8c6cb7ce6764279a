// Turbulence as an added viscosity: a mixing length, or an eddy viscosity that is known beforehand.
#pragma once

#include <string>

#include "solver/flow2d/array2.hpp"
#include "solver/flow2d/grid.hpp"

namespace tuft::field {

struct Problem;
struct State;

/// Off by default: both arrays empty. Viscosity and conductivity grow by
///     mu_t = rho (nu_given + l^2 |S|),   k_t = cp mu_t / Pr_t,   |S|^2 = 2 (u_x^2 + v_y^2) + (u_y + v_x)^2
/// (docs/field.md, F26; Prandtl 1925, from memory).
struct Closure {
  Array2 mixing_length;   ///< l, cells, >= 0 [m]
  Array2 eddy_viscosity;  ///< nu_given, cells, >= 0 [m2/s]
  /// Pr_t [-], > 0. 0.7 lies between what plane jets (0.5) and walls (0.9) are taken to have (from memory).
  double turbulent_prandtl = 0.7;

  bool empty() const { return mixing_length.empty() && eddy_viscosity.empty(); }
  /// The first broken rule as a sentence, empty when all is well.
  std::string problem(const Grid& grid) const;
};

/// Adds what the closure of `problem` makes of the velocities of `state`, in air cells.
void add_eddy(const Problem& problem, const State& state, const Array2& density, Array2* viscosity,
              Array2* conductivity);

/// Spreading of a turbulent plane jet: half width over distance from where it seems to start, 0.10 to
/// 0.115 measured (from memory).
constexpr double kJetSpread = 0.11;

/// Mixing length over half width of a plane jet that spreads by `spread`. Derived: with l = c x the similar
/// solution (Tollmien 1926) has its velocity a function of y / (a x), a^3 = 2 c^2, and falls to half at
/// y = 0.9555 a x, so that l / (spread x) = sqrt((spread / 0.9555)^3 / 2) / spread.
double jet_mixing_ratio(double spread = kJetSpread);

}  // namespace tuft::field
