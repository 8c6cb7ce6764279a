// The parts of results.json. For *json*.cpp only: this header pulls in the JSON library.
#pragma once

#include <nlohmann/json.hpp>

#include "tools/output/run.hpp"

namespace tuft::output {

using Json = nlohmann::ordered_json;

/// All of results_json() before it is text, for writers that add a section of their own.
Json results_document(const Run& run, const std::vector<std::string>& files);
/// Name, size and vents of the device.
Json device_json(const Run& run);
/// The thresholds between the roles.
Json thresholds_json(const geometry::RoleThresholds& thresholds);
/// One condition, solved or not.
Json condition_json(const Run& run, const study::ConditionResult& result);
/// One sweep with all its points.
Json sweep_json(const Run& run, const study::SweepResult& result);
/// One claim with its verdict.
Json claim_json(const Run& run, const study::ClaimResult& result);

}  // namespace tuft::output
