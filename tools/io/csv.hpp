// vents.csv: one row per condition and vent, for spreadsheets.
#pragma once

#include <string>
#include <vector>

#include "tools/io/run.hpp"

namespace tuft::output {

/// One field of a comma-separated file, quoted as RFC 4180 says where it has to be.
std::string csv_field(const std::string& text);

/// A number so that it reads back exactly; never "-0".
std::string csv_number(double value);

/// "yes" or "no".
std::string csv_yes_no(bool value);

/// Fields as one line, ended by CR LF.
std::string csv_line(const std::vector<std::string>& fields);

/// The table with a header row that states the units; lines end with CR LF (RFC 4180). Numbers are written so
/// that they read back exactly. Conditions without a solution have no rows. Throws NotFinite when a number is
/// not finite.
std::string vents_csv(const Run& run);

}  // namespace tuft::output
