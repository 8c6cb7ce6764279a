// Derivatives of the momentum balance (docs/field.md, F2), term by term as momentum.cpp adds them up.
#include <cmath>
#include <cstddef>

#include "solver/flow2d/laws.hpp"
#include "solver/flow2d/slopes.hpp"

namespace tuft::flow2d {
namespace {

// Places in the stencil of a momentum balance.
constexpr int kOwn = 0, kBefore = 1, kAfter = 2, kBelow = 3, kAbove = 4;
constexpr int kPressure = 9, kWarmth = 11;  // of the cell before; the cell after follows

/// The other component at the low (0) or high (1) face across of the cell before (0) or after (1).
constexpr int other(int cell, int face) { return 5 + 2 * face + cell; }

/// Temperature of the cell before (0) or after (1) in the row below (-1), own (0), above (1).
constexpr int warmth(int cell, int row) { return row == 0 ? 11 + cell : row > 0 ? 13 + cell : 15 + cell; }

}  // namespace

template <int D>
Slopes::Value Slopes::value_along(int i, int j, double carried) const {
  constexpr int I = D == 0 ? 1 : 0, J = D == 0 ? 0 : 1;
  const Array2& u = state_.velocity[D];
  const Axis& axis = problem_.grid.axis(D);
  const auto& x = axis.faces();
  const int a = D == 0 ? i : j;
  const bool forward = carried >= 0.0 && a > 0, back = carried < 0.0 && a + 2 <= axis.n();
  const double lo = u(i, j), hi = u(i + I, j + J);
  if (problem_.momentum_scheme == Convection::central || (!forward && !back)) return weighted(0.5, lo, hi);
  if (problem_.momentum_scheme == Convection::upwind) {
    const double half = 0.5 * problem_.factor_at(i, j);
    return upwind(carried, half * (carry_[D](i, j) + carry_[D](i + I, j + J)), 0.5, lo, hi);
  }
  const double face = axis.centres()[a], small = residual_.small_velocity_slope();
  if (forward) return limited({x[a - 1], x[a], x[a + 1], face}, u(i - I, j - J), lo, hi, small, true);
  return limited({x[a + 2], x[a + 1], x[a], face}, u(i + 2 * I, j + 2 * J), hi, lo, small, false);
}

template <int D>
Slopes::Value Slopes::value_across(int i, int j, double carried, double carries) const {
  constexpr int I = D == 0 ? 0 : 1, J = D == 0 ? 1 : 0;
  const Array2& u = state_.velocity[D];
  const Axis& cross = problem_.grid.axis(1 - D);
  const auto& y = cross.centres();
  const int c = D == 0 ? j : i;
  const double face = cross.faces()[c], reach = (face - y[c - 1]) / (y[c] - y[c - 1]);
  const bool forward = carried >= 0.0 && c > 1, back = carried < 0.0 && c + 1 < cross.n();
  const double lo = u(i - I, j - J), hi = u(i, j), small = residual_.small_velocity_slope();
  if (problem_.momentum_scheme == Convection::central || (!forward && !back))
    return weighted(1.0 - reach, lo, hi);
  if (problem_.momentum_scheme == Convection::upwind) return upwind(carried, carries, 1.0 - reach, lo, hi);
  if (forward) return limited({y[c - 2], y[c - 1], y[c], face}, u(i - 2 * I, j - 2 * J), lo, hi, small, true);
  return limited({y[c + 1], y[c], y[c - 1], face}, u(i + I, j + J), hi, lo, small, false);
}

/// Momentum through the centre of cell (i, j), the velocity at whose low face sits at place `low`.
template <int D>
void Slopes::add_along(int i, int j, int low, double sign, Stencil17* s) const {
  constexpr int I = D == 0 ? 1 : 0, J = D == 0 ? 0 : 1;
  const int high = low == kOwn ? kAfter : kOwn;
  const Array2& u = state_.velocity[D];
  const Array2& flow = residual_.mass_flow()[D];
  const double half = 0.5 * problem_.factor_at(i, j);
  const double carried = half * (flow(i, j) + flow(i + I, j + J));
  const double lo = u(i, j), hi = u(i + I, j + J);
  const Value weight = value_along<D>(i, j, carried);
  const double slab = mesh_.component[D].stretch(i, j);
  const double shear = residual_.viscosity()(i, j) * slab;
  s->at[low] += sign * (half * carry_[D](i, j) * weight.value + carried * weight.low + shear);
  s->at[high] += sign * (half * carry_[D](i + I, j + J) * weight.value + carried * weight.high - shear);
  // Of the densities that the momentum is carried with, that of the cell beyond is a far slope.
  const ByWarmth &before = flow_by_warmth_[D](i, j), &after = flow_by_warmth_[D](i + I, j + J);
  const double warmer = sign * half * weight.value;
  s->at[kWarmth] += warmer * (low == kOwn ? before.before : before.after + after.before);
  s->at[kWarmth + 1] += warmer * (low == kOwn ? before.after + after.before : after.after);
  const double density = residual_.density()(i, j), width = problem_.grid.axis(D).widths()[D == 0 ? i : j];
  const double turned =
      residual_.exchanges() ? residual_.exchange().mass(i, j) / (density * mesh_.volume(i, j)) * width : 0.0;
  s->at[kWarmth + (low == kOwn ? 1 : 0)] -= sign * slab *
                                            (viscosity_(i, j) * (hi - lo - turned) +
                                             residual_.viscosity()(i, j) * turned * density_(i, j) / density);
}

/// Momentum through the corner below (which comes in) or above (which goes) between neighbours across.
template <int D>
void Slopes::add_corner(int i, int j, bool above, Stencil17* s) const {
  constexpr int I = D == 0 ? 0 : 1, J = D == 0 ? 1 : 0;  // one step across
  const int ci = above ? i + I : i, cj = above ? j + J : j;
  const double sign = above ? -1.0 : 1.0;
  const int a = D == 0 ? i : j, n = problem_.grid.axis(D).n();
  const Array2& u = state_.velocity[D];
  const Array2& flow = residual_.mass_flow()[1 - D];
  const int low = above ? kOwn : kBelow, high = above ? kAbove : kOwn, row = above ? 0 : -1;
  double carried = 0.0, carries = 0.0, viscosity = 0.0;
  const double each = a == 0 || a == n ? 1.0 : 0.5;
  double share[2] = {0.0, 0.0};
  for (int side = 0; side < 2; ++side) {
    const int cell = a - 1 + side;
    if (cell < 0 || cell >= n) continue;
    const int x = D == 0 ? cell : ci, y = D == 0 ? cj : cell;
    share[side] = 0.25 * (problem_.factor_at(x, y) + problem_.factor_at(x - I, y - J));
    carried += share[side] * flow(x, y);
    carries += share[side] * carry_[1 - D](x, y);
    viscosity += each * 0.5 * (residual_.viscosity()(x, y) + residual_.viscosity()(x - I, y - J));
  }
  const double lo = u(ci - I, cj - J), hi = u(ci, cj);
  const Value weight = value_across<D>(ci, cj, carried, carries);
  const double length = mesh_.component[D].shear(ci, cj);
  s->at[low] += sign * (carried * weight.low + viscosity * length);
  s->at[high] += sign * (carried * weight.high - viscosity * length);
  for (int side = 0; side < 2; ++side) {
    const int cell = a - 1 + side;
    if (cell < 0 || cell >= n) continue;
    const int x = D == 0 ? cell : ci, y = D == 0 ? cj : cell;
    s->at[other(side, above ? 1 : 0)] += sign * share[side] * carry_[1 - D](x, y) * weight.value;
    const ByWarmth& warmer = flow_by_warmth_[1 - D](x, y);
    s->at[warmth(side, row)] += sign * share[side] * weight.value * warmer.before;
    s->at[warmth(side, row + 1)] += sign * share[side] * weight.value * warmer.after;
    const double sheared = -sign * each * 0.5 * length * (hi - lo);
    s->at[warmth(side, row)] += sheared * viscosity_(x - I, y - J);
    s->at[warmth(side, row + 1)] += sheared * viscosity_(x, y);
  }
}

/// Momentum through the rim that lies across.
template <int D>
void Slopes::add_rim_across(int i, int j, bool above, Stencil17* s) const {
  const int a = D == 0 ? i : j, n = problem_.grid.axis(D).n();
  const auto& edges = mesh_.edges[(D == 0 ? 2 : 0) + (above ? 1 : 0)];
  const Array2& flow = residual_.mass_flow()[1 - D];
  const double sign = above ? -1.0 : 1.0;  // also of flow inwards
  for (int side = 0; side < 2; ++side) {
    const int cell = a - 1 + side;
    if (cell < 0 || cell >= n) continue;
    const int x = D == 0 ? cell : i, y = D == 0 ? j : cell;
    const int fx = D == 1 && above ? x + 1 : x, fy = D == 0 && above ? y + 1 : y;
    const double half = 0.5 * problem_.factor_at(x, y), carried = half * flow(fx, fy);
    const Edge& e = edges[cell];
    double value = e.tangential;
    if (e.kind != EdgeKind::inflow) {
      if (carried * sign > 0.0) continue;
      value = state_.velocity[D](i, j);
      s->at[kOwn] += sign * carried;
    }
    s->at[other(side, above ? 1 : 0)] += sign * half * carry_[1 - D](fx, fy) * value;
    const ByWarmth& warmer = flow_by_warmth_[1 - D](fx, fy);
    s->at[warmth(side, 0)] += sign * half * value * (above ? warmer.before : warmer.after);
  }
}

/// Momentum and pressure at a rim the component passes through.
template <int D>
void Slopes::add_rim_along(int i, int j, Stencil17* s) const {
  constexpr int I = D == 0 ? 1 : 0, J = D == 0 ? 0 : 1;
  const int a = D == 0 ? i : j, c = D == 0 ? j : i;
  const bool high = a > 0;
  const int ci = high ? i - I : i, cj = high ? j - J : j;
  const double u = state_.velocity[D](i, j), inwards = high ? -u : u;
  const Edge& e = mesh_.edges[2 * D + (high ? 1 : 0)][c];
  const double out = (high ? -1.0 : 1.0) * problem_.factor_at(ci, cj);
  s->at[kOwn] += 2.0 * out * carry_[D](i, j) * u;
  const ByWarmth& warmer = flow_by_warmth_[D](i, j);
  s->at[kWarmth + (high ? 0 : 1)] += out * u * (high ? warmer.before : warmer.after);
  if (inwards > 0.0) s->at[kOwn] -= 2.0 * e.inertial_in * carry_[D](i, j) * std::abs(u);
}

template <int D>
void Slopes::add_friction(int i, int j, Stencil17* s) const {
  constexpr int I = D == 0 ? 1 : 0, J = D == 0 ? 0 : 1;
  const int a = D == 0 ? i : j, n = problem_.grid.axis(D).n();
  const int before = a == 0 ? 1 : 0, after = a == n ? 0 : 1;  // at a rim both are the one cell there is
  const int bi = before == 1 ? i : i - I, bj = before == 1 ? j : j - J;
  const int fi = after == 0 ? i - I : i, fj = after == 0 ? j - J : j;
  const double u = state_.velocity[D](i, j), volume = mesh_.component[D].volume(i, j);
  const double density = 0.5 * (residual_.density()(bi, bj) + residual_.density()(fi, fj));
  const double viscosity = 0.5 * (residual_.viscosity()(bi, bj) + residual_.viscosity()(fi, fj));
  double by_density = 0.0, by_viscosity = 0.0;  // of the force per volume
  if (problem_.is_porous(D, i, j)) {
    const Array2 &viscous = problem_.drag_viscous[D], &inertial = problem_.drag_inertial[D];
    const double A = viscous.empty() ? 0.0 : viscous(i, j), B = inertial.empty() ? 0.0 : inertial(i, j);
    s->at[kOwn] -= volume * (A * viscosity + 2.0 * B * density * std::abs(u));
    by_density = B * std::abs(u) * u;
    by_viscosity = A * u;
  } else if (problem_.layer_friction) {
    const Array2& w = state_.velocity[1 - D];
    const double across = 0.25 * (w(bi, bj) + w(bi + J, bj + I) + w(fi, fj) + w(fi + J, fj + I));
    const double speed = std::sqrt(u * u + across * across), depth = mesh_.component[D].depth(i, j);
    const double friction = layer_friction(density, viscosity, depth, speed);
    // f = l (1 + r^4)^(1/4), l ~ mu, r^4 ~ (rho speed / mu)^3: the share of turbulence, as an exponent.
    const double laminar = 12.0 * viscosity / (depth * depth), quarter = laminar / friction;
    const double turbulent = 0.75 * (1.0 - quarter * quarter * quarter * quarter);
    s->at[kOwn] -= volume * friction;
    if (speed > 0.0) {
      const double by_speed = volume * u * friction * turbulent / (speed * speed);
      s->at[kOwn] -= by_speed * u;
      for (const int face : {0, 1}) {
        s->at[other(before, face)] -= by_speed * across * 0.25;
        s->at[other(after, face)] -= by_speed * across * 0.25;
      }
    }
    by_density = u * friction * turbulent / density;
    by_viscosity = u * friction * (1.0 - turbulent) / viscosity;
  }
  s->at[kWarmth + before] -=
      0.5 * volume * (by_density * density_(bi, bj) + by_viscosity * viscosity_(bi, bj));
  s->at[kWarmth + after] -=
      0.5 * volume * (by_density * density_(fi, fj) + by_viscosity * viscosity_(fi, fj));
}

template <int D>
Stencil17 Slopes::momentum(int i, int j) const {
  constexpr int I = D == 0 ? 1 : 0, J = D == 0 ? 0 : 1;
  Stencil17 s{};
  const Axis& axis = problem_.grid.axis(D);
  const int a = D == 0 ? i : j, c = D == 0 ? j : i, n = axis.n();
  const bool low = a == 0, high = a == n;
  const ComponentMesh& mesh = mesh_.component[D];
  const double u = state_.velocity[D](i, j);
  if (!low) add_along<D>(i - I, j - J, kBefore, 1.0, &s);
  if (!high) add_along<D>(i, j, kOwn, -1.0, &s);
  if (low || high) add_rim_along<D>(i, j, &s);
  if (c > 0)
    add_corner<D>(i, j, false, &s);
  else
    add_rim_across<D>(i, j, false, &s);
  if (c + 1 < problem_.grid.axis(1 - D).n())
    add_corner<D>(i, j, true, &s);
  else
    add_rim_across<D>(i, j, true, &s);

  double viscosity = 0.0;
  const double area = mesh.area(i, j), slip = mesh.wall_speed(i, j) - mesh.wall(i, j) * u;
  for (int side = 0; side < 2; ++side) {
    const bool rim = side == 0 ? low : high;  // there is the other cell only, and it counts twice
    const int cell = rim ? 1 - side : side;
    const int x = cell == 0 ? i - I : i, y = cell == 0 ? j - J : j;
    viscosity += 0.5 * residual_.viscosity()(x, y);
    s.at[kWarmth + cell] += 0.5 * viscosity_(x, y) * slip;
    if (rim) continue;
    const double half = 0.5 * axis.widths()[side == 0 ? a - 1 : a];
    s.at[kWarmth + side] += area * problem_.gravity[D] * half * buoyancy_(x, y);
    s.at[kPressure + side] += side == 0 ? area : -area;
    if (residual_.exchanges()) s.at[kOwn] += 0.5 * problem_.factor_at(x, y) * residual_.exchange().out(x, y);
  }
  s.at[kOwn] -= viscosity * mesh.wall(i, j);
  add_friction<D>(i, j, &s);
  return s;
}

/// Their densities carry momentum into the cell before and out of that after.
template <int D>
std::array<double, 2> Slopes::momentum_by_far_warmth(int i, int j) const {
  constexpr int I = D == 0 ? 1 : 0, J = D == 0 ? 0 : 1;
  const int a = D == 0 ? i : j, n = problem_.grid.axis(D).n();
  const Array2& flow = residual_.mass_flow()[D];
  const auto carried = [&](int x, int y, double by_warmth) {
    if (by_warmth == 0.0) return 0.0;
    const double half = 0.5 * problem_.factor_at(x, y);
    return half * by_warmth * value_along<D>(x, y, half * (flow(x, y) + flow(x + I, y + J))).value;
  };
  return {a > 1 ? carried(i - I, j - J, flow_by_warmth_[D](i - I, j - J).before) : 0.0,
          a + 1 < n ? -carried(i, j, flow_by_warmth_[D](i + I, j + J).after) : 0.0};
}

template std::array<double, 2> Slopes::momentum_by_far_warmth<0>(int i, int j) const;
template std::array<double, 2> Slopes::momentum_by_far_warmth<1>(int i, int j) const;
template Stencil17 Slopes::momentum<0>(int i, int j) const;
template Stencil17 Slopes::momentum<1>(int i, int j) const;

}  // namespace tuft::flow2d
