// What a device is: chassis, zones, vents, fans, fins, sources. Knows no physics.
//
// Frame: x to the right, y from the front edge to the rear edge, z from the base up, for a device lying flat
// and seen by the person using it; origin at the front-left-base corner. SI units throughout (m, kg, s, K,
// W).
#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

#include "geometry/device/cover.hpp"

namespace tuft::geometry {

using Vec3 = Eigen::Vector3d;

/// The six faces of the chassis box, and the slot between chassis and lid.
enum class Face { base, top, left, right, front, rear, hinge };
constexpr std::array<const char*, 7> words(Face) {
  return {"base", "top", "left", "right", "front", "rear", "hinge"};
}

/// An opening in a face, or a leak: a rectangle with sides along the face's own axes, or turned in the face.
struct Vent {
  std::string name;
  Face face = Face::base;
  Vec3 centre = Vec3::Zero();  ///< [m], on the face
  double width = 0.0;   ///< of the side along the face's first axis (see `face_axes`) if not turned [m]
  double height = 0.0;  ///< of the side along the face's second axis if not turned [m]
  /// Turned about its centre [rad], counter-clockwise for somebody who looks at the face from outside.
  double turned = 0.0;
  Cover cover;
  Value blocked = 0.0;    ///< share of the area that is taped over or hidden behind a part [-], 0..1
  Place behind;           ///< zone, fins, fan_inlet or fan_outlet
  bool is_leak = false;   ///< a seam: computed like a vent, reported apart
  Value leak_area = 0.0;  ///< leaks only: total free area, spread evenly over the rectangle [m2]
  /// Air that comes back: part of what this vent draws is what another vent has just let out.
  struct Recirculates {
    int vent = 0;       ///< index into Device::vents, the outlet
    Value share = 0.0;  ///< recirculation fraction r [-], 0..1: drawn air has T_room + r (T_out - T_room)

    template <class Archive, class Self>
    static void fields(Archive& to, Self& back) {
      to.refers("vent", back.vent, List::vents);
      to.field("share", back.share);
    }
  };
  std::vector<Recirculates> recirculates;

  template <class Archive, class Self>
  static void fields(Archive& to, Self& vent) {
    to.field("name", vent.name);
    to.field("face", vent.face);
    to.field("centre", vent.centre);
    to.field("width", vent.width);
    to.field("height", vent.height);
    to.field("turned", vent.turned);
    to.field("cover", vent.cover);
    to.field("blocked", vent.blocked, "blocked");
    to.place("behind", vent.behind,
             {PlaceKind::zone, PlaceKind::fins, PlaceKind::fan_inlet, PlaceKind::fan_outlet});
    to.field("is_leak", vent.is_leak);
    to.field("leak_area", vent.leak_area);
    to.field("takes_back", vent.recirculates);
  }
};

/// A space whose air is well mixed.
struct Zone {
  std::string name;
  Vec3 centre = Vec3::Zero();    ///< reference point of its pressure [m]
  Vec3 size = Vec3::Zero();      ///< [m]
  Value wall_conductance = 0.0;  ///< air to room through the chassis [W/K]

  template <class Archive, class Self>
  static void fields(Archive& to, Self& zone) {
    to.field("name", zone.name);
    to.field("centre", zone.centre);
    to.field("size", zone.size);
    to.field("wall_conductance", zone.wall_conductance);
  }
};

/// An opening between two zones.
struct Passage {
  std::string name;
  int zone_a = 0, zone_b = 0;
  Vec3 centre = Vec3::Zero();  ///< [m]
  int normal = 0;              ///< axis across which it leads: 0 x, 1 y, 2 z
  Value width = 0.0;           ///< extent along the next axis in the order x, y, z without the normal [m]
  Value height = 0.0;          ///< extent along the remaining axis [m]
  Value length = 0.0;          ///< along the flow [m]; 0 is a hole in a wall
  Value bends = 0.0;           ///< number of right-angle turns [-]

  template <class Archive, class Self>
  static void fields(Archive& to, Self& passage) {
    to.field("name", passage.name);
    to.refers("zone_a", passage.zone_a, List::zones);
    to.refers("zone_b", passage.zone_b, List::zones);
    to.field("centre", passage.centre);
    to.axis("normal", passage.normal);
    to.field("width", passage.width);
    to.field("height", passage.height);
    to.field("length", passage.length, "length");
    to.field("bends", passage.bends, "bends");
  }
};

enum class FanKind { blower, axial };
constexpr std::array<const char*, 2> words(FanKind) { return {"blower", "axial"}; }

/// One point of a fan curve.
struct FanPoint {
  double flow = 0.0;      ///< [m3/s]
  double pressure = 0.0;  ///< static pressure rise [Pa]

