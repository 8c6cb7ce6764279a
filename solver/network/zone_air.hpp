// The air of a device's zones as nodes of a network: one where it is mixed, else one for each opening with
// the streams and plumes between them (docs/theory.md, N8, N9).
#pragma once

#include <map>
#include <string>
#include <utility>
#include <vector>

#include "solver/network/assembly.hpp"
#include "solver/network/vent_strips.hpp"

namespace tuft::network {

/// The streams inside a layered zone, as openings into it see them.
struct ZoneStream {
  double resistance = 0.0;  ///< largest I/A^2 in the zone
  double layered = 0.0;     ///< share of layers in its air
};

class ZoneAssembly {
 public:
  /// `parts`: as for assemble(). All must outlive it.
  ZoneAssembly(Assembly& in, ZoneAir air, const StreamOptions& streams, const std::vector<Parts>* parts)
      : in_(in), air_(air), stream_options_(streams), known_parts_(parts) {}

  /// Adds nodes and streams of all zones, and fills what the layout says of them.
  void add_zones();
  /// The node of a zone whose place is nearest.
  int zone_node_at(int z, const Vec3& place) const;
  /// The streams of the zone that a node is part of; nullptr: it is mixed, or in no zone.
  const ZoneStream* stream_at(int node) const;
  /// A vent whole, or the level strips that its zone is layered by.
  std::vector<VentStrip> strips_of(const geometry::Vent& vent) const;

 private:
  std::vector<std::pair<std::string, Vec3>> openings_of(int z) const;
  std::vector<std::pair<std::string, Vec3>> strips_in(int z);
  bool add_parts(int z);
  bool has_placed_source(int z) const;
  std::vector<PlacedHeat> placed_in(int z) const;
  double heat_into(int z) const;
  double stirred_by_level_vent(int z) const;
  ZonePlumes add_plumes(int z, const std::vector<Vec3>& places, const Parts& parts);
  double fan_flow() const;
  double layered_share(int z, const std::vector<Vec3>& places) const;
  double add_stream(const geometry::Zone& zone, const PartFace& face, const std::vector<Vec3>& places,
                    const std::vector<int>& nodes, double loss, double layered, double stirred);

  Assembly& in_;
  ZoneAir air_;
  const StreamOptions& stream_options_;
  const std::vector<Parts>* known_parts_;
  double fan_flow_ = 0.0;                       // of all fans together, as fan_flow() has it
  std::vector<std::vector<Vec3>> places_;       // of each zone's parts, as Layout::zone_parts
  std::vector<std::vector<VentStrip>> strips_;  // of a zone's single vent; none: it is whole
  std::vector<double> standing_;                // standing_share of each zone
  std::map<int, ZoneStream> streams_;           // in the layered zone that a node is part of
};

}  // namespace tuft::network
