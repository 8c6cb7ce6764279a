// The folder of a warm-up.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "tools/io/warmup.hpp"

namespace tuft::output {

/// The summary as JSON text: what the terminal shows, in SI units, without the series. Same warm-up, same
/// bytes.
std::string warmup_json(const Warmup& warmup, const std::vector<std::string>& files);

/// Writes results.json, warmup.csv and warmup.svg, whole or not at all (see ResultsFolder). Throws NotFinite
/// or FolderError. Returns the names of the files written, in a fixed order.
std::vector<std::string> write_warmup(const Warmup& warmup, const std::filesystem::path& place);

}  // namespace tuft::output
