// The fields of a device that decide how it is solved, named once: what writes them, reads them and checks
// them walks over the same list.
#pragma once

#include "geometry/device/device.hpp"

namespace tuft::geometry {

/// The lists of a case that an index may point into.
enum class List { zones, fin_stacks, fans, vents, parts, skins, sources, poses, supports, loads };

/// The list that holds what a kind of place names.
constexpr List list_of(PlaceKind kind) {
  switch (kind) {
    case PlaceKind::zone:
      return List::zones;
    case PlaceKind::fins:
      return List::fin_stacks;
    case PlaceKind::fan_inlet:
    case PlaceKind::fan_outlet:
      return List::fans;
    case PlaceKind::vent:
      return List::vents;
    case PlaceKind::part:
      return List::parts;
    case PlaceKind::skin:
      return List::skins;
    case PlaceKind::source:
      return List::sources;
  }
  return List::zones;
}

/// The fields of one struct. `Fields<T>::visit(archive, object)` calls, in the struct's order:
///
///     archive.field("name", object.member)               a number, word, list or struct of its own
///     archive.refers("name", object.index, List::zones)  an index into a list of the case, >= 0
///     archive.may_refer("name", object.index, ...)       the same, or -1: none
///     archive.refer("name", object.indices, ...)         a list of such indices
///     archive.place("name", object.place, {kinds...})    a place, of one of these kinds
///
/// `object` is const for an archive that only looks. Of a Value the nominal one counts. Left out is what
/// changes no solution: claims, inputs and their spreads. A field missing here would be lost between the
/// program and the page: tests/io compares solutions bit by bit.
template <class T>
struct Fields;

template <>
struct Fields<Cover> {
  template <class Archive, class CoverOf>
  static void visit(Archive& to, CoverOf& cover) {
    to.field("kind", cover.kind);
    to.field("open_ratio", cover.open_ratio);
    to.field("hole", cover.hole);
    to.field("thickness", cover.thickness);
    to.field("permeability", cover.permeability);
    to.field("inertia", cover.inertia);
    to.field("loss_given", cover.loss_given);
    to.field("loss", cover.loss);
  }
};

template <>
struct Fields<Vent::TakesBack> {
  template <class Archive, class BackOf>
  static void visit(Archive& to, BackOf& back) {
    to.refers("vent", back.vent, List::vents);
    to.field("share", back.share);
  }
};

template <>
struct Fields<Vent> {
  template <class Archive, class VentOf>
  static void visit(Archive& to, VentOf& vent) {
    to.field("name", vent.name);
    to.field("face", vent.face);
    to.field("centre", vent.centre);
    to.field("width", vent.width);
    to.field("height", vent.height);
    to.field("cover", vent.cover);
    to.field("blocked", vent.blocked);
    to.place("behind", vent.behind,
             {PlaceKind::zone, PlaceKind::fins, PlaceKind::fan_inlet, PlaceKind::fan_outlet});
    to.field("is_leak", vent.is_leak);
    to.field("leak_area", vent.leak_area);
    to.field("takes_back", vent.takes_back);
  }
};

template <>
struct Fields<Zone> {
  template <class Archive, class ZoneOf>
  static void visit(Archive& to, ZoneOf& zone) {
    to.field("name", zone.name);
    to.field("centre", zone.centre);
    to.field("size", zone.size);
    to.field("wall_conductance", zone.wall_conductance);
  }
};

template <>
struct Fields<Passage> {
  template <class Archive, class PassageOf>
  static void visit(Archive& to, PassageOf& passage) {
    to.field("name", passage.name);
    to.refers("zone_a", passage.zone_a, List::zones);
    to.refers("zone_b", passage.zone_b, List::zones);
    to.field("centre", passage.centre);
    to.axis("normal", passage.normal);
    to.field("width", passage.width);
    to.field("height", passage.height);
    to.field("length", passage.length);
    to.field("bends", passage.bends);
  }
};

template <>
struct Fields<FanPoint> {
  template <class Archive, class PointOf>
  static void visit(Archive& to, PointOf& point) {
    to.field("flow", point.flow);
    to.field("pressure", point.pressure);
  }
};

template <>
struct Fields<Fan::Follows> {
  template <class Archive, class FollowsOf>
  static void visit(Archive& to, FollowsOf& follows) {
    to.field("given", follows.given);
    to.place("sensor", follows.sensor,
             {PlaceKind::zone, PlaceKind::fins, PlaceKind::part, PlaceKind::skin, PlaceKind::source});
    to.field("temperature", follows.temperature);
    to.field("speed", follows.speed);
    to.field("hysteresis", follows.hysteresis);
  }
};

template <>
struct Fields<Fan> {
  template <class Archive, class FanOf>
  static void visit(Archive& to, FanOf& fan) {
    to.field("name", fan.name);
    to.field("kind", fan.kind);
    to.field("diameter", fan.diameter);
    to.field("thickness", fan.thickness);
    to.field("speed", fan.speed);
    to.field("curve", fan.curve);
    to.field("curve_speed", fan.curve_speed);
    to.field("curve_density", fan.curve_density);
    to.field("flow_factor", fan.flow_factor);
    to.field("pressure_factor", fan.pressure_factor);
    to.field("follows", fan.follows);
    to.place("draws_from", fan.draws_from, {PlaceKind::zone, PlaceKind::vent});
    to.place("blows_into", fan.blows_into, {PlaceKind::zone, PlaceKind::fins, PlaceKind::vent});
    to.field("centre", fan.centre);
  }
};

template <>
struct Fields<FinStack> {
  template <class Archive, class FinsOf>
  static void visit(Archive& to, FinsOf& fins) {
    to.field("name", fins.name);
    to.field("count", fins.count);
    to.field("gap", fins.gap);
    to.field("height", fins.height);
    to.field("length", fins.length);
    to.field("wall_conductance", fins.wall_conductance);
    to.field("fin_thickness", fins.fin_thickness);
    to.field("conductivity", fins.conductivity);
    to.field("capacity", fins.capacity);
    to.may_refer("exit_zone", fins.exit_zone, List::zones);
    to.field("centre", fins.centre);
  }
};

template <>
struct Fields<HeatShare> {
  template <class Archive, class ShareOf>
  static void visit(Archive& to, ShareOf& share) {
    to.place("into", share.into, {PlaceKind::zone, PlaceKind::fins});
    to.field("share", share.share);
  }
};

template <>
struct Fields<Joint> {
  template <class Archive, class JointOf>
  static void visit(Archive& to, JointOf& joint) {
    to.place("to", joint.to, {PlaceKind::zone, PlaceKind::fins, PlaceKind::part, PlaceKind::skin});
    to.field("resistance", joint.resistance);
  }
};

template <>
struct Fields<Limits> {
  template <class Archive, class LimitsOf>
  static void visit(Archive& to, LimitsOf& limits) {
    to.field("throttles_at", limits.throttles_at);
    to.field("least_power", limits.least_power);
    to.field("shuts_down_at", limits.shuts_down_at);
  }
};

template <>
struct Fields<Source> {
  template <class Archive, class SourceOf>
  static void visit(Archive& to, SourceOf& source) {
    to.field("name", source.name);
    to.field("shares", source.shares);
    to.field("joints", source.joints);
    to.field("capacity", source.capacity);
    to.field("limits", source.limits);
  }
};

template <>
struct Fields<Part> {
  template <class Archive, class PartOf>
  static void visit(Archive& to, PartOf& part) {
    to.field("name", part.name);
    to.field("joints", part.joints);
    to.field("capacity", part.capacity);
  }
};

template <>
struct Fields<Skin> {
  template <class Archive, class SkinOf>
  static void visit(Archive& to, SkinOf& skin) {
    to.field("name", skin.name);
    to.field("face", skin.face);
    to.field("centre", skin.centre);
    to.field("width", skin.width);
    to.field("height", skin.height);
    to.refers("zone", skin.zone, List::zones);
    to.field("material", skin.material);
    to.field("emissivity", skin.emissivity);
    to.field("inner_film", skin.inner_film);
    to.field("areal_capacity", skin.areal_capacity);
    to.field("contact", skin.contact);
  }
};

template <>
struct Fields<Lid::Hides> {
  template <class Archive, class HidesOf>
  static void visit(Archive& to, HidesOf& hides) {
    to.field("angle", hides.angle);
    to.field("share", hides.share);
  }
};

template <>
struct Fields<Lid> {
  template <class Archive, class LidOf>
  static void visit(Archive& to, LidOf& lid) {
    to.field("present", lid.present);
    to.field("angle", lid.angle);
    to.field("clearance", lid.clearance);
    to.field("hides_hinge", lid.hides_hinge);
    to.field("edge_distance", lid.edge_distance);
  }
};

template <>
struct Fields<Device> {
  template <class Archive, class DeviceOf>
  static void visit(Archive& to, DeviceOf& device) {
    to.field("name", device.name);
    to.field("size", device.size);
    to.field("feet", device.feet);
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

}  // namespace tuft::geometry
