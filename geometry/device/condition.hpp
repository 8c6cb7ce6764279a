// The circumstances under which a device is looked at: room, support, load, condition, and what is claimed.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "geometry/device/device.hpp"
#include "geometry/device/laws.hpp"
#include "geometry/device/photo.hpp"
#include "geometry/device/pose.hpp"
#include "geometry/device/units.hpp"

namespace tuft::geometry {

/// Air of the room that moves as a whole past the device.
struct Draught {
  Value speed = 0.0;  ///< of the air where the device is, if the device and its support were not there [m/s]
  /// Level direction it comes from [rad], seen from above: 0 the front of a device that lies flat, pi/2 its
  /// right.
  Value from = 0.0;

  template <class Archive, class Self>
  static void fields(Archive& to, Self& draught) {
    to.field("speed", draught.speed, "speed");
    to.field("from", draught.from, "from");
  }
};

/// The air around the device.
struct Room {
  Value temperature = 294.15;     ///< [K]
  Value altitude = 0.0;           ///< [m]
  Value relative_humidity = 0.5;  ///< [-]
  Draught draught;

  template <class Archive, class Self>
  static void fields(Archive& to, Self& room) {
    to.field("temperature", room.temperature, "temperature");
    to.field("altitude", room.altitude, "altitude");
    to.field("relative_humidity", room.relative_humidity, "humidity");
    to.field("draught", room.draught);
  }
};

/// What the device rests on.
enum class SupportKind {
  air,   ///< nothing near it: held up, or hung by a thread
  hard,  ///< table: the lowest face stands off it by the feet or by a small gap
  soft,  ///< bed, sofa, cushion: the feet sink in, vents are covered, air comes through the fabric
  lap,   ///< two legs: like soft, part of the base stays free
  wall,  ///< hung with its base against a wall, whatever the pose
  stand  ///< raised: a large gap under it
};
constexpr std::array<const char*, 6> words(SupportKind) {
  return {"air", "hard", "soft", "lap", "wall", "stand"};
}

/// How far a support, and every device on it, is turned from level: small angles about the room's two level
/// axes, right-handed [rad]. The room's axes are those of a device that lies flat.
struct Tilt {
  Value x = 0.0;  ///< about the axis to the right: + raises the rear
  Value y = 0.0;  ///< about the axis to the rear: + lowers the right

  template <class Archive, class Self>
  static void fields(Archive& to, Self& tilt) {
    to.field("x", tilt.x, "x");
    to.field("y", tilt.y, "y");
  }
};

/// A support, and how it lies against the device.
struct Support {
  std::string name = "air";
  SupportKind kind = SupportKind::air;
  bool gap_given = false;
  Value gap = 0.0;  ///< clear gap between face and surface [m] (hard: instead of the feet; stand: height)
  Value edge_gap =
      0.3e-3;        ///< hard: gap left by unevenness when the device lies on another face than its feet [m]
  Value sink = 0.0;  ///< soft, lap: how far the device sinks in [m]; reduces the gap
  Value covered = 0.0;       ///< soft, lap: share of each vent's area on that face that is pressed shut [-]
  Value permeability = 0.0;  ///< soft, lap: air permeability, velocity at 100 Pa as ISO 9237 states it [m/s]
  Value thickness = 0.0;     ///< soft, lap: of the layer air is drawn through [m]
  std::vector<int> covers;   ///< vents (any face) this support lies over entirely, besides the resting face
  bool touches_given = false;
  std::vector<int> touches;  ///< the only vents of the resting face that lie against it; default all of them
  Tilt tilt;
  Value shelter = 0.0;  ///< share of the draught's speed that it keeps from the device [-]

