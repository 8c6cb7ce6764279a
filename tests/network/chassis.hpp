// A flat chassis made for the tests: invented, every number ours.
#pragma once

#include "geometry/device/condition.hpp"

namespace tuft::testing {

/// Vents of the chassis, by index.
enum ChassisVent { kGrille = 0, kSpare = 1, kOutlet = 2, kSeamLeft = 3, kSeamRight = 4 };

/// A slim box, 320 x 220 x 18 mm on 4 mm feet. One blower sits over a generous grille in the base and blows
/// through fins to a slot comb at the rear; it can also draw, through a narrow passage, from the warm space
/// beside it, whose own large opening in the base has no fan behind it. Loads: 0 busy (40 W, full speed), 1
/// slow (20 W, a quarter of the speed), 2 stopped (12 W, fan still), 3 cold (no power, full speed). Supports:
/// 0 air, 1 table, 2 cushion under the grille alone. Poses: flat and the five others, in the order of
/// pose_words(). No conditions.
geometry::Case test_chassis();

/// Adds a condition and returns its index.
int add_condition(geometry::Case& content, const std::string& pose, int support, int load);

}  // namespace tuft::testing
