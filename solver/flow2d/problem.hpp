// What is to be solved: air, grid, solids, edges, sources. Plain data; nothing here knows how it is solved.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "solver/flow2d/array2.hpp"
#include "solver/physics/fin_heat.hpp"

namespace tuft::flow2d {

/// One axis of a grid: n cells between n+1 increasing faces [m].
class Axis {
 public:
  /// @throws std::invalid_argument when fewer than two faces are given, or they do not increase.
  explicit Axis(std::vector<double> faces);

  int n() const { return static_cast<int>(widths_.size()); }
  double length() const { return faces_.back() - faces_.front(); }
  const std::vector<double>& faces() const { return faces_; }      ///< n+1 [m]
  const std::vector<double>& centres() const { return centres_; }  ///< n, midway between the faces [m]
  const std::vector<double>& widths() const { return widths_; }    ///< n [m]

 private:
  std::vector<double> faces_, centres_, widths_;
};

/// n equal cells from `from` to `to` [m].
Axis uniform_axis(int n, double from, double to);

/// A Cartesian grid of nx by ny cells.
struct Grid {
  Axis x, y;
  int nx() const { return x.n(); }
  int ny() const { return y.n(); }
  const Axis& axis(int d) const { return d == 0 ? x : y; }
};

enum class DensityLaw {
  boussinesq,  ///< constant in every term but buoyancy, where it is linear in temperature
  ideal_gas    ///< rho = rho_ref T_ref / T at constant background pressure, in every term
};

/// The air. Reference values hold at `temperature`, which is also that of the still outside air.
struct Fluid {
  DensityLaw law = DensityLaw::ideal_gas;
  double temperature = 293.15;      ///< T_ref [K]
  double density = 1.204;           ///< rho_ref [kg/m3]
  double expansion = 1.0 / 293.15;  ///< beta [1/K], used by the Boussinesq law only
  double viscosity = 1.82e-5;       ///< mu_ref [Pa s]
  double conductivity = 0.0257;     ///< k_ref [W/(m K)]
  double specific_heat = 1006.0;    ///< cp [J/(kg K)]
  /// Sutherland's temperature [K] of viscosity and conductivity (constant Prandtl number); 0: both constant.
  double sutherland = 0.0;

  double density_at(double t) const;        ///< the density that carries mass and momentum [kg/m3]
  double buoyancy_density(double t) const;  ///< rho - rho_ref as buoyancy feels it [kg/m3]
  double transport_ratio(double t) const;   ///< mu(T)/mu_ref = k(T)/k_ref [-]
};

enum class Side { left = 0, right = 1, bottom = 2, top = 3 };
enum class EdgeKind {
  wall,    ///< no flow through; moves along itself with `tangential`
  inflow,  ///< velocity given (may also point outwards)
  outlet   ///< p' given; air may leave, or enter with `temperature`; behind a barrier it slips and no more
};
enum class HeatKind { adiabatic, temperature, flux };

/// The condition on one cell's face at the rim of the grid.
struct Edge {
  EdgeKind kind = EdgeKind::wall;
  double normal = 0.0;      ///< velocity along the axis the face is normal to, + in +x or +y [m/s]
  double tangential = 0.0;  ///< velocity along the other axis, + in +x or +y [m/s]
  double pressure = 0.0;    ///< p' beyond an outlet [Pa]
  /// Loss of an outlet on the velocity of air that enters [-], >= 0:  p_beyond - p'_rim = inertial_in rho w^2
  /// (F20); 0: p' holds right at the rim.
  double inertial_in = 0.0;
  HeatKind heat = HeatKind::adiabatic;
  double temperature = 293.15;  ///< of the wall, or of the air that enters [K]
  double flux = 0.0;            ///< heat into the grid [W/m2]
};

enum class Convection {
  central,  ///< linear interpolation; second order, safe where the cell Peclet number is small
  limited,  ///< slope-limited (van Albada et al. 1982): second order, bounded at fronts
  upwind    ///< first order
};

/// Off by default: no mixing length. Viscosity and conductivity grow by
///     mu_t = rho l^2 |S|,   k_t = cp mu_t / Pr_t,   |S|^2 = 2 (u_x^2 + v_y^2) + (u_y + v_x)^2
/// (docs/field.md, F26; Prandtl 1925, from memory).
struct Closure {
  Array2 mixing_length;  ///< l, cells, >= 0 [m]
  /// Pr_t [-], > 0. 0.7 lies between what plane jets (0.5) and walls (0.9) are taken to have (from memory).
  double turbulent_prandtl = 0.7;

  bool empty() const { return mixing_length.empty(); }
  /// The first broken rule as a sentence, empty when all is well.
  std::string problem(const Grid& grid) const;
};

/// Channels between fins whose metal has one temperature, as cells [i0, i1) by [j0, j1) of one block, in rows
/// along the channels. Every row is an equal part of the stack (docs/field.md, F41).
struct HeatedChannels {
  physics::FinStackHeat fins;  ///< of the whole stack
  double metal = 293.15;       ///< temperature [K]
  int along = 0;               ///< axis the channels lead along
  int i0 = 0, i1 = 0, j0 = 0, j1 = 0;

