// The fields of a whole case that decide how it is solved: the device's, and those of its use.
#pragma once

#include "geometry/device/condition.hpp"
#include "geometry/device/fields_device.hpp"

namespace tuft::geometry {

template <>
struct Fields<Room> {
  template <class Archive, class RoomOf>
  static void visit(Archive& to, RoomOf& room) {
    to.field("temperature", room.temperature);
    to.field("altitude", room.altitude);
    to.field("relative_humidity", room.relative_humidity);
  }
};

template <>
struct Fields<Pose> {
  template <class Archive, class PoseOf>
  static void visit(Archive& to, PoseOf& pose) {
    to.field("name", pose.name);
    to.field("to_world", pose.to_world);
  }
};

template <>
struct Fields<Support> {
  template <class Archive, class SupportOf>
  static void visit(Archive& to, SupportOf& support) {
    to.field("name", support.name);
    to.field("kind", support.kind);
    to.field("gap_given", support.gap_given);
    to.field("gap", support.gap);
    to.field("edge_gap", support.edge_gap);
    to.field("sink", support.sink);
    to.field("covered", support.covered);
    to.field("permeability", support.permeability);
    to.field("thickness", support.thickness);
    to.refer("covers", support.covers, List::vents);
    to.field("touches_given", support.touches_given);
    to.refer("touches", support.touches, List::vents);
  }
};

template <>
struct Fields<SourcePower> {
  template <class Archive, class PowerOf>
  static void visit(Archive& to, PowerOf& power) {
    to.refers("source", power.source, List::sources);
    to.field("power", power.power);
  }
};

template <>
struct Fields<FanSetting> {
  template <class Archive, class SettingOf>
  static void visit(Archive& to, SettingOf& setting) {
    to.refers("fan", setting.fan, List::fans);
    to.field("state", setting.state);
    to.field("speed", setting.speed);
  }
};

template <>
struct Fields<Load> {
  template <class Archive, class LoadOf>
  static void visit(Archive& to, LoadOf& load) {
    to.field("name", load.name);
    to.field("powers", load.powers);
    to.field("fans", load.fans);
  }
};

template <>
struct Fields<Condition> {
  template <class Archive, class ConditionOf>
  static void visit(Archive& to, ConditionOf& condition) {
    to.field("name", condition.name);
    to.refers("pose", condition.pose, List::poses);
    to.refers("support", condition.support, List::supports);
    to.refers("load", condition.load, List::loads);
    to.field("lid_given", condition.lid_given);
    to.field("lid_angle", condition.lid_angle);
  }
};

template <>
struct Fields<RoleThresholds> {
  template <class Archive, class ThresholdsOf>
  static void visit(Archive& to, ThresholdsOf& thresholds) {
    to.field("still_velocity", thresholds.still_velocity);
    to.field("idle_share", thresholds.idle_share);
    to.field("idle_velocity", thresholds.idle_velocity);
    to.field("both_ways_ratio", thresholds.both_ways_ratio);
    to.field("margin", thresholds.margin);
  }
};

template <>
struct Fields<Case> {
  template <class Archive, class CaseOf>
  static void visit(Archive& to, CaseOf& content) {
    to.field("device", content.device);
    to.field("room", content.room);
    to.field("poses", content.poses);
    to.field("supports", content.supports);
    to.field("loads", content.loads);
    to.field("conditions", content.conditions);
    to.field("thresholds", content.thresholds);
  }
};

}  // namespace tuft::geometry
