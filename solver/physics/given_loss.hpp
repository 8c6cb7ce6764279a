// A vent whose loss coefficient somebody has measured or read from a data sheet.
#pragma once

#include "solver/physics/sharp_opening.hpp"

namespace tuft::physics {

/// Loss coefficient K [-] > 0 on the face velocity, entry and exit included. Near zero flow it goes over into
/// the creeping flow through the bare opening: nothing put into an opening makes it more open than that.
FaceLaw given_loss(double loss, const Opening& face);

}  // namespace tuft::physics
