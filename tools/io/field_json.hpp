// results.json of a field run.
#pragma once

#include <string>
#include <vector>

#include "tools/io/field_run.hpp"

namespace tuft::output {

/// The network's results of the condition as `tuft predict` writes them, with the field beside them: section
/// `field` and, at every vent of the condition, what role the field gives it. The same run gives the same
/// bytes. Throws NotFinite.
std::string field_json(const FieldRun& field, const std::vector<std::string>& files);

}  // namespace tuft::output
