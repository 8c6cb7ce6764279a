// The balances of the discrete equations: what is left over in every volume for a given state.
#pragma once

#include <array>

#include "solver/flow2d/array2.hpp"
#include "solver/flow2d/laws.hpp"
#include "solver/flow2d/problem.hpp"
#include "solver/flow2d/state.hpp"

namespace tuft::flow2d {

/// Geometry of one velocity component. "Along" is the component's own direction, "cross" the other.
/// Every array but `shear` and `stretch` has the shape of the component (faces).
struct ComponentMesh {
  Mask active;     ///< 1: the velocity is unknown (open face between two air cells, or an outlet)
  Array2 area;     ///< open area, depth included; 0 where blocked [m2]
  Array2 volume;   ///< of the momentum volume around the face [m3]
  Array2 depth;    ///< depth of the layer at the face [m]
  Array2 shear;    ///< area over distance between neighbours across, at the corner below (cross index) [m];
                   ///< one longer across than the component, 0 at rims and behind walls
  Array2 stretch;  ///< cells: area over distance between the two faces along, 0 beside a drag law [m]
  Array2 wall;     ///< area over distance to the walls that shear the volume [m]
  Array2 wall_speed;  ///< the same times the walls' own speed [m2/s]
};

struct Mesh {
  std::array<ComponentMesh, 2> component;
  Array2 depth;                            ///< cells [m]
  Array2 volume;                           ///< cells [m3]
  std::array<std::vector<Edge>, 4> edges;  ///< every side filled in

  explicit Mesh(const Problem& problem);
};

/// Left-over of each balance, positive where the stored quantity would grow. Same shape as a State:
///   velocity    momentum [N] on active faces, 0 elsewhere             (docs/field.md, F2)
///   pressure    mass [kg/s] in air cells, 0 in solids                 (F1)
///   temperature heat [W] in every cell                                (F3)
class Residual {
 public:
  /// `problem` must outlive the object.
  explicit Residual(const Problem& problem);

  void evaluate(const State& state, State* out);

  /// The mass balance alone, into out->pressure; mass flows and density are those of `state` afterwards.
  void evaluate_mass(const State& state, State* out);

  /// What the cells exchange with spaces the caller knows of, added to every evaluation from now on as it
  /// stands; nullptr: nothing. Must outlive the evaluations. Its shape is that of the cells.
  void set_beyond(const Exchange* beyond) { beyond_ = beyond; }

  /// Density at an open face through which air moves at `velocity` [kg/m3], of the last evaluation.
  double face_density(int d, int i, int j, double velocity) const;

  /// Mass flows through faces [kg/s] of the last evaluation, + in +x and +y.
  const std::array<Array2, 2>& mass_flow() const { return flow_; }
  /// Heat flows through faces [W] of the last evaluation, carried, cp (T - T_ref), and conducted together.
  const std::array<Array2, 2>& heat_flow() const { return heat_; }
  /// Heat conductances of faces [W/K].
  const std::array<Array2, 2>& conductance() const { return conductance_; }
  /// What cells exchanged with spaces beyond in the last evaluation.
  const Exchange& exchange() const { return exchange_; }
  /// Heat that cells lost through walls in the last evaluation [W]; empty without wall losses.
  const Array2& lost_heat() const { return lost_; }
  /// Heat that held solids gave to what is beside them in the last evaluation [W]; empty without any.
  const Array2& given_heat() const { return given_heat_; }
  /// Between the air of channels and their metal in the last evaluation: conductance [W/K], and the heat that
  /// the metal gave [W]; empty without any.
  const Array2& channel_conductance() const { return channel_conductance_; }
  const Array2& channel_heat() const { return channel_heat_; }
  const Array2& density() const { return density_; }
  const Array2& viscosity() const { return viscosity_; }
  const Array2& conductivity() const { return conductivity_; }
  /// Whether cells exchange anything at all.
  bool exchanges() const { return exchanges_; }
  /// Slopes squared below which the limiter lets a profile pass as it is [1/s2], [K2/m2].
  double small_velocity_slope() const;
  double small_temperature_slope() const;

  const Problem& problem() const { return problem_; }
  const Mesh& mesh() const { return mesh_; }
  /// What residuals are measured against. Limiters keep to the scales of the problem itself, so that a
  /// solution does not depend on the way it was found.
  const Scales& scales() const { return scales_; }
  void set_scales(const Scales& scales) { scales_ = scales; }

 private:
  void set_properties(const State& state);
  void set_all_exchange(const State& state);
  double rim_pressure(int d, bool high, int c, double velocity, int i, int j) const;
  void set_conductance();
  void set_mass_flow(const State& state);
  template <int D>
  void add_momentum_along(const State& state);
  template <int D>
  void add_momentum_across(const State& state);
  template <int D>
  void set_rim_across(const State& state);
  template <int D>
  void balance_momentum(const State& state, State* out) const;
  void balance_mass(State* out) const;
  template <int D>
  void set_heat_flow(const State& state);
  void set_rim_heat(const State& state);
  void balance_heat(const State& state, State* out);

  const Problem& problem_;
  Mesh mesh_;
  Scales scales_;
  const Scales limiter_scales_;
  bool constant_ = false;  ///< viscosity and conductivity do not vary
  Array2 density_, buoyancy_, viscosity_, conductivity_;
  Array2 lost_, given_heat_, channel_conductance_, channel_heat_;
  Exchange exchange_;
  const Exchange* beyond_ = nullptr;  ///< given by the caller
  bool exchanges_ = false;            ///< there are sources
  std::array<Array2, 2> flow_;        ///< of mass
  std::array<Array2, 2> heat_, conductance_;
  std::array<Array2, 2> along_, across_;  ///< momentum flows at cell centres, at corners
};

}  // namespace tuft::flow2d
