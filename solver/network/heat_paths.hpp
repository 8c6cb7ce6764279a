// Adds a device's heat paths to its network: chips, pipes, fins, boards, skin.
#pragma once

#include <vector>

#include "geometry/device/condition.hpp"
#include "solver/network/assemble.hpp"

namespace tuft::network {

/// No temperature of its own.
constexpr int kNone = -3;

/// Where the parts of a device are found among the temperatures of its graph; kNone where a part has none.
/// All in the device's own order.
struct HeatLayout {
  std::vector<int> source, part, fins, skin;
  std::vector<int> skin_link;      ///< index into Graph::links of each patch's way to the outside
  std::vector<bool> skin_lies_on;  ///< the patch lies on something or under the lid: nobody touches it
};

/// From which side a control with hysteresis comes to rest.
enum class Approach {
  warming,  ///< a fan that follows a sensor runs by its table
  cooling   ///< it slows only once the sensor is colder by the hysteresis: by the table shifted so far down
};

/// Adds bodies and links to a network made by network::assemble for the same case and condition, with nominal
/// values (docs/theory.md, N5, N6).
///
/// A source with joints becomes a body and its power moves there; one with shares keeps heating the air
/// directly. Fins that a joint leads to become a body that heats the stream through them (`carried_heat`)
/// and keeps the chassis' own way to the room. A patch of skin lies between a zone's air and the room: inside
/// a fixed film; outside natural convection for its attitude and size and radiation, or, where something lies
/// close before it, the gap's air and radiation into that. It takes its share of the zone's walls with it.
/// Vents that take back what others let out get a link each (reentry).
HeatLayout add_heat_paths(const geometry::Case& content, const geometry::Condition& condition, Network& net,
                          Approach approach = Approach::warming);

}  // namespace tuft::network
