// Parallel fins a fan blows through: the flow side.
#pragma once

#include "solver/physics/face_law.hpp"

namespace tuft::elements {

/// Channels between parallel fins; lengths in m, all > 0. `count` channels need not be a whole number.
struct FinChannels {
  double count = 0.0;
  double gap = 0.0;     ///< clear width of one channel
  double height = 0.0;  ///< of the channels
  double length = 0.0;  ///< along the flow

  double area() const { return count * gap * height; }  ///< of all channels [m2]
};

/// Fins in a duct of `face_area` [m2] >= channels.area(), on the face velocity: laminar friction in
/// rectangular channels, developing-length loss K(inf), sudden narrowing into the channels and widening
/// behind them by the area ratio. The exit loss of whatever the duct opens into is not included. Range:
/// laminar, channel Re < 2300, x+ = length/(Dh Re) >= 0.005 (`passage` says why). Throws
/// std::invalid_argument if the face is smaller than the channels.
FaceLaw fin_stack(const FinChannels& channels, double face_area);

}  // namespace tuft::elements
