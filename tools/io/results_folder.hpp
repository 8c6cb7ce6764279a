// The whole results folder of a run.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "tools/io/run.hpp"

namespace tuft::output {

/// Writes the results folder: results.json, vents.csv, vtk/NAME.vtp and vtk/NAME.flow.vtp for each solved
/// condition, and for each sweep vtk/NAME.pvd with its files in vtk/NAME/. Whole or not at all (see
/// ResultsFolder). Throws NotFinite, FolderError or VtkError. Returns the names of the files written, in a
/// fixed order.
std::vector<std::string> write_results(const Run& run, const std::filesystem::path& place);

}  // namespace tuft::output
