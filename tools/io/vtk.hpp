// Solved conditions and fields as VTK files, for any program that reads VTK's XML formats.
//
// Each function returns the bytes of a file: VTK never writes one itself, as it does not bear a full disk.
//
// Coordinates are world coordinates [m]: the device frame turned by the pose about the device's origin, +Z
// up.
#pragma once

#include <string>
#include <vector>

#include "geometry/device/device.hpp"
#include "geometry/device/pose.hpp"
#include "solver/study/result.hpp"
#include "tools/io/field_lines.hpp"
#include "tools/io/field_run.hpp"

namespace tuft::io {

/// One layer as an image of one layer of cells (.vti), turned by its direction matrix. Cell data:
/// velocity_m_s (vector, world frame), pressure_Pa (p', against still air outside at the same height),
/// temperature_K, density_kg_m3, heat_W_m2 (given to the air), depth_m, height_m (of the layer's middle over
/// the base), layer (its number), part (zone; zones + fin stack; -1 solid), solid (0 or 1). Field data:
/// units, layer_name, parts.
std::string layer_vti(const FieldRun& field, int layer);

/// Streamlines as polylines. Point data: speed_m_s, temperature_K. Cell data: layer, begins, ends
/// (words of LineEnd), from_vent, to_vent (names or empty).
std::string lines_vtp(const FieldRun& field, const std::vector<FlowLine>& lines);

/// The condition as the field has it, for the writers of vents: the network's result with the field's flows,
/// roles, shares, velocities and temperatures.
study::ConditionResult as_condition(const FieldRun& field);

/// The section as a structured grid (.vts) in world coordinates. Cell data: velocity_m_s, pressure_Pa,
/// temperature_K, density_kg_m3, part (0 air, 1 chassis, 2 support, 3 screen, 4 behind a vent), solid, and
/// recirculation tracers from_NAME [-]. Field data: units.
std::string section_vts(const FieldRun& field);

/// Its streamlines as polylines (.vtp) in world coordinates.
std::string section_lines_vtp(const FieldRun& field, const std::vector<FlowLine>& lines);

/// The device in its pose: the edges of the box (lines), leaks as points, vents as rectangles. Cell
/// data: part (0 box, 1 vent, 2 leak), name, role (0 intake, 1 exhaust, 2 both ways, 3 idle, 4 shut; -1 for
/// the box), firm, share, and the vent's flows, velocity, pressures and temperatures, units in their names;
/// temperature_K is of the air that passes. The box has the room's temperatures, and zero otherwise. Field
/// data: title, units, and whose flows they are (`flows`: "network", "field").
std::string device_vtp(const geometry::Device& device, const geometry::Pose& pose,
                       const study::ConditionResult& result, const std::string& flows = "network");

/// One point a vent (two for a vent that breathes both ways) at the vent's centre, ready for arrow
/// glyphs: point data velocity_m_s (vector, mean over the face, the way the air goes), speed_m_s, role and
/// name; field data as above.
std::string flow_vtp(const geometry::Device& device, const geometry::Pose& pose,
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
