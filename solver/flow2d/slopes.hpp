// Derivatives of the compact balances by the unknowns around each of them.
#pragma once

#include <array>
#include <cmath>
#include <vector>

#include "solver/flow2d/residual.hpp"
#include "solver/flow2d/schemes.hpp"
#include "solver/flow2d/unknowns.hpp"

namespace tuft::flow2d {

/// What one balance changes by per unit of each unknown it depends on, in the order in which Unknowns lists
/// them. "Along" is a component's own direction, "across" the other; before is the lower side along, below
/// the lower side across.
///
///   momentum  own; the component before, after, below, above; the other component at the low face of the
///             cells before, after, at their high face; p before, after; T before, after, before and above,
///             after and above, before and below, after and below
///   mass,     u at the left and right face; v at the lower and upper face; p; T; T left, right, below, above
///   heat
struct Stencil17 {
  double at[17];
};

/// Evaluates these derivatives at the state whose balances `residual` evaluated last, in a compact form, in
/// which a balance depends on its own cell and the eight around it: limiters, eddies and the direction of
/// each flow are held, and what else it depends on is left to `far_slopes`.
class Slopes {
 public:
  /// Both must stay as they are while the object is used.
  Slopes(const Residual& residual, const State& state);

  /// D: component of the momentum balance.
  template <int D>
  Stencil17 momentum(int i, int j) const;
  /// d(momentum balance)/d(temperature) of the cells next but one before and after [N/K].
  template <int D>
  std::array<double, 2> momentum_by_far_warmth(int i, int j) const;
  Stencil17 mass(int i, int j) const;
  Stencil17 heat(int i, int j) const;

  /// d(mass flow through a face)/d(temperature) of the cells before and after it [kg/(s K)].
  struct ByWarmth {
    double before = 0.0, after = 0.0;
  };
  const ByWarmth& flow_by_warmth(int d, int i, int j) const { return flow_by_warmth_[d](i, j); }
  /// d(mass flow)/d(velocity) of a face [kg/m].
  double carry(int d, int i, int j) const { return carry_[d](i, j); }
  /// d(density)/d(temperature) of a cell [kg/(m3 K)].
  double density(int i, int j) const { return density_(i, j); }

 private:
  /// Value at a face, and the weights of the nodes before and after it.
  struct Value {
    double value, low, high;
  };
  static Value weighted(double low, double lo, double hi) {
    return {low * lo + (1.0 - low) * hi, low, 1.0 - low};
  }
  /// The node upstream; `carries` is the flow per velocity. Air at rest has a corner there, and takes the
  /// slope between those to either side, so that mirrored flows have mirrored slopes.
  Value upwind(double flow, double carries, double low, double lo, double hi) const {
    if (std::abs(flow) <= at_rest_ * carries) return weighted(low, lo, hi);
    return weighted(flow > 0.0 ? 1.0 : 0.0, lo, hi);
  }
  /// Limited; the node upstream lies before the face where `forward`.
  static Value limited(const Stencil& x, double far, double up, double down, double small, bool forward) {
    const double w = compact_weight(x, far, up, down, small);
    const double value = face_value(Convection::limited, x, far, up, down, small);
    return forward ? Value{value, 1.0 - w, w} : Value{value, w, 1.0 - w};
  }
  template <int D>
  Value value_along(int i, int j, double carried) const;
  template <int D>
  Value value_across(int i, int j, double carried, double carries) const;
  template <int D>
  void add_along(int i, int j, int low, double sign, Stencil17* s) const;
  template <int D>
  void add_corner(int i, int j, bool above, Stencil17* s) const;
  template <int D>
  void add_rim_across(int i, int j, bool above, Stencil17* s) const;
  template <int D>
  void add_rim_along(int i, int j, Stencil17* s) const;
  template <int D>
  void add_friction(int i, int j, Stencil17* s) const;
  template <int D>
  void add_heat_face(int i, int j, bool high, Stencil17* s) const;
  ByWarmth found_flow_by_warmth(int d, int i, int j) const;
  template <int D>
  void add_mass_face(int i, int j, bool high, double factor, Stencil17* s) const;
  double conductance_slope(int d, int i, int j, bool after) const;

  const Residual& residual_;
  const Problem& problem_;
  const Mesh& mesh_;
  const State& state_;
  const double at_rest_;         ///< velocity below which air is taken to be [m/s]
  std::array<Array2, 2> carry_;  ///< mass flow of a face per velocity [kg/m]
  std::array<Array2T<ByWarmth>, 2> flow_by_warmth_;
  Array2 density_, buoyancy_, viscosity_, conductivity_;  ///< d/dT
};

/// Rows of a Jacobian.
enum class Rows {
  flow,  ///< momentum and mass
  heat,
  all
};

/// d(balance `row`)/d(unknown `column`).
struct FarSlope {
  int row = 0, column = 0;
  double value = 0.0;
};

/// Those that the compact form has no place for; with them it is exact where convection is upwind or central
/// and there are no eddies. By the numbers of `unknowns`, at the state whose balances `residual` evaluated
/// last.
std::vector<FarSlope> far_slopes(const Unknowns& unknowns, const Residual& residual, const State& state);

/// d(content_of)/d(unknown) off the diagonal.
std::vector<FarSlope> far_content_slopes(const Unknowns& unknowns, const Residual& residual,
                                         const State& state);

/// What the momentum balance of a face changes by with what a cell beside it exchanges, as Exchange has it
/// [m/s].
struct FaceByExchange {
  Kind kind = kind_u;
  int i = 0, j = 0;
  double by_mass = 0.0, by_out = 0.0;
};

/// Of the four faces of a cell, at the state whose balances `residual` evaluated last.
std::array<FaceByExchange, 4> momentum_by_exchange(const Residual& residual, const State& state, int i,
                                                   int j);

/// d(balance)/d(unknown) of the compact residual at the state whose balances `residual` evaluated last, into
/// *values, which is as long as the unknowns' pattern and in its order; entries of other rows stay.
void compact_jacobian(const Unknowns& unknowns, const Residual& residual, const State& state, Rows rows,
                      double* values);

}  // namespace tuft::flow2d
