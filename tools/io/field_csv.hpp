// agreement.csv: network and field side by side, one row a vent.
#pragma once

#include <string>

#include "tools/io/field_run.hpp"

namespace tuft::output {

/// The table with a header row that states the units; RFC 4180, numbers that read back exactly. Differences
/// are field less network.
std::string agreement_csv(const FieldRun& field);

}  // namespace tuft::output
