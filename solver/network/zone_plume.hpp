// Plumes over the sources of a zone whose place is known: what they draw in between its openings, and which
// part of the zone's air their heat reaches (docs/theory.md, N9).
#pragma once

#include <vector>

#include "solver/network/plume_stream.hpp"
#include "solver/network/zone_parts.hpp"

namespace tuft::network {

/// Heat given to the air of a zone within a box.
struct PlacedHeat {
  int source = 0;                                   ///< index into Device::sources
  int zone = 0;                                     ///< index into Device::zones
  Vec3 centre = Vec3::Zero(), size = Vec3::Zero();  ///< [m]
  double power = 0.0;                               ///< [W]
};

/// The zone as plumes see it.
struct PlumeZone {
  Vec3 centre = Vec3::Zero(), size = Vec3::Zero();  ///< its box [m]
  const std::vector<Vec3>* places = nullptr;        ///< of its openings, as for parts_of_box
  const Parts* parts = nullptr;
  Ambient ambient;
  double entrainment = 1.0;  ///< times what plumes draw in [-]
  double heat = 0.0;         ///< given to all its air, placed or not [W]
};

struct ZonePlumes {
  std::vector<PlumeStream> streams;         ///< beside the stream through each face of the parts
  std::vector<std::vector<double>> shares;  ///< of each heat, by parts [-], sum 1
  std::vector<double> volume;  ///< share of the zone's air that is as warm as each part [-], sum 1
};

/// Where a plume has room, its heat goes to the zone's uppermost parts. Where it fills the section, or where
/// there is no up, the heat goes to the parts in which its box lies.
ZonePlumes plumes_in(const PlumeZone& zone, const std::vector<PlacedHeat>& heats);

}  // namespace tuft::network
