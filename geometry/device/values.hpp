// A walk over every value of a case that may have a spread.
#pragma once

#include "geometry/device/condition.hpp"

namespace tuft::geometry {

// The walk is written down once, for reading and for changing; `Where` is const or not, as the visitor wants.
// A value that is missing here would never be sampled: tests/study/inputs_test.cpp counts them against the
// reader.

template <class Joints, class Visit>
void each_joint(Joints& joints, const Visit& visit) {
  for (auto& joint : joints) visit(joint.resistance);
}

template <class CoverOf, class Visit>
void each_cover_value(CoverOf& cover, const Visit& visit) {
  visit(cover.open_ratio);
  visit(cover.hole);
  visit(cover.thickness);
  visit(cover.permeability);
  visit(cover.inertia);
  visit(cover.loss);
}

template <class DeviceOf, class Visit>
void each_opening_value(DeviceOf& device, const Visit& visit) {
  for (auto& zone : device.zones) visit(zone.wall_conductance);
  for (auto& passage : device.passages) {
    visit(passage.width);
    visit(passage.height);
    visit(passage.length);
    visit(passage.bends);
  }
  for (auto& vent : device.vents) {
    each_cover_value(vent.cover, visit);
    visit(vent.blocked);
    visit(vent.leak_area);
    for (auto& from : vent.takes_back) visit(from.share);
  }
}

template <class DeviceOf, class Visit>
void each_moving_value(DeviceOf& device, const Visit& visit) {
  for (auto& fan : device.fans) {
    visit(fan.diameter);
    visit(fan.thickness);
    visit(fan.speed);
    visit(fan.flow_factor);
    visit(fan.pressure_factor);
    visit(fan.follows.hysteresis);
  }
  for (auto& fins : device.fin_stacks) {
    visit(fins.count);
    visit(fins.gap);
    visit(fins.height);
    visit(fins.length);
    visit(fins.wall_conductance);
    visit(fins.fin_thickness);
    visit(fins.conductivity);
    visit(fins.capacity);
  }
}

template <class DeviceOf, class Visit>
void each_heat_value(DeviceOf& device, const Visit& visit) {
  for (auto& source : device.sources) {
    for (auto& share : source.shares) visit(share.share);
    each_joint(source.joints, visit);
    visit(source.capacity);
    visit(source.limits.throttles_at);
    visit(source.limits.least_power);
    visit(source.limits.shuts_down_at);
  }
  for (auto& part : device.parts) {
    each_joint(part.joints, visit);
    visit(part.capacity);
  }
  for (auto& skin : device.skins) {
    visit(skin.emissivity);
    visit(skin.inner_film);
    visit(skin.areal_capacity);
    visit(skin.contact);
  }
  visit(device.lid.angle);
  visit(device.lid.clearance);
  visit(device.lid.edge_distance);
}

/// Calls visit(Value&) (const Value& for a const case) for every value of the case, always in the same order.
template <class CaseOf, class Visit>
void for_each_value(CaseOf& content, const Visit& visit) {
  visit(content.device.feet);
  each_opening_value(content.device, visit);
  each_moving_value(content.device, visit);
  each_heat_value(content.device, visit);
  visit(content.room.temperature);
  visit(content.room.altitude);
  visit(content.room.relative_humidity);
  for (auto& support : content.supports) {
    visit(support.gap);
    visit(support.edge_gap);
    visit(support.sink);
    visit(support.covered);
    visit(support.permeability);
    visit(support.thickness);
  }
  for (auto& load : content.loads) {
    for (auto& entry : load.powers) visit(entry.power);
    for (auto& setting : load.fans) visit(setting.speed);
  }
  for (auto& condition : content.conditions) visit(condition.lid_angle);
}

}  // namespace tuft::geometry
