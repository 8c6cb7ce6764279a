// What is to be solved: air, grid, solids, edges, sources. Plain data; nothing here knows how it is solved.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "solver/field/array2.hpp"
#include "solver/field/grid.hpp"

namespace tuft::field {

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
  wall,      ///< no flow through; moves along itself with `tangential`
  symmetry,  ///< no flow through, no shear, no heat
  inflow,    ///< velocity given (may also point outwards)
  outlet     ///< p' given; air may leave, or enter with `temperature`
};
enum class HeatKind { adiabatic, temperature, flux };

/// The condition on one cell's face at the rim of the grid.
struct Edge {
  EdgeKind kind = EdgeKind::wall;
  double normal = 0.0;      ///< velocity along the axis the face is normal to, + in +x or +y [m/s]
  double tangential = 0.0;  ///< velocity along the other axis, + in +x or +y [m/s]
  double pressure = 0.0;    ///< p' at an outlet [Pa]
  HeatKind heat = HeatKind::adiabatic;
  double temperature = 293.15;  ///< of the wall, or of the air that enters [K]
  double flux = 0.0;            ///< heat into the grid [W/m2]
};

enum class Convection {
  central,  ///< linear interpolation; second order, safe where the cell Peclet number is small
  limited,  ///< slope-limited (van Albada et al. 1982): second order, bounded at fronts
  upwind    ///< first order
};

/// An opening from a cell to a space of given pressure and temperature, lying in the cell's own face (above
/// or below a plan layer). Its law, positive for air coming in:  p_out - p' = viscous mu w + inertial rho w
/// |w|, w the mean velocity on `area`, rho that of the upstream side (docs/field.md, F16; the form of
/// elements/face_law.hpp).
struct CellVent {
  int i = 0, j = 0;          ///< cell
  double area = 0.0;         ///< [m2]
  double viscous = 0.0;      ///< [1/m], > 0: keeps the law's slope finite at rest
  double inertial = 0.0;     ///< [-], >= 0
  double pressure = 0.0;     ///< p' beyond [Pa]
  double temperature = 0.0;  ///< of the air beyond [K]
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

  Mask solid;                  ///< cells, 1 = solid; default none
  Array2 depth;                ///< cells, h [m], default 1
  Array2 solid_conductivity;   ///< cells, used where solid [W/(m K)]; default 0: takes no part in heat flow
  Array2 solid_heat_capacity;  ///< cells, rho c used where solid [J/(m3 K)], time-accurate runs only; default
                               ///< 1e6
  Array2 heat_source;          ///< cells [W/m3]; default 0
  Array2 mass_source;          ///< cells [kg/(m3 s)], + into the grid; default 0
  Array2 source_temperature;   ///< cells, of the air a mass source brings [K]; default T_ref
  std::vector<CellVent> vents;  ///< coupled to pressure implicitly
  std::array<Array2, 2> force;  ///< x-faces (nx+1 by ny), y-faces (nx by ny+1) [N/m3]; default 0

  bool is_solid(int i, int j) const { return !solid.empty() && solid(i, j) != 0; }
  /// The edge condition of cell `k` along a side; a resting adiabatic wall where none is given.
  Edge edge(Side side, int k) const;
  void set_side(Side side, const Edge& edge);

  /// The first broken rule as a sentence with its name and value, empty when all is well.
  std::string problem() const;
};

/// The same problem on a grid with half the cells each way: the solver's start for the finer one.
Problem coarsened(const Problem& fine);

}  // namespace tuft::field
