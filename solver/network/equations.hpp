// The network's equations: residual and analytic derivatives, element by element.
#pragma once

#include <Eigen/Core>
#include <vector>

#include "solver/network/graph.hpp"
#include "solver/physics/two_way_flow.hpp"

namespace tuft::network {

/// The unknowns, in the order of the graph. Element flows and pressures together (Todini & Pilati 1988, from
/// memory), so that fan curves with a hump, stopped fans and zero flow need no special case.
struct State {
  Eigen::VectorXd flow;         ///< net mass flow, openings then fans [kg/s], + from a to b
  Eigen::VectorXd pressure;     ///< of each node at its reference point, against still ambient air [Pa]
  Eigen::VectorXd temperature;  ///< of each node, then of each body [K]
};

/// One element at one state. `imbalance` is the momentum residual [Pa]; forward and backward are gross mass
/// flows, exchange under heavier air included [kg/s]. `*_m`, `*_ta`, `*_tb` are partial derivatives by net
/// flow and by the temperatures of sides a and b.
struct ElementState {
  double imbalance = 0.0;
  double slope = 0.0;  ///< d(drop)/d(flow) [Pa s/kg]
  double imbalance_ta = 0.0, imbalance_tb = 0.0;
  double imbalance_sensor = 0.0;  ///< by the temperature a fan's speed follows
  double forward = 0.0, forward_m = 0.0, forward_ta = 0.0, forward_tb = 0.0;
  double backward = 0.0, backward_m = 0.0, backward_ta = 0.0, backward_tb = 0.0;
  double exchange = 0.0;  ///< part of both that crosses under heavier air
  double head = 0.0;      ///< p'_a - p'_b at the element's centre [Pa]
  double span = 0.0;      ///< change of that head over the element's height, bottom to top [Pa], signed
};

/// How heat on a way depends on one element: by its flow and, at that flow, by the temperatures of its sides.
struct ByElement {
  int element = -1;  ///< none
  double flow = 0.0, ta = 0.0, tb = 0.0;
};

/// Heat on one way at one state [W], positive from `from` into `into`, and its partial derivatives by two
/// temperatures and by elements. `against` is the temperature it depends on besides `from`: that of `into`;
/// for a stream that of the air coming to the fins; for air that comes back that of the air let out.
struct LinkState {
  int from = kOutside, into = kOutside, against = kOutside;
  double heat = 0.0, by_from = 0.0, by_against = 0.0;
  ByElement stream;               ///< the flow that takes the heat along
  ByElement outlet;               ///< comes back: the opening that lets the air out
  std::vector<ByElement> others;  ///< comes back: the vents' other openings, HeatLink::intakes then outlets
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

/// Evaluates the equations of one graph (docs/theory.md), which must outlive it: no other reference is kept.
///
///   element:  p'_a(x) - p'_b(x) - drop(m) = 0,  p'_i(x) = P_i + (rho_i - rho_amb) g.(x - x_i)          (N1)
///   mass:     sum of m into node i = 0                                                                  (N2)
///   energy:   sum of (cp G_in + k d) (T_from - T_i) + power_i - UA_i (T_i - T_amb) = 0                 (N3)
///
/// k d is what still air conducts through an opening of equivalent diameter d (still_air_conductance): a few
/// mW/K, which only matters in a dead end, where without it the temperature would depend on nothing.
class Equations {
 public:
  explicit Equations(const Graph& graph);

  int n_openings() const { return static_cast<int>(graph_->openings.size()); }
  int n_fans() const { return static_cast<int>(graph_->fans.size()); }
  int n_flows() const { return n_openings() + n_fans(); }
  int n_nodes() const { return static_cast<int>(graph_->nodes.size()); }
  int n_bodies() const { return static_cast<int>(graph_->bodies.size()); }
  int n_temperatures() const { return n_nodes() + n_bodies(); }
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

  /// Ways for heat apart from the flow; a stream counts three times: for each direction of its flow, and
  /// for the air that stands in it.
  int n_links() const { return static_cast<int>(links_.size()); }
  const LinkState& link(int index) const { return links_[index]; }

