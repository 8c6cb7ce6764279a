// The parts of results.json. For *json*.cpp only: this header pulls in the JSON library.
#pragma once

#include "tools/io/case_json.hpp"
#include "tools/io/run.hpp"

namespace tuft::io {

/// What every results.json begins with: format, version, program, caution, the case that it is from, what was
/// asked, files.
Json results_head(const std::string& version, Json source, const Contents& contents);
template <class Run>
Json results_head(const Run& run, const Contents& contents) {
  return results_head(run.version, {{"file", run.case_file}, {"sha256", run.case_sha256}}, contents);
}
/// A finished document as text. The same document gives the same bytes. Throws NotFinite with the path of a
/// number that is not finite.
std::string json_text(const Json& json);
/// All of results_json() before it is text, for writers that add a section of their own.
Json results_document(const Run& run, const Contents& contents);
/// The device as it is drawn: sizes, vents, zones, fans, fins, skin, lid, all in its own frame.
Json device_json(const Run& run);
/// A place of the device: `kind` and `name`.
Json place_json(const geometry::Device& device, const geometry::Place& place);
/// The thresholds between the roles.
Json thresholds_json(const geometry::RoleThresholds& thresholds);
/// One condition, solved or not.
Json condition_json(const Run& run, const study::ConditionResult& result);
/// One sweep with all its points.
Json sweep_json(const Run& run, const study::SweepResult& result);
/// One claim with its verdict.
Json claim_json(const Run& run, const study::ClaimResult& result);
/// How sure, as `uncertainty`.
Json uncertainty_json(const Run& run, const Uncertainty& uncertainty);
/// What changes between conditions that somebody will want to compare: a soft support against a firm one, and
/// the two conditions of a claim that roles change.
Json comparisons_json(const Run& run);

/// Name of a condition by its index.
const std::string& condition_name(const Run& run, int condition);

}  // namespace tuft::io
