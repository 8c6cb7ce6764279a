// The network as the solver sees it: nodes of well-mixed air, elements between them. Fixed during a solve.
#pragma once

#include <Eigen/Core>
#include <algorithm>
#include <array>
#include <numeric>
#include <string>
#include <vector>

#include "solver/network/plume_stream.hpp"
#include "solver/numerics/curves.hpp"
#include "solver/physics/air.hpp"
#include "solver/physics/face_law.hpp"
#include "solver/physics/fan.hpp"
#include "solver/physics/film.hpp"
#include "solver/physics/fin_heat.hpp"
#include "solver/physics/two_way_flow.hpp"

namespace tuft::network {

/// Element of a list by a signed index.
template <typename T>
typename std::vector<T>::const_reference at(const std::vector<T>& list, Eigen::Index index) {
  return list[index];
}
template <typename T>
typename std::vector<T>::reference at(std::vector<T>& list, Eigen::Index index) {
  return list[index];
}

/// Indices of a list in the order of the names: things are taken in it, so that the order in which a person
/// wrote them does not change a bit.
template <typename Named>
std::vector<int> by_name(const std::vector<Named>& list) {
  std::vector<int> order(list.size());
  std::iota(order.begin(), order.end(), 0);
  std::sort(order.begin(), order.end(), [&](int a, int b) { return list[a].name < list[b].name; });
  return order;
}

using Vec3 = Eigen::Vector3d;

/// Index of the outside: air at ambient temperature, p' = 0 at every height where it is still; before an
/// opening that feels a draught p' is the opening's own (Opening::outside).
constexpr int kOutside = -1;

/// A space of well-mixed air, or a part of a layered one; its unknowns are pressure at the reference point
/// and temperature.
struct Node {
  std::string name;
  Vec3 reference = Vec3::Zero();  ///< [m]
  double power = 0.0;             ///< heat given to its air [W]
  double wall_conductance = 0.0;  ///< to the room [W/K], >= 0
  double capacity = 0.0;          ///< of its air [J/K], > 0 where a transient is wanted
};

/// A solid lump with one temperature: a chip, a heat pipe, the root of a fin stack, a patch of skin.
struct Body {
  std::string name;
  double power = 0.0;     ///< heat it makes [W]
  double capacity = 0.0;  ///< [J/K], > 0 where a transient is wanted
};

/// What carries heat besides the flow.
enum class LinkKind {
  conductance,   ///< a fixed conductance between two temperatures
  stream,        ///< a body that heats what flows through an element (fins)
  surface,       ///< a body's outer surface to still air and surroundings at one temperature
  recirculation  ///< air drawn through one opening that another has let out
};

/// A way for heat that is not carried by the flow itself. Heat is positive from `a` to `b`. Temperatures are
/// counted nodes first, then bodies; kOutside is the room.
struct HeatLink {
  std::string name;
  LinkKind kind = LinkKind::conductance;
  int a = 0, b = kOutside;   ///< stream: `a` the body, `b` unused; reentry: `a` the air let out
  double conductance = 0.0;  ///< conductance: [W/K], >= 0
  double warmer = 0.0;       ///< conductance to outside: what it leads to is so much warmer than the room [K]
  int element = -1;          ///< stream: the opening whose flow is heated; reentry: the one that draws
  double share = 0.0;        ///< reentry: fraction r of the air drawn [-]
  double portion = 1.0;      ///< reentry: part of what the outlet gives that can come back this way [-]
  int outlet = -1;           ///< reentry: the opening that lets the air out
  std::vector<int> intakes;  ///< reentry: other openings of the vent that draws, which share what comes back
  std::vector<int> outlets;  ///< reentry: other openings of the vent that lets the air out
  physics::FinStackHeat fins;  ///< stream: what the body heats the air with
  physics::FilmLaw film;       ///< surface: natural convection for its size and attitude
  double emissivity = 0.0;     ///< surface [-]
  double area = 0.0;           ///< surface [m2]
  double film_factor = 1.0;    ///< surface: times what the law of its film gives [-]
  double radiated = 1.0;       ///< surface: times what it radiates [-]
};

/// What a law takes for laminar: its Reynolds number is |m| length / (area viscosity).
enum class LaminarKind {
  none,     ///< the law holds at any Reynolds number, or nobody gave it a limit
  passage,  ///< a duct between zones
  fins,     ///< channels between fins
  gap       ///< between a face and what it lies on
};
constexpr std::array<const char*, 4> words(LaminarKind) { return {"", "passage", "fins", "gap"}; }
struct LaminarRange {
  LaminarKind kind = LaminarKind::none;
  double length = 0.0;  ///< [m]; where the law's area is not the one it flows through, scaled by their ratio
  double limit = 0.0;   ///< largest Reynolds number the law was made for [-]
};

/// A passive element between two nodes: vent, seam, passage, fin channel, gap, fabric.
/// Flow is positive from `a` to `b`.
struct Opening {
  std::string name;
  int a = 0, b = kOutside;
  physics::FaceLaw law;
  double area = 0.0;           ///< face area the law is stated on [m2], > 0
  Vec3 centre = Vec3::Zero();  ///< where the two nodes' pressures are compared [m]
  Vec3 normal = Vec3::Zero();  ///< unit vector from a to b; zero: no exchange under heavier air
  Vec3 width = Vec3::Zero();   ///< in-plane side vectors of the rectangle [m]; zero: no height
  Vec3 height = Vec3::Zero();
  double depth = 0.0;  ///< along the normal [m]
  LaminarRange laminar;
  double span_left = 1.0;  ///< share of the head over its height that a stream inside leaves to it (N8)
  double purging = 1.0;    ///< weight of flow from b to a among what stops exchange under heavier air (N8)
  double exchange = 1.0;   ///< times the head that drives exchange under heavier air [-]
  PlumeStream plume;       ///< that rises beside it, as its flow rises (N9); default none
  double mixing = 0.0;     ///< air that jets stir across, as much each way [kg/s], >= 0
  double outside = 0.0;    ///< p' of the room's air on the side that is the outside (G8) [Pa]
};

/// The jet of an opening into the room draws on another one beside it with `per_square` m^2 [Pa] (E21), m
/// [kg/s] its flow, where that goes out.
struct Jet {
  int outlet = 0, beside = 0;  ///< openings
  double per_square = 0.0;     ///< [Pa s2/kg2], >= 0
};

/// Index of the temperature a control reads: none.
constexpr int kNoSensor = -2;

/// A fan that drives air from `a` to `b`.
struct FanElement {
  std::string name;
  int a = 0, b = 0;
  physics::FanCurve curve;
  double speed = 0.0;              ///< [rev/s], >= 0; 0 is a stopped rotor
  Vec3 centre = Vec3::Zero();      ///< [m]
  int sensor = kNoSensor;          ///< temperature index it follows; `speed` is then the most it can do
  numerics::Ramp speed_control{};  ///< speed [rev/s] against the sensor's temperature [K]
  double hysteresis = 0.0;         ///< of the table (Play) [K], >= 0
};

/// The air outside.
struct Ambient {
  physics::AirState state;      ///< pressure and humidity
  double temperature = 0.0;     ///< [K]
  Vec3 gravity = Vec3::Zero();  ///< in the device frame [m/s2]
};

struct Graph {
  std::vector<Node> nodes;
  std::vector<Opening> openings;
  std::vector<Jet> jets;
  std::vector<FanElement> fans;
  std::vector<Body> bodies;
  std::vector<HeatLink> links;
  Ambient ambient;
};

/// Component of gravity along the way from a node's reference point to a place, g.(x - x_i) [m2/s2]: what a
/// density difference is multiplied by for the pressure there. Nothing outside: that air has no difference.
double height_lever(const Graph& graph, int node, const Vec3& place);
/// The same over an opening's height, from its sides (`equivalent_span`) [m2/s2], >= 0.
double span_lever(const Vec3& gravity, const Vec3& width, const Vec3& height);
/// Component of gravity against an opening's normal from a to b [m/s2]; + when b lies above a.
double exchange_lever(const Vec3& gravity, const Opening& opening);

/// Name of an element (openings then fans), and of a temperature (nodes then bodies).
const std::string& flow_name(const Graph& graph, Eigen::Index element);
const std::string& temperature_name(const Graph& graph, Eigen::Index temperature);
/// The body that has this temperature.
Body& body_at(Graph& graph, int temperature);
const Body& body_at(const Graph& graph, int temperature);
/// Heat given to air and bodies [W].
double total_power(const Graph& graph);

/// What is wrong with the connections, for a person; empty when every node is connected to the outside and
/// every source of heat has a way out.
std::string connection_fault(const Graph& graph);

}  // namespace tuft::network