  int cells_in_row() const { return along == 0 ? i1 - i0 : j1 - j0; }
  int rows() const { return along == 0 ? j1 - j0 : i1 - i0; }
  /// The face across the channels in the middle of a row.
  std::array<int, 2> middle_face(int row) const {
    const int half = cells_in_row() / 2;
    return along == 0 ? std::array<int, 2>{i0 + half, j0 + row} : std::array<int, 2>{i0 + row, j0 + half};
  }
  /// The first broken rule as a sentence, empty when all is well.
  std::string problem(const Grid& grid) const;
};

/// One layer or section of air with solid parts. Arrays left empty take the default named beside them.
/// A section has depth 1 m; a plan layer has its own depth and friction on its two faces.
struct Problem {
  Grid grid{uniform_axis(1, 0.0, 1.0), uniform_axis(1, 0.0, 1.0)};
  Fluid fluid;
  std::array<double, 2> gravity{0.0, 0.0};  ///< [m/s2]
  std::array<std::vector<Edge>, 4> edges;   ///< by Side; ny, ny, nx, nx entries, or empty: resting walls
  Convection momentum_scheme = Convection::limited;
  Convection energy_scheme = Convection::limited;
  bool energy = true;            ///< solve for the temperature (off: T stays as the start has it)
  bool layer_friction = false;   ///< friction on the faces above and below the layer (F7)
  double momentum_factor = 1.0;  ///< of the profile across a layer: 6/5 for a parabola, 1 when flat [-]
  Array2 momentum_share;  ///< cells: multiplies `momentum_factor`; 0 in a porous block, whose own law holds
                          ///< the inertia of its air [-]; default 1

  Mask solid;                 ///< cells, 1 = solid; default none
  Array2 depth;               ///< cells, h [m], default 1
  Array2 solid_conductivity;  ///< cells, used where solid [W/(m K)]; default 0: takes no part in heat flow
  /// Solid cells kept at a temperature, 1 = kept, at `held_temperature` [K]; with a solid_conductivity they
  /// warm the air beside them. Default none.
  Mask held;
  Array2 held_temperature;
  Array2 heat_source;         ///< cells [W/m3]; default 0
  Array2 mass_source;         ///< cells [kg/(m3 s)], + into the grid; default 0
  Array2 source_temperature;  ///< cells, of the air a mass source brings [K]; default T_ref
  /// Cells: velocity of the air a mass source brings [m/s]; default 0. Half of it acts on each of the cell's
  /// two faces, and is lost on one that is shut.
  std::array<Array2, 2> source_velocity;
  Array2 wall_loss;  ///< cells: heat to T_ref through the faces of the layer [W/(m2 K)]; default 0
  /// Cells that exchange air with something the caller brings (Residual::set_beyond): they are no closed
  /// body, and such a problem is none that stands alone.
  Mask coupled;
  std::array<Array2, 2> force;  ///< x-faces (nx+1 by ny), y-faces (nx by ny+1) [N/m3]; default 0
  std::array<Mask, 2> barrier;  ///< faces shut by a wall without thickness, 1 = shut; default none
  /// Porous block on faces: gradient = drag_viscous mu u + drag_inertial rho u |u| (F21), instead of the
  /// layer's friction wherever one of them is not 0; default 0.
  std::array<Array2, 2> drag_viscous, drag_inertial;  ///< [1/m2], [1/m]

  Closure closure;                       ///< turbulence as an added viscosity (F26); default none
  std::vector<HeatedChannels> channels;  ///< heat to and from their air (F41); default none

  bool is_solid(int i, int j) const { return !solid.empty() && solid(i, j) != 0; }
  bool is_held(int i, int j) const { return !held.empty() && held(i, j) != 0; }
  /// Whether a face of component d is shut by a thin wall.
  bool is_barrier(int d, int i, int j) const {
    const Mask& b = barrier[d];
    return !b.empty() && b(i, j) != 0;
  }
  /// Whether face (i, j) of component d lies in a porous block.
  bool is_porous(int d, int i, int j) const {
    const Array2& a = drag_viscous[d];
    const Array2& b = drag_inertial[d];
    return (!a.empty() && a(i, j) != 0.0) || (!b.empty() && b(i, j) != 0.0);
  }
  /// The profile's factor in a cell.
  double factor_at(int i, int j) const {
    return momentum_share.empty() ? momentum_factor : momentum_factor * momentum_share(i, j);
  }
  /// The edge condition of cell `k` along a side; a resting adiabatic wall where none is given.
  Edge edge(Side side, int k) const;
  void set_side(Side side, const Edge& edge);

  /// The first broken rule as a sentence with its name and value, empty when all is well.
  std::string problem() const;
};

}  // namespace tuft::flow2d
