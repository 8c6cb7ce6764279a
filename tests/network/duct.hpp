// A warm duct with a fan that blows against its buoyancy: invented, small enough for a hand.
#pragma once

#include "solver/network/continuation_parameters.hpp"

namespace tuft::testing {

/// One well-mixed space, 0.3 m between the fan at its top, which blows in and downwards, and one opening at
/// its bottom, heated by 20 W, with walls that lose 0.2 W/K. At fan_speed 1 the fan gives 1 Pa shut (at its
/// curve's density) and 3 l/s free. `fan_speed`, `power` multiply; `tilt` turns the duct about the x axis.
network::Model duct(const network::Setting& setting);

/// The same, what a hand needs to know.
struct DuctNumbers {
  double ambient = 293.15, height = 0.3, area = 2e-3, inertial = 1.4, power = 20.0, wall = 0.2;
  double depth = 5e-3, shut_off = 1.0, free_delivery = 3e-3, speed = 80.0;
};

/// Two spaces side by side, 0.3 m high, warmed by 8 W each, joined at the bottom; each has one opening, at
/// its top. Either may draw and the other let out: what is warmed twice rises.
network::Model two_shafts(const network::Setting& setting);

}  // namespace tuft::testing
