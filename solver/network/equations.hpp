// The network's equations: residual and analytic derivatives, element by element.
#pragma once

#include <Eigen/Core>
#include <vector>

#include "solver/elements/tall_opening.hpp"
#include "solver/network/graph.hpp"

namespace tuft::network {

/// The unknowns, in the order of the graph. Element flows and pressures together (Todini & Pilati 1988, from
/// memory), so that fan curves with a hump, stopped fans and zero flow need no special case.
struct State {
  Eigen::VectorXd flow;         ///< net mass flow, openings then fans [kg/s], + from a to b
  Eigen::VectorXd pressure;     ///< of each node at its reference point, against still ambient air [Pa]
  Eigen::VectorXd temperature;  ///< of each node [K]
};

/// One element at one state. `imbalance` is the momentum residual [Pa]; forward and backward are gross mass
/// flows, exchange under heavier air included [kg/s]. `*_m`, `*_ta`, `*_tb` are partial derivatives by net
/// flow and by the temperatures of sides a and b.
struct ElementState {
  double imbalance = 0.0;
  double slope = 0.0;  ///< d(drop)/d(flow) [Pa s/kg]
  double imbalance_ta = 0.0, imbalance_tb = 0.0;
  double forward = 0.0, forward_m = 0.0, forward_ta = 0.0, forward_tb = 0.0;
  double backward = 0.0, backward_m = 0.0, backward_ta = 0.0, backward_tb = 0.0;
  double exchange = 0.0;  ///< part of both that crosses under heavier air
  double head = 0.0;      ///< p'_a - p'_b at the element's centre [Pa]
  double span = 0.0;      ///< change of that head over the element's height, bottom to top [Pa], signed
};

/// Magnitudes that make residuals comparable; all > 0.
struct Scales {
  double pressure = 1.0;     ///< [Pa]
  double flow = 1.0;         ///< [kg/s]
  double heat = 1.0;         ///< [W]
  double temperature = 1.0;  ///< [K]
};

/// Conduction through the still air in and around an opening of area A [m2] and depth l [m], as a disc
/// between two half-spaces (Weber's disc: 1/(2 k d) on either side) and a rod between them: 1 / (1/(k d) +
/// l/(k A)) [W/K].
double still_air_conductance(double area, double depth, double conductivity);

/// Evaluates the equations of one graph. Keeps references to nothing but the graph, which must outlive it.
///
///   element:  p'_a(x) - p'_b(x) - drop(m) = 0,  p'_i(x) = P_i + (rho_i - rho_amb) g.(x - x_i)   (theory.md,
///   N1) mass:     sum of m into node i = 0                                                              (N2)
///   energy:   sum of (cp G_in + k d) (T_from - T_i) + power_i - UA_i (T_i - T_amb) = 0              (N3)
///
/// k d is what still air conducts through an opening of equivalent diameter d (still_air_conductance): a few
/// mW/K, which only matters in a dead end, where without it the temperature would hang on nothing.
class Equations {
 public:
  explicit Equations(const Graph& graph);

  int n_openings() const { return static_cast<int>(graph_->openings.size()); }
  int n_fans() const { return static_cast<int>(graph_->fans.size()); }
  int n_flows() const { return n_openings() + n_fans(); }
  int n_nodes() const { return static_cast<int>(graph_->nodes.size()); }
  const Graph& graph() const { return *graph_; }
  const Scales& scales() const { return scales_; }

  /// Ends of element `e` (openings then fans): node indices or kOutside.
  int side_a(int e) const { return ends_[e].a; }
  int side_b(int e) const { return ends_[e].b; }

  /// Specific heat capacity used throughout [J/kg/K]: that of ambient air.
  double heat_capacity() const { return heat_capacity_; }
  double ambient_density() const { return ambient_density_; }

  /// State with everything at rest and at ambient temperature.
  State at_rest() const;

  /// Evaluates every element at `x`. Allocates nothing.
  void evaluate(const State& x);
  const ElementState& element(int e) const { return elements_[e]; }

  /// Heat conducted by the still air in element `e` per kelvin between its sides [W/K].
  double conductance(int e) const { return e < n_openings() ? geometry_[e].conductance : 0.0; }

  /// Net mass flow into each node [kg/s] and net heat into its air [W] of the state last evaluated.
  /// Sized by the caller (n_nodes).
  void node_residuals(const State& x, Eigen::VectorXd& mass, Eigen::VectorXd& heat) const;

 private:
  struct Ends {
    int a, b;
    double lever_a, lever_b;  // g.(x - x_i) [m2/s2]: what a density difference is multiplied by
  };
  struct OpeningGeometry {
    double span_lever;      // |g| times the opening's height along gravity [m2/s2]
    double exchange_lever;  // component of g against the normal from a to b [m/s2]; + when b lies above a
    elements::ExchangeLaw exchange;
    double conductance;  // of its still air [W/K]
  };
  struct Side {  // air on one side of an element
    double temperature, density, density_t, viscosity, viscosity_t;
  };

  struct OpeningAir;

  Side side(const State& x, int node) const;
  const Side& air_of(int node) const;
  double pressure_at_lever(const State& x, int node, const Side& air, double lever) const;
  OpeningAir opening_air(const Opening& opening, const OpeningGeometry& geometry, const Side& a,
                         const Side& b) const;
  void add_exchange(const OpeningGeometry& geometry, const OpeningAir& air, const Side& a, const Side& b,
                    ElementState& s) const;
  void evaluate_opening(const State& x, int e);
  void evaluate_fan(const State& x, int e);
  void set_scales();

  const Graph* graph_;
  std::vector<Ends> ends_;
  std::vector<OpeningGeometry> geometry_;
  std::vector<ElementState> elements_;
  std::vector<Side> node_air_;
  Side ambient_air_{};
  double heat_capacity_ = 0.0;
  double ambient_density_ = 0.0;
  Scales scales_;
};

}  // namespace tuft::network
