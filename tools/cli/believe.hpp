// Sampling a case for the commands that say how sure.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "geometry/casefile/case_file.hpp"
#include "tools/io/doubt.hpp"
#include "tools/cli/exit_status.hpp"

namespace CLI {
class App;
class Option;
}  // namespace CLI

namespace tuft::program {

struct BelieveOptions {
  int samples = 4096;  ///< at most; brought up to 16 times a power of two
  std::uint64_t seed = 1;
  bool everywhere = false;  ///< every condition that is solved, not those of the claims alone; also its vents
  bool reasons = false;     ///< also what the claims hang on in all and what to measure next; is everywhere
  std::vector<geometry::Spot> spots;          ///< of an infrared thermometer, among what could be measured
  std::vector<ensemble::FlowFactor> factors;  ///< doubt of the model
};

/// Samples the case and says what is believed of some claims. `run` holds the conditions as written.
/// Samples are shared among the processes; every one of them gets the whole answer. Throws Failure
/// (bad_input) when more values are in doubt than can be sampled.
output::Doubt believe(const output::Run& run, const std::vector<int>& claims, const BelieveOptions& options,
                      const ranks::Ranks& ranks = ranks::Alone());

/// The verdicts as results have them, each with its sentence.
std::vector<study::ClaimResult> claim_results(const geometry::Case& content, const output::Doubt& doubt);

/// "4096 samples of 61 values in doubt, 40 of them assumed, seed 1; ...", and whether more samples could turn
/// a verdict.
std::string sampling_note(const geometry::Case& content, const output::Doubt& doubt);

/// The same in short, where the answers are to fit one screen.
std::string short_sampling_note(const geometry::Case& content, const output::Doubt& doubt);

/// Samples of the commands that say how sure without being asked: enough to tell 95 % from 92 %.
constexpr int kPassingSamples = 1024;

/// Adds the option --samples of such a command.
CLI::Option* add_samples_option(CLI::App& command, int& samples);

/// Fills Run::doubt of a run of the whole case or of some conditions: its claims, and in every condition what
/// the vents do. Without samples, or where there is nothing to sample, it stays empty.
void sample(output::Run& run, int samples);

/// Exit status of a run with verdicts.
ExitStatus status_of(const output::Run& run);

/// Samples each of 16 replicates gets at most; a power of two.
int points_for(int samples);

}  // namespace tuft::program
