// What a results file must look like below its first level.
#pragma once

#include <nlohmann/json.hpp>

namespace tuft::page {

/// Throws ResultsError with the place in the file (`conditions[2].vents[0].share`), what is found there and
/// what must stand there, at the first value of another kind than the program writes. Keys that it does not
/// know are left alone; so are the model, which its own reader checks, and sections of other commands.
void require_shape(const nlohmann::ordered_json& results);

}  // namespace tuft::page
