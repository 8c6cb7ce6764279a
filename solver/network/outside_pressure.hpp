// What the room's moving air does at the device's openings.
#pragma once

#include "geometry/device/condition.hpp"

namespace tuft::network {

/// Pressure of the room's air before each face of a device in one condition, against the still air beside it:
/// Cp rho U^2 / 2 with the coefficients of a block (physics/wind_pressure.hpp), the face's true attitude in
/// the room, and the draught's speed less what the support keeps from the device (theory.md, G8). Zero in
/// still air, exactly.
///
/// What stands in the way, all of it judgement:
/// - the mouth of a gap (under the base, under a closed lid) lies at the foot of the face beside it and has
///   that face's pressure; air drawn through fabric comes out of the bedding and feels no draught;
/// - an open lid is a screen behind the top: in front of it the top has the pressure of the screen's front,
///   and the hinge slot, at its foot, the mean of its front and of the rear face. Both grow with the square
///   of the sine of the lid's angle, so that a closed lid and one folded flat are no screen;
/// - the person before the device, and furniture around it, are not there.
class OutsidePressure {
 public:
  OutsidePressure(const geometry::Case& content, const geometry::Condition& condition, double density);

  /// [Pa] before the face of a vent that stands free.
  double before(geometry::Face face) const;
  /// [Pa] at the mouth of a gap at the edge of a face: `outward` is the unit vector, along one of the
  /// device's axes, in which the gap's air leaves.
  double at_mouth(const geometry::Vec3& outward) const { return moves() ? pressure(outward) : 0.0; }
  bool moves() const { return head_ > 0.0; }

 private:
  double pressure(const geometry::Vec3& normal) const;

  geometry::Vec3 size_;
  Eigen::Matrix3d to_world_;
  geometry::Vec3 from_;    // level, in the room
  geometry::Vec3 screen_;  // normal of the screen's front, in the device frame
  double head_ = 0.0;      // rho U^2 / 2 [Pa]
  double screened_ = 0.0;  // 0 no screen .. 1 an upright one
};

}  // namespace tuft::network
