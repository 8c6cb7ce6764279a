// Whether a steady state is one that air stays in, as results have it.
#pragma once

namespace tuft::flow2d {

/// Of a steady state (docs/field.md, F35); nothing is known of a mean in time.
struct Steadiness {
  bool known = false;
  double growth = 0.0;  ///< of the disturbance that grows fastest; < 0: of that which fades most slowly [1/s]
  double swings = 0.0;  ///< with which that one swings [Hz]; 0: it does not
  double left = 0.0;    ///< > 0: a steady state was left in which a disturbance grows at this rate [1/s]
};

}  // namespace tuft::flow2d