  template <class Archive, class Self>
  static void fields(Archive& to, Self& point) {
    to.field("flow", point.flow);
    to.field("pressure", point.pressure);
  }
};

/// A fan. Its curve, if the person has one, else its class and size.
struct Fan {
  std::string name;
  FanKind kind = FanKind::blower;
  Value diameter = 0.0;          ///< of the impeller [m]
  Value thickness = 0.0;         ///< of the impeller along its axis [m]
  Value speed = 0.0;             ///< full speed [rev/s]
  std::vector<FanPoint> curve;   ///< flow rising from 0; empty: made from kind, size and speed
  double curve_speed = 0.0;      ///< speed at which the curve was taken [rev/s]
  double curve_density = 1.204;  ///< air density at which the curve was taken [kg/m3]
  Value flow_factor = 1.0;       ///< multiplies the curve's flow [-]: the uncertainty of the curve
  Value pressure_factor = 1.0;   ///< multiplies the curve's pressure [-]
  /// Speed [rev/s] against the temperature of a source or part [K], if its speed is controlled.
  struct SpeedControl {
    bool given = false;
    Place sensor;
    std::vector<double> temperature, speed;
    Value hysteresis = 0.0;  ///< how far the temperature must fall before the fan slows again [K]

    template <class Archive, class Self>
    static void fields(Archive& to, Self& speed_control) {
      to.field("given", speed_control.given);
      to.place("sensor", speed_control.sensor,
               {PlaceKind::zone, PlaceKind::fins, PlaceKind::part, PlaceKind::skin, PlaceKind::source});
      to.field("temperature", speed_control.temperature);
      to.field("speed", speed_control.speed);
      to.field("hysteresis", speed_control.hysteresis, "hysteresis");
    }
  };
  SpeedControl speed_control;
  Place draws_from;            ///< zone or vent
  Place blows_into;            ///< zone, fins or vent
  bool is_placed = true;       ///< whether somebody said where it is; else `centre` is a likely place
  Vec3 centre = Vec3::Zero();  ///< [m]

  template <class Archive, class Self>
  static void fields(Archive& to, Self& fan) {
    to.field("name", fan.name);
    to.field("kind", fan.kind);
    to.field("diameter", fan.diameter, "diameter");
    to.field("thickness", fan.thickness, "thickness");
    to.field("speed", fan.speed, "speed");
    to.field("curve", fan.curve);
    to.field("curve_speed", fan.curve_speed);
    to.field("curve_density", fan.curve_density);
    to.field("flow_factor", fan.flow_factor, "flow-factor");
    to.field("pressure_factor", fan.pressure_factor, "pressure-factor");
    to.field("speed-control", fan.speed_control);
    to.place("draws_from", fan.draws_from, {PlaceKind::zone, PlaceKind::vent});
    to.place("blows_into", fan.blows_into, {PlaceKind::zone, PlaceKind::fins, PlaceKind::vent});
    to.field("is_placed", fan.is_placed);
    to.field("centre", fan.centre);
  }
};

/// A stack of parallel fins that a fan blows through; its far side is a vent or a zone.
struct FinStack {
  std::string name;
  Value count = 0.0;              ///< number of channels [-]
  Value gap = 0.0;                ///< clear width of one channel [m]
  Value height = 0.0;             ///< of the channels [m]
  Value length = 0.0;             ///< along the flow [m]
  Value wall_conductance = 0.15;  ///< from the fins through the chassis to the room [W/K]
  Value fin_thickness = 0.2e-3;   ///< [m]
  Value conductivity = 390.0;     ///< of the fins [W/m/K]
  Value capacity = 20.0;          ///< [J/K]
  int exit_zone = -1;             ///< zone it blows into, or -1: into the vents that name it
  bool is_placed = true;          ///< whether somebody said where it is; else `centre` is a likely place
  Vec3 centre = Vec3::Zero();     ///< [m]

  template <class Archive, class Self>
  static void fields(Archive& to, Self& fins) {
    to.field("name", fins.name);
    to.field("count", fins.count, "channels");
    to.field("gap", fins.gap, "gap");
    to.field("height", fins.height, "height");
    to.field("length", fins.length, "length");
    to.field("wall_conductance", fins.wall_conductance, "walls");
    to.field("fin_thickness", fins.fin_thickness, "fin-thickness");
    to.field("conductivity", fins.conductivity, "conductivity");
    to.field("capacity", fins.capacity, "capacity");
    to.may_refer("exit_zone", fins.exit_zone, List::zones, "exits-into");
    to.field("is_placed", fins.is_placed);
    to.field("centre", fins.centre);
  }
};

/// Share of a source's power that reaches the air of one place.
struct HeatShare {
  Place into;         ///< zone or fins
  Value share = 0.0;  ///< [-], shares of a source add to 1

