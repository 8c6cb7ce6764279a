// What acts in a cell beside transport: friction, porous drag, eddies, and what it exchanges with sources.
#pragma once

#include <array>
#include <cmath>

#include "solver/flow2d/problem.hpp"
#include "solver/flow2d/state.hpp"

namespace tuft::flow2d {

/// Friction force per volume and velocity [Pa s/m2] between two plates a depth h apart (docs/field.md, F7):
///
///     f = 12 mu / h^2 (1 + r^4)^(1/4),    r = 0.3164 Re^(3/4) / 96,    Re = rho |u| 2h / mu
///
/// The first factor is plane Poiseuille flow on the mean velocity (exact). r is the ratio of Blasius'
/// friction factor 0.3164 Re^(-1/4) to the laminar 96/Re, both on the hydraulic diameter 2h; the fourth-power
/// blend turns from one to the other near Re 2040. Blasius' constants: from memory; the blend is a judgement.
inline double layer_friction(double density, double viscosity, double depth, double speed) {
  const double laminar = 12.0 * viscosity / (depth * depth);
  const double reynolds = density * speed * 2.0 * depth / viscosity;
  const double ratio = 0.3164 / 96.0;  // r^4 = ratio^4 Re^3
  const double r4 = ratio * ratio * ratio * ratio * reynolds * reynolds * reynolds;
  return laminar * std::sqrt(std::sqrt(1.0 + r4));
}

/// Drag of a porous block at face (i, j) of component d, force per volume and velocity [Pa s/m2] (F21):
///     drag_viscous mu + drag_inertial rho |u|.
/// Only the velocity through the face counts: a block of fins lets air through one way.
inline double porous_drag(const Problem& problem, int d, int i, int j, double density, double viscosity,
                          double velocity) {
  const Array2& a = problem.drag_viscous[d];
  const Array2& b = problem.drag_inertial[d];
  return (a.empty() ? 0.0 : a(i, j) * viscosity) + (b.empty() ? 0.0 : b(i, j) * density * std::abs(velocity));
}

/// Adds what the closure of `problem` makes of the velocities of `state`, in air cells.
void add_eddy(const Problem& problem, const State& state, const Array2& density, Array2* viscosity,
              Array2* conductivity);

/// Conductance between the air of one cell of a block of channels and the metal [W/K], `flow` being the size
/// of the mass flow through its row [kg/s] (F41).
double channel_cell_conductance(const HeatedChannels& channels, const Fluid& fluid, double flow);

/// Sets, in the cells of a block of channels, the conductance between their air and the metal [W/K] and the
/// heat that the metal gives them [W], by the flow in the middle of each row (F41).
void set_channel_heat(const HeatedChannels& channels, const Fluid& fluid,
                      const std::array<Array2, 2>& mass_flow, const Array2& temperature, Array2* conductance,
                      Array2* heat);

/// Spreading of a turbulent plane jet: half width over distance from where it seems to start, 0.10 to
/// 0.115 measured (from memory).
constexpr double kJetSpread = 0.11;

/// Mixing length over half width of a plane jet that spreads by `spread`. Derived: with l = c x the similar
/// solution (Tollmien 1926) has its velocity a function of y / (a x), a^3 = 2 c^2, and falls to half at
/// y = 0.9555 a x, so that l / (spread x) = sqrt((spread / 0.9555)^3 / 2) / spread.
double jet_mixing_ratio(double spread = kJetSpread);

/// Exchange of all cells.
struct Exchange {
  Array2 mass;  ///< net, into the cell [kg/s]
  Array2 out;  ///< the part that leaves, <= 0 [kg/s]: it takes the layer's momentum along; what enters brings
               ///< none but `brought`
  Array2 heat;  ///< brought in, against T_ref [W]
  /// Momentum along the axes that sources bring into a cell [N]; empty where none does.
  std::array<Array2, 2> brought{};
};

/// Whether a source of the problem brings momentum.
bool brings_momentum(const Problem& problem);

/// Fills `exchange` (shaped beforehand) for a state; `volume` are the cells' volumes [m3].
void set_exchange(const Problem& problem, const Array2& volume, const State& state, Exchange* exchange);

}  // namespace tuft::flow2d
