// Sampling a case for the commands that say how sure.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "geometry/casefile/case_file.hpp"
#include "tools/output/doubt.hpp"
#include "tools/tuft/exit_status.hpp"

namespace tuft::program {

struct BelieveOptions {
  int samples = 4096;  ///< at most; brought up to 16 times a power of two
  std::uint64_t seed = 1;
  bool reasons = false;  ///< also what the claims hang on and what to measure next, in every condition
  std::vector<geometry::Spot> spots;          ///< of an infrared thermometer, among what could be measured
  std::vector<ensemble::FlowFactor> factors;  ///< doubt of the model
};

/// Samples the case and says what is believed of some claims. `run` holds the conditions as written.
/// Samples are shared among the processes; every one of them gets the whole answer.
output::Doubt believe(const output::Run& run, const std::vector<int>& claims, const BelieveOptions& options,
                      const ranks::Ranks& ranks = ranks::Alone());

/// The verdicts as results have them, each with its sentence.
std::vector<study::ClaimResult> claim_results(const geometry::Case& content, const output::Doubt& doubt);

/// "4096 samples of 61 values in doubt, seed 1; ...".
std::string sampling_note(const output::Doubt& doubt);

/// Exit status of a run with verdicts.
ExitStatus status_of(const output::Run& run);

/// Samples each of 16 replicates gets at most; a power of two.
int points_for(int samples);

}  // namespace tuft::program