  template <class Archive, class Self>
  static void fields(Archive& to, Self& share) {
    to.place("into", share.into, {PlaceKind::zone, PlaceKind::fins});
    to.field("share", share.share);
  }
};

/// A way for heat by conduction, from the part it is written at to another place: a part, fins, skin, or a
/// zone's air.
struct Joint {
  Place to;
  Value resistance = 1.0;  ///< [K/W], > 0

  template <class Archive, class Self>
  static void fields(Archive& to, Self& joint) {
    to.place("to", joint.to, {PlaceKind::zone, PlaceKind::fins, PlaceKind::part, PlaceKind::skin});
    to.field("resistance", joint.resistance);
  }
};

/// What happens to a source that gets too hot. Temperatures in K; 0 where the person said nothing.
struct Limits {
  Value throttles_at = 0.0;  ///< its power drops so that it gets no hotter than this
  Value least_power = 0.0;   ///< but not below this [W]
  Value shuts_down_at = 0.0;

  template <class Archive, class Self>
  static void fields(Archive& to, Self& limits) {
    to.field("throttles_at", limits.throttles_at, "throttles-at");
    to.field("least_power", limits.least_power);
    to.field("shuts_down_at", limits.shuts_down_at, "shuts-down-at");
  }
};

/// Something that turns power into heat. How much is said by the load. Its heat goes either in fixed shares
/// to the air of places, or through joints, and then it has a temperature of its own.
struct Source {
  std::string name;
  bool is_placed = false;      ///< whether the file says where in a zone its heat goes into the air
  Vec3 centre = Vec3::Zero();  ///< of the box in which it does, of one zone [m]
  Vec3 size = Vec3::Zero();    ///< [m], >= 0
  std::vector<HeatShare> shares;
  std::vector<Joint> joints;
  Value capacity = 5.0;  ///< [J/K]
  Limits limits;

  template <class Archive, class Self>
  static void fields(Archive& to, Self& source) {
    to.field("name", source.name);
    to.field("is_placed", source.is_placed);
    to.field("centre", source.centre);
    to.field("size", source.size);
    to.field("shares", source.shares);
    to.field("joints", source.joints);
    to.field("capacity", source.capacity, "capacity");
    to.field("limits", source.limits);
  }
};

/// A lump of metal or board with one temperature: heat pipe, spreader, plate, circuit board.
struct Part {
  std::string name;
  std::vector<Joint> joints;
  Value capacity = 50.0;  ///< [J/K]

  template <class Archive, class Self>
  static void fields(Archive& to, Self& part) {
    to.field("name", part.name);
    to.field("joints", part.joints);
    to.field("capacity", part.capacity, "capacity");
  }
};

/// What a patch of skin is made of, as the touch limits tell it.
enum class SkinMaterial { metal, glass, plastic, wood };
constexpr std::array<const char*, 4> words(SkinMaterial) { return {"metal", "glass", "plastic", "wood"}; }

/// A patch of the chassis surface that somebody can touch.
struct Skin {
  std::string name;
  Face face = Face::top;
  Vec3 centre = Vec3::Zero();  ///< [m], on the face
  double width = 0.0;          ///< along the face's first axis [m]
  double height = 0.0;         ///< along its second axis [m]
  int zone = 0;                ///< whose air lies behind it
  SkinMaterial material = SkinMaterial::plastic;
  Value emissivity = 0.9;         ///< [-]
  Value inner_film = 8.0;         ///< zone air to skin [W/m2/K]
  Value areal_capacity = 2500.0;  ///< [J/m2/K]
  Value contact = 60.0;           ///< how long a hand stays on it [s], for the touch limits

