// The air around a device in a solved condition: what every vent draws and blows, what warm skin sends up;
// and the air before a vent as a solved section has it, where what stands in the way bends it and what lies
// across is left out.
#pragma once

#include <optional>
#include <vector>

#include "geometry/device/condition.hpp"
#include "solver/flow2d/section_result.hpp"
#include "solver/physics/background_air.hpp"
#include "solver/physics/near_vent.hpp"
#include "solver/physics/tell_tale.hpp"
#include "solver/study/result.hpp"

namespace tuft::experiment {

using geometry::Vec3;

/// The part of a vent's face that is open: not taped, pressed shut or hidden by the lid. The height gives way
/// (judgement; the case says how much is shut, not which part). Leaks: spread over their rectangle.
physics::Face open_face(const geometry::Vent& vent, const study::VentResult& result);

/// A vent's own frame in the device's: columns width, (height, perhaps turned round), outward normal.
Eigen::Matrix3d vent_axes(geometry::Face face);

/// Air around a device as a function of place, in the device frame; made once, asked often.
///
/// Vents together as `physics::air_from` adds them (docs/theory.md, I9). Above skin that faces up a plume
/// of the heat it gives by convection (what it gives less what it radiates), along skin that stands a laminar
/// layer (I7, I8; I20); both are added to it as vectors. Neither the support nor the device's own body
/// stands in the way of anything: beside a table's surface the speeds are too high.
class OutsideAir {
 public:
  /// @pre `result` is solved and belongs to `content`.
  OutsideAir(const geometry::Case& content, const study::ConditionResult& result);

  /// Velocity [m/s] and temperature [K] at a place [m] outside the device.
  physics::AirAt at(const Vec3& place) const;

  /// Standard gravity in the device frame [m/s2].
  const Vec3& gravity() const { return gravity_; }
  double room() const { return room_; }            ///< [K]
  double density() const { return density_; }      ///< of the room's air [kg/m3]
  double viscosity() const { return viscosity_; }  ///< kinematic [m2/s]
  const physics::AirState& state() const { return state_; }
  /// Speed of the room's draught [m/s] as the case says or assumes it: root of the mean square, least and
  /// largest.
  const physics::Range& draught() const { return draught_; }

 private:
  struct WarmSkin {
    Vec3 centre;
    Eigen::Matrix3d axes;  ///< its sides and its outward normal
    physics::WarmPatch patch;
    bool stands = false;       ///< upright: a layer; else it faces up: a plume
    double temperature = 0.0;  ///< [K]
    double along = 1.0;        ///< gravity along it over g
    double reach = 0.0;        ///< from its middle to its lower and upper end [m]
  };
  void add_skin(const geometry::Skin& skin, const study::SkinResult& result);
  physics::AirAt of_skin(const WarmSkin& skin, const Vec3& place) const;

  Vec3 gravity_;
  double room_ = 0.0, density_ = 0.0, viscosity_ = 0.0;
  physics::AirState state_;
  physics::Range draught_;
  std::vector<physics::PlacedVent> vents_;
  std::vector<WarmSkin> skins_;
};

/// A section's field, asked at places in the device frame. It is a plane flow: the vent as if endless across
/// the plane, its mean speed kept, so that a jet dies away more slowly and an intake reaches further than
/// before a short one. docs/theory.md, I24.
class SectionAir {
 public:
  /// Keeps a reference. @pre `section` is usable and of the device and pose that are asked about.
  explicit SectionAir(const flow2d::SectionResult& section) : section_(section) {}

  /// Whether the plane cuts a vent (index into Device::vents) with air before it.
  bool cuts(int vent) const;
  /// Velocity [m/s], in the plane, and temperature [K] at a place [m], projected on the plane: linear between
  /// the middles of cells, of which only those of air count. Nothing inside what stands in the plane and
  /// beyond the field's rim.
  std::optional<physics::AirAt> at(const Vec3& place) const;
  /// The same velocity; still air where there is none to ask.
  Vec3 velocity(const Vec3& place) const;
  /// Whether a strip held so lies in the plane, within 20 degrees: of one that stands across it the section
  /// knows nothing (judgement).
  bool holds(const physics::Hanging& hanging) const;

 private:
  const flow2d::SectionResult& section_;
};

}  // namespace tuft::experiment
