// What is known about one condition after it was solved: finished plain data, for people and for writers.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "geometry/device/condition.hpp"
#include "solver/network/graph.hpp"
#include "solver/network/source_limits.hpp"
#include "solver/network/zone_plume.hpp"
#include "solver/numerics/result_field.hpp"

namespace tuft::study {

/// One vent (or leak) in one condition. Flows are masses per second; + into the device where a sign matters.
struct VentResult {
  int vent = 0;  ///< index into Device::vents
  geometry::Role role = geometry::Role::idle;
  bool firm = false;             ///< the role stays when the thresholds move by their margin
  double inflow = 0.0;           ///< gross, >= 0 [kg/s]
  double outflow = 0.0;          ///< gross, >= 0 [kg/s]
  double exchange = 0.0;         ///< part of both that is two-way exchange under heavier air [kg/s]
  double share = 0.0;            ///< larger gross flow over the through-flow [-]
  double face_velocity = 0.0;    ///< larger gross flow over (density x area neither taped nor hidden) [m/s]
  double temperature_in = 0.0;   ///< of the air outside that would enter [K]
  double temperature_out = 0.0;  ///< of the air inside that would leave [K]
  double pressure = 0.0;         ///< inside at the vent's centre against still ambient air [Pa]
  double fan_head = 0.0;  ///< the part of `pressure` that stays when gravity and draught are taken away [Pa]
  double buoyancy_head = 0.0;  ///< the rest of it in still air [Pa]
  double draught_head = 0.0;   ///< what the draught adds, less its own pressure before a free vent [Pa]
  double span_head = 0.0;      ///< buoyancy head across the vent's own height, lowest to highest edge [Pa]
  double jet_suction =
      0.0;  ///< what the jets of outlets in the same face may draw with; in samples alone [Pa]
  double buoyancy_share = 0.0;     ///< of buoyancy and span head in the sum of all heads' sizes, 0 .. 1 [-]
  bool passing = false;            ///< in a sweep: the role comes and goes within kPassing of turning
  bool unsure = false;             ///< the network alone does not settle the role (field_need.hpp)
  bool shut = false;               ///< covered, hidden, taped or pressed shut: no way through at all
  bool near_surface = false;       ///< its face lies on (or under) something in this condition
  double gap = 0.0;                ///< clear gap before its centre, where near_surface [m]
  double covered = 0.0;            ///< share of its area pressed shut or laid over [-]
  double hidden = 0.0;             ///< share of its area hidden by the lid [-]
  bool has_neutral_level = false;  ///< a neutral level lies inside the vent
  double neutral_level = 0.0;      ///< its height above the vent's lowest edge over the vent's height [-]
};

/// What a vent does, as files name it: its role, or that there is no way through.
enum class Doing { intake, exhaust, both_ways, idle, shut };
constexpr std::array<const char*, 5> words(Doing) {
  return {"intake", "exhaust", "both-ways", "idle", "shut"};
}
inline Doing doing(const VentResult& vent) { return vent.shut ? Doing::shut : static_cast<Doing>(vent.role); }

template <class Visit>
void for_each_field(const VentResult& vent, Visit&& visit) {
  visit({"role", "", "role", "`intake`, `exhaust`, `both-ways`, `idle`; `shut`: no way through", true},
        doing(vent));
  visit({"firm", "", "firm", "the role stays when each threshold is multiplied and divided by the margin",
         true},
        vent.firm);
  visit({"passing", "", "passing", "points of sweeps: the role comes and goes within two degrees", true},
        vent.passing);
  visit({"share", "-", "share", "larger gross flow over the through-flow", true}, vent.share);
  visit({"face_velocity", "m/s", "face velocity", "larger gross flow over density and open face area", true},
        vent.face_velocity);
  visit({"inflow", "kg/s", "gross in", "gross flow into the device, not below zero", true}, vent.inflow);
  visit({"outflow", "kg/s", "gross out", "gross flow out of it, not below zero", true}, vent.outflow);
  visit({"exchange", "kg/s", "exchange", "part of both that is two-way exchange under heavier air"},
        vent.exchange);
  visit({"temperature_in", "K", "temperature in", "of the air outside that would enter"},
        vent.temperature_in);
  visit({"temperature_out", "K", "temperature out", "of the air inside that would leave"},
        vent.temperature_out);
  visit({"pressure", "Pa", "pressure", "inside, at the vent's centre", true}, vent.pressure);
  visit({"fan_head", "Pa", "fan head", "the part of it that stays without gravity and draught", true},
        vent.fan_head);
  visit({"buoyancy_head", "Pa", "buoyancy head", "the rest of it in still air", true}, vent.buoyancy_head);
  visit({"draught_head", "Pa", "draught head",
         "what the room's draught adds to it, less the draught's own pressure before the vent"},
        vent.draught_head);
  visit({"span_head", "Pa", "span head", "buoyancy head from the vent's lowest to its highest edge"},
        vent.span_head);
  visit({"jet_suction", "Pa", "jet suction",
         "with which the jets of outlets in the same face may draw on it; not part of any flow"},
        vent.jet_suction);
  visit({"buoyancy_share", "-", "buoyancy share",
         "of buoyancy and span head in the sum of the sizes of all heads"},
        vent.buoyancy_share);
  visit({"unsure", "", "unsure",
         "the network alone does not settle the role: buoyancy, exchange or a threshold decides"},
        vent.unsure);
  visit({"shut", "", "", "true: covered, hidden or pressed shut, no way through at all"}, vent.shut);
  visit({"neutral_level", "-", "neutral level",
         "height of the neutral level over the vent's height, from the lowest edge; `null` without one"},
        numerics::MaybeNumber{vent.has_neutral_level, vent.neutral_level});
}

struct ZoneResult {
  std::string name;
  double pressure = 0.0;     ///< at the reference point [Pa]
  double temperature = 0.0;  ///< mean by volume [K]
  double warmest = 0.0;      ///< of the warmest part; the same where the air is well mixed [K]
};

template <class Visit>
void for_each_field(const ZoneResult& zone, Visit&& visit) {
  visit({"pressure", "Pa", "", "at its middle, or at the largest of its parts"}, zone.pressure);
  visit({"temperature", "K", "temperature", "of its air, mean"}, zone.temperature);
  visit({"warmest", "K", "warmest", "its warmest part, where its air is layered"}, zone.warmest);
}

struct FanResult {
  std::string name;
  bool running = true;
  double speed = 0.0;          ///< [rev/s]
  double volume_flow = 0.0;    ///< [m3/s], negative: driven backwards
  double pressure_rise = 0.0;  ///< [Pa]
  double temperature = 0.0;    ///< of the air drawn [K]
  bool speed_control = false;  ///< its speed is read off a table at a temperature
  double cooling_speed =
      0.0;  ///< where it follows: what it keeps to when the device comes from hotter, by its
            ///< hysteresis [rev/s]; never below `speed` but for what the fans do to each other
};

template <class Visit>
void for_each_field(const FanResult& fan, Visit&& visit) {
  visit({"running", "", "", "whether it turns"}, fan.running);
  visit({"speed_control", "", "", "its speed is read off a table at a temperature"}, fan.speed_control);
  visit({"cooling_speed", "rev/s", "",
         "of a fan that follows, where the device comes from hotter: its hysteresis; else `null`"},
        numerics::MaybeNumber{fan.speed_control, fan.cooling_speed});
  visit({"speed", "rev/s", "", "how fast it turns"}, fan.speed);
  visit({"volume_flow", "m3/s", "", "below zero: driven backwards"}, fan.volume_flow);
  visit({"pressure_rise", "Pa", "", "across it"}, fan.pressure_rise);
  visit({"temperature", "K", "", "of the air drawn"}, fan.temperature);
}

/// Fin stacks: what goes through.
struct FinResult {
  std::string name;
  double volume_flow = 0.0;  ///< [m3/s]
  double temperature = 0.0;  ///< of the air leaving [K]
};

template <class Visit>
void for_each_field(const FinResult& fins, Visit&& visit) {
  visit({"volume_flow", "m3/s", "", "through them"}, fins.volume_flow);
  visit({"temperature", "K", "", "of the air leaving"}, fins.temperature);
}

/// A source of heat: what it was asked for, what it takes, how hot it gets.
struct SourceResult {
  std::string name;
  double asked = 0.0;                                       ///< by the load [W]
  double power = 0.0;                                       ///< that it takes [W]
  network::SourceState state = network::SourceState::full;  ///< what its limits did to it
  bool has_temperature = false;                             ///< it has joints, so it is a body
  double temperature = 0.0;                                 ///< [K]
  double throttles_at = 0.0, shuts_down_at = 0.0;           ///< [K]; 0: no such limit
};

template <class Visit>
void for_each_field(const SourceResult& source, Visit&& visit) {
  visit({"asked", "W", "power asked", "power that the load asks for"}, source.asked);
  visit({"power", "W", "power", "that it takes"}, source.power);
  visit({"state", "", "state",
         "`full`; `throttled`: held at its limit; `least-power`: on the least it can take "
         "and still above the limit; `shut-down`"},
        source.state);
  visit({"temperature", "K", "temperature", "`null` for a source that heats air directly"},
        numerics::MaybeNumber{source.has_temperature, source.temperature});
  visit({"throttles_at", "K", "", "`null` without such a limit"},
        numerics::MaybeNumber{source.throttles_at > 0.0, source.throttles_at});
  visit({"shuts_down_at", "K", "", "`null` without such a limit"},
        numerics::MaybeNumber{source.shuts_down_at > 0.0, source.shuts_down_at});
}

/// A heat pipe, spreader, board, or the metal of a fin stack.
struct PartResult {
  std::string name;
  double temperature = 0.0;  ///< [K]
};

template <class Visit>
void for_each_field(const PartResult& part, Visit&& visit) {
  visit({"temperature", "K", "temperature",
         "after the case's parts stands the metal of fin stacks that joints lead to"},
        part.temperature);
}

/// A patch of skin, beside the published limit for touching it.
struct SkinResult {
  int skin = 0;              ///< index into Device::skins
  double temperature = 0.0;  ///< [K]
  bool lies_on = false;      ///< on something, or under the closed lid: nobody touches it
  double limit = 0.0;        ///< for its material and contact time [K]
  bool limit_seen = false;   ///< the limit was seen in a public text; else it is from memory
  double heat_out = 0.0;     ///< to the room, or into what it lies on [W]
};

template <class Visit>
void for_each_field(const SkinResult& skin, Visit&& visit) {
  visit({"temperature", "K", "temperature", "of the patch"}, skin.temperature);
  visit({"lies_on_something", "", "state", "nobody can touch it"},
        numerics::Either{skin.lies_on, "lies on something", "within reach"});
  visit({"heat_out", "W", "", "to the room, or into what it lies on"}, skin.heat_out);
}

/// The published limit for touching it, beside what it is made of.
template <class Visit>
void for_each_limit(const SkinResult& skin, Visit&& visit) {
  visit({"touch_limit", "K", "touch limit", "of IEC 62368-1 (TS1) for that material and contact time"},
        skin.limit);
  visit({"touch_limit_source", "", "limit's source", "`seen` in a public text, or `from memory`"},
        skin.limit_seen ? "seen" : "from memory");
}

/// The lower edge of the screen in the air of an outlet.
struct LidEdgeResult {
  int vent = 0;                  ///< the hinge vent
  double air_temperature = 0.0;  ///< of the jet where it meets the edge [K]
  double temperature = 0.0;      ///< of the edge [K]
};

template <class Visit>
void for_each_field(const LidEdgeResult& edge, Visit&& visit) {
  visit({"air_temperature", "K", "", "of the jet of the hinge vent at the screen's lower edge"},
        edge.air_temperature);
  visit({"temperature", "K", "temperature", "of the edge"}, edge.temperature);
}

/// A place where the flow is faster than the law it was computed with was made for: laminar no longer.
struct RangeExceeded {
  network::LaminarKind kind = network::LaminarKind::passage;
  std::string name;       ///< of the passage, the fins, or the vent with the gap before it
  double reynolds = 0.0;  ///< of the flow there [-]
  double limit = 0.0;     ///< largest one of the law [-]
};

template <class Visit>
void for_each_field(const RangeExceeded& range, Visit&& visit) {
  visit({"reynolds", "-", "", "Reynolds number of the flow there"}, range.reynolds);
  visit({"limit", "-", "", "largest one of the law"}, range.limit);
}

/// Where the heat goes [W].
struct HeatWays {
  double with_air = 0.0;      ///< carried out, less what comes back
  double through_skin = 0.0;  ///< through walls, skin and what the device lies on
};

/// Heat between the air inside and all that is not air, other than what flows in and out; in the device's
/// order. Air follows these the same way in a finer description: what it gets stays, what it loses grows with
/// its own temperature.
struct AirHeat {
  std::vector<double> zones, fins;            ///< given to the air of zones and fin stacks [W]
  std::vector<network::PlacedHeat> placed;    ///< of `zones`, what goes into the air at a given place
  std::vector<double> fin_streams;            ///< of `fins`, from metal with a temperature of its own [W]
  std::vector<double> fin_metals;             ///< that temperature [K]; 0 where a stack has none
  std::vector<double> zone_walls, fin_walls;  ///< from that air to the room, by every way together [W/K]
  /// zones and zone_walls by the parts of each zone's air (network::Layout::zone_parts).
  std::vector<std::vector<double>> zone_parts, zone_part_walls;
};

/// How well mass and heat balance.
struct Balance {
  double mass = 0.0;    ///< worst zone's net mass flow over the through-flow [-]
  double energy = 0.0;  ///< net heat over the power (or over the enthalpy flow) [-]
};

/// How the solve went.
struct SolveReport {
  bool converged = false;
  std::string reason;  ///< why not, for a person; empty when converged
  int iterations = 0;
  double residual = 0.0;  ///< largest scaled residual [-]
};

/// Another steady state of the same condition, beside the one a cold start reaches.
struct OtherState {
  std::string reached_by;         ///< what leads there
  std::vector<VentResult> vents;  ///< one per Device::vents, in order
  std::string would_tip;          ///< what ends it, for a person; empty: nothing found
};

/// What is known of a condition's steady states. Nothing proves that there are no more.
struct States {
  bool looked_for = false;
  bool slides = false;           ///< a cold solve ends in a state that nothing keeps; another one is reported
  int stable = 1, unstable = 0;  ///< how many were found
  double growth = 0.0;           ///< of the slowest disturbance of the state reported [1/s]; < 0: it dies out
  std::string place;             ///< where that disturbance moves most
  std::string would_tip;         ///< what ends the state reported, where others exist
  std::vector<OtherState> others;  ///< the other stable ones
  std::string left_out;            ///< what the search did not try; empty: nothing was left out
};

struct ConditionResult {
  int condition = 0;  ///< index into Case::conditions
  std::string name;
  SolveReport report;
  Balance balance;
  double through_flow = 0.0;         ///< sum of all gross inflows, leaks included [kg/s]
  double power = 0.0;                ///< [W]
  double ambient_density = 0.0;      ///< [kg/m3]
  double ambient_temperature = 0.0;  ///< [K]
  bool heads_known = true;           ///< the split of pressures into fan and buoyancy head could be computed
  std::vector<VentResult> vents;     ///< one per Device::vents, in order
  std::vector<ZoneResult> zones;
  std::vector<FanResult> fans;
  std::vector<FinResult> fins;
  std::vector<SourceResult> sources;  ///< one per Device::sources, in order
  std::vector<PartResult> parts;      ///< parts, then the metal of fin stacks that joints lead to
  std::vector<SkinResult> skins;      ///< one per Device::skins, in order
  std::vector<LidEdgeResult> lid_edges;
  std::vector<RangeExceeded> beyond_laminar;  ///< passages, fins, gaps; the fastest way of each
  double through_still_air = 0.0;  ///< share of the heat that leaves only through still air in openings [-]
  HeatWays heat;
  AirHeat air_heat;
  States states;
};

/// One angle of a sweep.
/// A role that lasts for less of a sweep is a passing one [rad]: nobody holds a device still to two degrees.
/// Judgement.
constexpr double kPassing = 2.0 * 3.14159265358979323846 / 180.0;

struct SweepPoint {
  double angle = 0.0;  ///< [rad]
  ConditionResult result;
};

struct SweepResult {
  std::string name;
  std::vector<SweepPoint> points;
};

enum class Verdict { holds, fails, undecided };

struct ClaimResult {
  int claim = 0;  ///< index into Case::claims
  Verdict verdict = Verdict::undecided;
  std::string because;  ///< one sentence with the numbers behind the verdict
};

/// One vent of a result by its index into Device::vents.
inline const VentResult& vent_of(const ConditionResult& result, int vent) { return result.vents[vent]; }

}  // namespace tuft::study