  /// Holds a temperature at a value [K]: its heat balance is replaced by that, and what it lacks is
  /// `heat_to_hold`.
  void hold(int temperature, double value);
  void release(int temperature);
  bool is_held(int temperature) const { return held_[temperature] > 0.0; }
  double held_residual(const State& x, int temperature) const {
    return held_[temperature] - x.temperature[temperature];
  }
  /// Heat that has to be added to a held temperature to keep it there [W]; negative: taken away.
  double heat_to_hold(const State& x, int temperature) const;

  /// A temperature of `x` by its index, that of the room included [K].
  double temperature_of(const State& x, int index) const {
    return index == kOutside ? graph_->ambient.temperature : x.temperature[index];
  }

  /// Heat conducted by the still air in element `e` per kelvin between its sides [W/K].
  double conductance(int e) const { return e < n_openings() ? geometry_[e].conductance : 0.0; }

  /// Of the state last evaluated, which is `x`: momentum of every element [Pa], net mass flow into each node
  /// [kg/s], net heat into each temperature [W]; a held temperature's own distance from its value in place of
  /// that, scaled. The first form needs a vector of the right size and allocates nothing.
  void residual(const State& x, Eigen::VectorXd& all) const;
  Eigen::VectorXd residual(const State& x) const {
    Eigen::VectorXd all(residual_scale_.size());
    residual(x, all);
    return all;
  }
  /// Size of each of those (Scales of pressure, flow, heat), and of a change of each unknown in the order
  /// flows, pressures, temperatures (Scales of flow, pressure, temperature).
  const Eigen::VectorXd& residual_scale() const { return residual_scale_; }
  const Eigen::VectorXd& unit_scale() const { return unit_scale_; }

 private:
  struct Ends {
    int a, b;
    double lever_a, lever_b;  // g.(x - x_i) [m2/s2]: what a density difference is multiplied by
  };
  struct OpeningGeometry {
    double span_lever;      // |g| times the opening's height along gravity [m2/s2]
    double exchange_lever;  // component of g against the normal from a to b [m/s2]; + when b lies above a
    physics::ExchangeLaw exchange;
    double purging;      // square of Opening::purging
    double conductance;  // of its still air [W/K]
  };
  struct Side {  // air on one side of an element, and how it moves with its temperature
    double temperature = 0.0;
    physics::SideState air;
    double density_t = 0.0;
    double kinematic_t = 0.0;
    double density_rate = 0.0, viscosity_rate = 0.0;  // of the logarithms [1/K]
  };

  struct OpeningAir;

  Side side(const State& x, int node) const;
  const Side& air_of(int node) const;
  double pressure_at_lever(const State& x, int node, const Side& air, double lever, double outside) const;
  OpeningAir opening_air(const Opening& opening, const OpeningGeometry& geometry, const Side& a,
                         const Side& b) const;
  void add_exchange(const OpeningGeometry& geometry, const OpeningAir& air, const Side& a, const Side& b,
                    ElementState& s) const;
  void evaluate_jets(const State& x);
  void evaluate_opening(const State& x, int e);
  void evaluate_fan(const State& x, int e);
  void make_links();
  void evaluate_links(const State& x);
  void set_stream(const HeatLink& link, const numerics::Sloped& flow, double kelvins, LinkState& s) const;
  static void set_heat(const numerics::Sloped& conductance, double kelvins, LinkState& s);
  void set_still_air(double conductance, double flow, double kelvins, LinkState& s) const;
  void set_recirculation(const HeatLink& link, double kelvins, LinkState& s) const;
  void heat_balances(const State& x, Eigen::Ref<Eigen::VectorXd> heat) const;
  void set_scales();

  const Graph* graph_;
  std::vector<Ends> ends_;
  std::vector<OpeningGeometry> geometry_;
  std::vector<ElementState> elements_;
  std::vector<LinkState> links_;
  std::vector<double> still_conductance_;  // of the air standing in fins [W/K], at the index of its link
  std::vector<double> held_;               // 0: free
  std::vector<double> outside_;            // p' before each opening, where there are jets [Pa]
  std::vector<Side> node_air_;
  Side ambient_air_{};
  double heat_capacity_ = 0.0;
  double ambient_density_ = 0.0;
  Scales scales_;
  Eigen::VectorXd residual_scale_, unit_scale_;
};

}  // namespace tuft::network
