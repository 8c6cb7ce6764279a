// Where a tell-tale or an instrument stands before a vent.
#pragma once

#include "solver/experiment/outside_air.hpp"
#include "solver/experiment/tell_tales.hpp"

namespace tuft::bench {

/// Which part of a vent's face: a tall opening may blow above and draw below.
enum class Part { middle, upper, lower };

/// How the vent's outward normal stands to gravity.
struct Stance {
  Attitude attitude = Attitude::hanging;
  double up = 0.0;  ///< normal times up, -1 .. 1
};
/// Hanging where the normal is within 45 degrees of level (judgement), else held out level.
Stance stance_of(geometry::Face face, const Vec3& gravity);

/// A place [m] at a distance [m] before a vent's middle, or before the middle of the upper or lower quarter
/// of its height along gravity (the middle again where it has none).
Vec3 place_before(const geometry::Vent& vent, const Vec3& gravity, double distance, Part part);

/// How a tell-tale is held so that its lower third (its middle, if level) is at a place.
instruments::Hanging hang(const Cut& cut, geometry::Face face, const OutsideAir& air, const Vec3& place);

/// Even speed [m/s] along the facing that moves the tip as the air around it does: the mean of u|u| over the
/// undeflected tell-tale with the weights of `tip_weight` (derived for drag that goes with the square and
/// small leans; docs/theory.md, I21).
double even_speed(const Cut& cut, const instruments::Hanging& hanging, const instruments::AirVelocity& air);
double even_speed(const Cut& cut, const instruments::Hanging& hanging, const OutsideAir& air);

}  // namespace tuft::bench
