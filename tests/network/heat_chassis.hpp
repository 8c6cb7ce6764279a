// The test chassis with heat paths: invented, every number ours.
#pragma once

#include "geometry/device/condition.hpp"
#include "solver/network/controls.hpp"

namespace tuft::testing {

/// Bodies of the heat chassis by index into Device::sources, parts and skins.
enum HeatSource { kProcessor = 0, kGraphics = 1 };
enum HeatPart { kPipe = 0, kBoard = 1 };
enum HeatSkin { kPalmRest = 0, kBaseSkin = 1 };

/// The test chassis with two chips on one heat pipe that ends in the fins, a board that takes a part of their
/// heat and gives it to the air of the board zone, and two patches of skin: one on the top over the board,
/// one on the base under it. The chips throttle at 363.15 K and shut down at 373.15 K. Loads as there, their
/// power shared 6 to 4 between processor and graphics.
geometry::Case heat_chassis();

/// A network with its heat paths, ready to solve.
struct HeatedNetwork {
  network::Network net;
  network::HeatLayout layout;
};
HeatedNetwork heated_network(const geometry::Case& content, int condition);

}  // namespace tuft::testing
