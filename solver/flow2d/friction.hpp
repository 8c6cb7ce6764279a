// Friction of a thin layer on the two faces it runs between.
#pragma once

#include <cmath>

#include "solver/flow2d/problem.hpp"

namespace tuft::field {

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
  const auto D = static_cast<std::size_t>(d);
  const Array2& a = problem.drag_viscous[D];
  const Array2& b = problem.drag_inertial[D];
  return (a.empty() ? 0.0 : a(i, j) * viscosity) + (b.empty() ? 0.0 : b(i, j) * density * std::abs(velocity));
}

}  // namespace tuft::field