  template <class Archive, class Self>
  static void fields(Archive& to, Self& skin) {
    to.field("name", skin.name);
    to.field("face", skin.face);
    to.field("centre", skin.centre);
    to.field("width", skin.width);
    to.field("height", skin.height);
    to.refers("zone", skin.zone, List::zones);
    to.field("material", skin.material);
    to.field("emissivity", skin.emissivity, "emissivity");
    to.field("inner_film", skin.inner_film, "inside-film");
    to.field("areal_capacity", skin.areal_capacity, "areal-capacity");
    to.field("contact", skin.contact, "contact");
  }
};

/// The screen half of a notebook.
struct Lid {
  bool present = false;
  Value angle = 0.0;      ///< opening angle [rad]; 0 closed
  Value clearance = 0.0;  ///< between lid and top face when closed [m]
  /// Share of a hinge vent hidden by the lid [-] at given opening angles [rad], angles rising.
  struct Hides {
    double angle = 0.0;
    double share = 0.0;

    template <class Archive, class Self>
    static void fields(Archive& to, Self& hides) {
      to.field("angle", hides.angle);
      to.field("share", hides.share);
    }
  };
  std::vector<Hides> hides_hinge;
  Value edge_distance = 0.02;  ///< from the hinge vents to the lower edge of the screen, along the jet [m]

  template <class Archive, class Self>
  static void fields(Archive& to, Self& lid) {
    to.field("present", lid.present);
    to.field("angle", lid.angle, "angle");
    to.field("clearance", lid.clearance, "clearance");
    to.field("hides_hinge", lid.hides_hinge);
    to.field("edge_distance", lid.edge_distance, "edge-distance");
  }
};

/// A device as somebody with a ruler saw it.
struct Device {
  std::string name;
  Vec3 size = Vec3::Zero();
  Value feet = 0.0;  ///< height of the feet under the base [m]
  std::vector<Zone> zones;
  std::vector<Passage> passages;
  std::vector<Vent> vents;  ///< leaks included
  std::vector<Fan> fans;
  std::vector<FinStack> fin_stacks;
  std::vector<Source> sources;
  std::vector<Part> parts;
  std::vector<Skin> skins;
  Lid lid;

  template <class Archive, class Self>
  static void fields(Archive& to, Self& device) {
    to.field("name", device.name, "name");
    to.field("size", device.size, "size");
    to.field("feet", device.feet, "feet");
    to.field("zones", device.zones);
    to.field("passages", device.passages);
    to.field("vents", device.vents);
    to.field("fans", device.fans);
    to.field("fin_stacks", device.fin_stacks);
    to.field("sources", device.sources);
    to.field("parts", device.parts);
    to.field("skins", device.skins);
    to.field("lid", device.lid);
  }
};

/// True if a joint leads to this place: fins so joined have metal with a temperature of its own.
bool is_joined(const Device& device, const Place& place);

/// Name of the thing that a place is at: of the zone, the fin stack, the fan, ...
const std::string& place_name(const Device& device, const Place& place);

/// Where a stack's fins lie along, the way their air leaves: across the face of a vent that names them (unit
/// vector, no sign); and its extents: across its channels, upwards, along the flow [m].
Vec3 fin_direction(const Device& device, std::size_t stack);
Vec3 fin_extents(const Device& device, std::size_t stack);

/// Outward unit normal of a face. The hinge slot faces up and to the rear.
Vec3 face_normal(Face face);

/// The two in-face unit axes a vent's width and height lie along, in the device frame: base and top (x, y),
/// left and right (y, z), front and rear (x, z), hinge (x, and the slot's short side).
void face_axes(Face face, Vec3& first, Vec3& second);

/// 1 where the turn from a face's first axis to its second is counter-clockwise for somebody who looks at the
/// face from outside, -1 where it is clockwise.
double turn_sense(Face face);

/// The unit vectors that a vent's width and height lie along: the axes of its face, turned as the vent is.
void side_axes(const Vent& vent, Vec3& first, Vec3& second);
void side_axes(Face face, double turned, Vec3& first, Vec3& second);

/// Sides of the smallest rectangle along the axes of its face that holds a vent: its extents along the first
/// and the second axis [m]. Width and height of a vent that is not turned.
Eigen::Vector2d extents_on_face(const Vent& vent);
Eigen::Vector2d extents_on_face(double width, double height, double turned);

/// The axis a fan turns about (unit vector, no sign): for an axial fan across the vent it serves, else
/// upright.
Vec3 fan_axis(const Fan& fan, const Device& device);

/// All faces, in a fixed order.
constexpr Face kFaces[] = {Face::base,  Face::top,  Face::left, Face::right,
                           Face::front, Face::rear, Face::hinge};

/// Word for a face as written in a case file.
constexpr const char* face_word(Face face) { return word_of(face); }

/// Point on a face from its two in-face coordinates [m] (for the hinge only x counts).
Vec3 on_face(const Device& device, Face face, double first, double second);

}  // namespace tuft::geometry
