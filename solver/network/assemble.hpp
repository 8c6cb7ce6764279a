// The one place that knows both the device and the network.
#pragma once

#include <vector>

#include "geometry/device/condition.hpp"
#include "solver/network/graph.hpp"

namespace tuft::network {

/// What stands before a vent in this condition.
struct VentSurroundings {
  bool near_surface = false;  ///< its face lies on, or under, something
  double gap = 0.0;           ///< clear gap before its centre [m], where near_surface
  double covered = 0.0;       ///< share of its area pressed shut or laid over [-]
  double hidden = 0.0;        ///< share of its area hidden by the lid [-]
};

/// Where the parts of a device are found in its graph. All vectors are in the device's own order.
struct Layout {
  std::vector<VentSurroundings> front;  ///< what stands before each vent
  std::vector<int> zone_node;           ///< node of each zone
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

/// Power of a source under a load [W]; nothing where the load does not name it.
double power_under(const geometry::Load& load, int source);

/// Network of a device in one condition, with the nominal values. Elements stand in the order of their names,
/// so that the order in which a person wrote things down does not change a bit of the result.
Network assemble(const geometry::Case& content, const geometry::Condition& condition);

}  // namespace tuft::network
