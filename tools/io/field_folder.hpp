// The folder of a field run.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "tools/io/field_run.hpp"

namespace tuft::output {

/// Writes results.json, agreement.csv, a .vti a layer with its collection, streamlines and vents as .vtp, and
/// figures as SVG and PNG, whole or not at all (see ResultsFolder). Throws NotFinite, FolderError, VtkError
/// or figure::PngError. Returns the names of the files written, in a fixed order.
std::vector<std::string> write_field(const FieldRun& field, const std::filesystem::path& place);

}  // namespace tuft::output