  template <class Archive, class Self>
  static void fields(Archive& to, Self& support) {
    to.field("name", support.name);
    to.field("kind", support.kind);
    to.field("gap_given", support.gap_given);
    to.field("gap", support.gap);
    to.field("edge_gap", support.edge_gap, "edge-gap");
    to.field("sink", support.sink, "sink");
    to.field("covered", support.covered, "covers");
    to.field("permeability", support.permeability, "permeability");
    to.field("thickness", support.thickness, "thickness");
    to.refer("covers", support.covers, List::vents, "over");
    to.field("touches_given", support.touches_given);
    to.refer("touches", support.touches, List::vents, "touches");
    to.field("tilt", support.tilt);
    to.field("shelter", support.shelter, "shelter");
  }
};

/// What a fan is told to do.
enum class FanState { running, stopped, speed_control };
constexpr std::array<const char*, 3> words(FanState) { return {"running", "stopped", "controlled"}; }

/// One source's power in a load.
struct SourcePower {
  int source = 0;
  Value power = 0.0;  ///< [W]

  template <class Archive, class Self>
  static void fields(Archive& to, Self& power) {
    to.refers("source", power.source, List::sources);
    to.field("power", power.power);
  }
};

/// One fan's setting in a load.
struct FanSetting {
  int fan = 0;
  FanState state = FanState::running;
  Value speed = 0.0;  ///< [rev/s]

  template <class Archive, class Self>
  static void fields(Archive& to, Self& setting) {
    to.refers("fan", setting.fan, List::fans);
    to.field("state", setting.state);
    to.field("speed", setting.speed);
  }
};

/// A load: powers and fan speeds. Sources not listed give no heat; fans not listed follow their sensor if
/// they have one, else they run at full speed.
struct Load {
  std::string name = "idle";
  std::vector<SourcePower> powers;
  std::vector<FanSetting> fans;

  template <class Archive, class Self>
  static void fields(Archive& to, Self& load) {
    to.field("name", load.name);
    to.field("powers", load.powers);
    to.field("fans", load.fans);
  }
};

/// One combination to solve.
struct Condition {
  std::string name;
  int pose = 0, support = 0, load = 0;  ///< indices into Case
  bool lid_given = false;
  Value lid_angle = 0.0;  ///< [rad], instead of the device's own

  template <class Archive, class Self>
  static void fields(Archive& to, Self& condition) {
    to.field("name", condition.name);
    to.refers("pose", condition.pose, List::poses);
    to.refers("support", condition.support, List::supports);
    to.refers("load", condition.load, List::loads);
    to.field("lid_given", condition.lid_given);
    to.field("lid_angle", condition.lid_angle);
  }
};

/// A sweep of the tilt angle of one condition.
struct Sweep {
  std::string name;
  int condition = 0;  ///< support, load and lid are taken from it
  Vec3 axis = Vec3::UnitX();
  double from = 0.0, to = 0.0, step = 0.0;  ///< [rad]
};

/// Thresholds between the roles. A vent is idle when its share and its velocity both lie below the idle ones,
/// or when its velocity lies below `still_velocity`, slower than the air of the quietest room. All
/// are judgements.
struct RoleThresholds {
  double still_velocity = 0.0005;  ///< mean face velocity [m/s]
  double idle_share = 0.03;        ///< of the through-flow [-]
  double idle_velocity = 0.05;     ///< mean face velocity [m/s]
  double both_ways_ratio = 0.2;    ///< smaller gross flow over larger [-]
  double margin = 1.5;  ///< a role is firm if it stays when each threshold is multiplied and divided by this

