// The one place that knows both the device and the network.
#pragma once

#include <vector>

#include "geometry/device/condition.hpp"
#include "solver/network/graph.hpp"
#include "solver/network/zone_parts.hpp"
#include "solver/network/zone_plume.hpp"

namespace tuft::network {

/// What stands before a vent in this condition.
struct VentSurroundings {
  bool near_surface = false;  ///< its face lies on, or under, something
  double gap = 0.0;           ///< clear gap before its centre [m], where near_surface
  double covered = 0.0;       ///< share of its area pressed shut or laid over [-]
  double hidden = 0.0;        ///< share of its area hidden by the lid [-]
};

/// A node that holds a part of a zone's air.
struct ZonePart {
  int node = 0;
  double share = 1.0;  ///< of the zone's volume, and so of its heat and walls [-]
};

/// Heat of a source whose place in a zone is given, by the zone's parts.
struct PlacedShares {
  PlacedHeat heat;
  std::vector<double> shares;  ///< as Layout::zone_parts [-], sum 1
};

/// Where the parts of a device are found in its graph. All vectors are in the device's own order.
struct Layout {
  std::vector<VentSurroundings> front;  ///< what stands before each vent
  std::vector<int> zone_node;           ///< node of each zone; of a layered one, that with most of its air
  std::vector<std::vector<ZonePart>> zone_parts;  ///< nodes of each zone: one where it is well mixed
  std::vector<Parts> parts;                       ///< how each zone's box is divided; nothing where it is not
  std::vector<PlacedShares> placed;               ///< sources whose place is given
  std::vector<std::vector<int>>
      vent_openings;             ///< openings of each vent: none when shut, two when half covered
  std::vector<int> vent_node;    ///< node behind each vent
  std::vector<int> fan_element;  ///< index into Graph::fans
  std::vector<int> fin_opening;  ///< opening of each fin stack's channels
  std::vector<int> fin_node;     ///< node behind the fins, which their heat warms
};

struct Network {
  Graph graph;
  Layout layout;
};

/// How the air of a zone is taken.
enum class ZoneAir {
  mixed,   ///< one node a zone
  layered  ///< a node for each opening of the zone, with the streams between them (N8)
};

/// Mean temperature of a zone's air in a state, by volume, and that of its warmest part [K].
double zone_temperature(const Layout& layout, std::size_t zone, const Eigen::VectorXd& temperature);
double warmest_in_zone(const Layout& layout, std::size_t zone, const Eigen::VectorXd& temperature);

/// Power of a source under a load [W]; nothing where the load does not name it.
double power_under(const geometry::Load& load, int source);

/// Network of a device in one condition, with the nominal values. Elements stand in the order of their names,
/// so that the order in which a person wrote things down does not change a bit of the result. `parts` is the
/// Layout::parts of an earlier network: a box among the same places need not be divided again.
Network assemble(const geometry::Case& content, const geometry::Condition& condition,
                 ZoneAir air = ZoneAir::layered, const StreamOptions& streams = {},
                 const std::vector<Parts>* parts = nullptr);

}  // namespace tuft::network
