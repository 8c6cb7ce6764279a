// Where the parts of a starting case go: spaces, vents, fan and fins to the size of the device.
#pragma once

#include <string>
#include <vector>

#include "geometry/casefile/starter.hpp"

namespace tuft::casefile {

/// A box by two opposite corners [m].
struct StarterBox {
  geometry::Vec3 from = geometry::Vec3::Zero(), to = geometry::Vec3::Zero();
  geometry::Vec3 centre() const { return 0.5 * (from + to); }
};

/// A vent of the case to be written; lengths in m along the face's own axes.
struct StarterVent {
  std::string name;
  geometry::Face face = geometry::Face::base;
  double first = 0.0, second = 0.0;  ///< centre
  double width = 0.0, height = 0.0;
  std::string cover;   ///< as written
  std::string behind;  ///< name of what lies behind; empty: left to the reader
};

/// Places for everything a starting case names.
struct StarterLayout {
  bool two_zones = false;     ///< a slim notebook: the fan's bay, and the board beside it
  StarterBox fan_bay, board;  ///< with two zones
  std::vector<StarterVent> vents;
  int channels = 0;         ///< of the fins behind a blower's outlet; 0: no fins
  double fin_height = 0.0;  ///< [m]
};

/// Lays a device out. Vents take round parts of their faces; nothing overlaps.
StarterLayout lay_out_starter(const Starter& starter);

/// Name of the vent on a face: "base-grille", "right-slots", "keyboard", "left-outlet".
std::string starter_vent_name(const Starter& starter, geometry::Face face);

}  // namespace tuft::casefile