  template <class Archive, class Self>
  static void fields(Archive& to, Self& thresholds) {
    to.field("still_velocity", thresholds.still_velocity, "still-velocity");
    to.field("idle_share", thresholds.idle_share, "idle-share");
    to.field("idle_velocity", thresholds.idle_velocity, "idle-velocity");
    to.field("both_ways_ratio", thresholds.both_ways_ratio, "both-ways-ratio");
    to.field("margin", thresholds.margin, "margin");
  }
};

enum class Role { intake, exhaust, both_ways, idle };
constexpr std::array<const char*, 4> words(Role) { return {"intake", "exhaust", "both-ways", "idle"}; }

enum class ClaimKind {
  role,           ///< every vent (or any) has this role
  draws_more,     ///< inflow of `vents` together is at least `factor` times that of `than`
  gives_more,     ///< the same for outflow
  share,          ///< share of the through-flow carried by `vents` lies in [low, high]
  changes_role,   ///< the vents' roles differ between `when` and `against`
  none_has_role,  ///< none of the vents has this role
  none_breathes,  ///< none of the vents lets air out (role exhaust) or in (role intake), both ways included
  reverses,       ///< the vents take in under `when` and let out under `against`, or the other way round
  flow_falls,   ///< the flow of `vents` (none: through the device) is smaller than under `against` by a share
                ///< of at least `by`
  flow_rises,   ///< it is larger by at least that share
  temperature,  ///< the temperature of `of` lies in [low, high]
  warms,        ///< it is higher than under `against` by at least `by` [K]
  cools         ///< it is lower by at least that
};

/// True if a claim of this kind is about the temperature of `of` and not about vents.
constexpr bool is_about_heat(ClaimKind kind) {
  return kind == ClaimKind::temperature || kind == ClaimKind::warms || kind == ClaimKind::cools;
}

/// A sentence somebody wants to publish, in checkable form.
struct Claim {
  std::string id;
  std::string say;
  ClaimKind kind = ClaimKind::role;
  std::vector<int> vents;
  Face side = Face::base;
  bool any = false;  ///< kinds that speak of each vent: one vent suffices
  Role role = Role::intake;
  std::vector<int> than;
  double factor = 1.0;
  double low = 0.0, high = 1.0;  ///< share [-], or temperature [K]; there an open end is infinite
  double by = 0.0;
  Place of;      ///< about heat: source, part, skin, fins (their metal), vent (air it lets out), zone (air)
  int when = 0;  ///< index into Case::conditions
  int against = -1;  ///< of a change: the other condition
  int seen_in = -1;  ///< condition in which the evidence for the sentence was gathered; -1: not said
};

/// The conditions a claim speaks of: `when`, and `against` where it has one.
inline std::vector<int> conditions_of(const Claim& claim) {
  if (claim.against < 0) return {claim.when};
  return {claim.when, claim.against};
}

/// A whole case file.
struct Case {
  Device device;
  Room room;
  Laws laws;
  std::vector<Pose> poses;
  std::vector<Support> supports;
  std::vector<Load> loads;
  std::vector<Condition> conditions;
  std::vector<Sweep> sweeps;
  std::vector<Claim> claims;
  RoleThresholds thresholds;
  std::vector<Input> inputs;                 ///< numbers that are not known exactly, by their keys
  std::vector<Correlated> correlations;      ///< which of them are correlated
  std::shared_ptr<const JointSample> joint;  ///< which are known together only, whatever `correlations` say
                                             ///< of them; none: null
  std::vector<Photo> photos;                 ///< pictures to draw on; no solution depends on them
  UnitSystem units = UnitSystem::metric;     ///< what people read the answers in; no solution depends on it

  template <class Archive, class Self>
  static void fields(Archive& to, Self& content) {
    to.field("device", content.device);
    to.field("room", content.room);
    to.field("poses", content.poses);
    to.field("supports", content.supports);
    to.field("loads", content.loads);
    to.field("conditions", content.conditions);
    to.field("thresholds", content.thresholds);
    to.field("laws", content.laws);
    to.field("photos", content.photos);
    to.field("units", content.units);
  }
};

/// A numbered place that an infrared thermometer is pointed at. It changes nothing of the device: it says
/// what is looked at, and what that is made of.
struct Spot {
  std::string name;        ///< as written, mostly a number
  Place on;                ///< skin, part, fins or source
  std::string surface;     ///< a word of the program's list of surfaces; empty: skin, with its own emissivity
  double size = 0.01;      ///< smaller side of what is in sight of it [m]
  double distance = 0.15;  ///< of the thermometer [m]
  bool through_glass = false;
};

/// The word for a role as written in a case file and in results.
constexpr const char* role_word(Role role) { return word_of(role); }

}  // namespace tuft::geometry
