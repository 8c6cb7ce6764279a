// Solved conditions as VTK files (.vtp, .pvd), for any program that reads VTK's XML formats.
//
// Coordinates are world coordinates [m]: the device frame turned by the pose about the device's origin, +Z
// up.
#pragma once

#include <stdexcept>
#include <string>
#include <vector>

#include "geometry/device/device.hpp"
#include "geometry/device/pose.hpp"
#include "solver/study/result.hpp"

namespace tuft::io {

/// A VTK file could not be written whole.
class VtkError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// Writes the device in its pose: the edges of the box (lines), leaks as points, vents as rectangles. Cell
/// data: part (0 box, 1 vent, 2 leak), name, role (0 intake, 1 exhaust, 2 both ways, 3 idle; -1 for the box),
/// firm, share, and the vent's flows, velocity, pressures and temperatures, units in their names;
/// temperature_K is of the air that passes. The box has the room's temperatures, and zero otherwise. Field
/// data: title, units, and whose flows they are (`flows`: "network", "field"). Throws VtkError.
void write_device_vtp(const std::string& path, const geometry::Device& device, const geometry::Pose& pose,
                      const study::ConditionResult& result, const std::string& flows = "network");

/// Writes one point a vent (two for a vent that breathes both ways) at the vent's centre, ready for arrow
/// glyphs: point data velocity_m_s (vector, mean over the face, the way the air goes), speed_m_s, role and
/// name; field data as above. Throws VtkError.
void write_flow_vtp(const std::string& path, const geometry::Device& device, const geometry::Pose& pose,
                    const study::ConditionResult& result, const std::string& flows = "network");

/// One file of a collection, and the value of the "time" that the collection runs over.
struct CollectionEntry {
  double value = 0.0;  ///< for a sweep the angle [degrees]
  int part = 0;
  std::string file;  ///< relative to the collection
};

/// The text of a .pvd file.
std::string collection_pvd(const std::vector<CollectionEntry>& entries);

}  // namespace tuft::io
