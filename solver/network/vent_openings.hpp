// The vents and seams of a device as openings of a network, with the gaps before them and what jets draw
// with.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "solver/network/outside_pressure.hpp"
#include "solver/network/surface.hpp"
#include "solver/network/zone_air.hpp"

namespace tuft::network {

/// Nodes behind vents that do not open into a zone, in the device's order.
struct DuctNodes {
  std::vector<int> fan_in, fan_out, fin_entry;
};

class VentAssembly {
 public:
  /// The zones and ducts are there already. All must outlive it.
  VentAssembly(Assembly& in, const ZoneAssembly& zones, const DuctNodes& ducts);

  /// Adds the openings of all vents and seams, and the gaps before them with their ways out.
  void add_vents();
  /// Adds what jets of openings into the room draw with on the others in their face (E21).
  void add_jets();
  /// Joins the gaps before vents of one face. After add_vents.
  void add_ways_between_vents();

 private:
  int node_behind(const geometry::Vent& vent, const Vec3& centre) const;
  std::vector<Opening> openings_of(const geometry::Vent& vent, double area) const;
  double free_of_lid(const geometry::Vent& vent) const;
  const Surface* surface_at(int v) const;
  bool touched(int v) const;
  Opening vent_opening(const geometry::Vent& vent, const Vec3& centre, double area) const;
  void add_vent(int v);
  int add_covered_part(const geometry::Vent& vent, double area, const physics::FaceLaw& fabric);
  int add_gap(int v, const Surface& surface, double covered);
  void add_way(const std::string& name, int a, int b, const GapWay& way);
  std::vector<int> open_to_room(int v) const;

  Assembly& in_;
  const ZoneAssembly& zones_;
  const DuctNodes& ducts_;
  double lid_angle_;
  Surroundings close_;
  OutsidePressure room_air_;
  std::vector<int> gap_node_;
};

}  // namespace tuft::network
