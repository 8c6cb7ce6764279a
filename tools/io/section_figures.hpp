// Figures and files of a solved section.
#pragma once

#include <string>
#include <vector>

#include "tools/figure/field_map.hpp"
#include "tools/io/field_figures.hpp"
#include "tools/io/field_lines.hpp"
#include "tools/io/field_run.hpp"

namespace tuft::output {

/// Streamlines of the section, in the plane's own axes. `field.section` is set.
std::vector<FlowLine> section_lines(const FieldRun& field);

/// The section as a map, turned by quarters until gravity points down the page as far as it can: the plume
/// rises. Device, support and screen are named; vents are drawn where they are cut.
figure::FieldMap section_map(const FieldRun& field, MapQuantity quantity, const std::vector<FlowLine>& lines);

/// Writes the section as a structured grid (.vts) in world coordinates. Cell data: velocity_m_s, pressure_Pa,
/// temperature_K, density_kg_m3, part (0 air, 1 chassis, 2 support, 3 screen, 4 behind a vent), solid, and
/// re-entry tracers from_NAME [-]. Field data: units. Throws VtkError.
void write_section_vts(const std::string& path, const FieldRun& field);

/// Writes its streamlines as polylines (.vtp) in world coordinates. Throws VtkError.
void write_section_lines_vtp(const std::string& path, const FieldRun& field,
                             const std::vector<FlowLine>& lines);

}  // namespace tuft::output
