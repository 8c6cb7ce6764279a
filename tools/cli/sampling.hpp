// Sampling a case for the commands that say how sure.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "geometry/device/condition.hpp"
#include "solver/study/sampler.hpp"
#include "tools/cli/console.hpp"
#include "tools/cli/field_answers.hpp"
#include "tools/io/run.hpp"

namespace CLI {
class App;
class Option;
}  // namespace CLI

namespace tuft::cli {

struct SamplingOptions {
  int samples = 4096;  ///< at most; brought up to 16 times a power of two
  std::uint64_t seed = 1;
  bool everywhere = false;  ///< every condition that is solved, not those of the claims alone; also its vents
  bool reasons = false;     ///< also what the claims depend on in all and what to measure next; is everywhere
  std::vector<geometry::Spot> spots;  ///< of an infrared thermometer, among what could be measured
  FieldAnswers field;                 ///< model uncertainty
  bool show_progress = false;         ///< on a terminal, where it takes over a second
};

/// Samples the case and says what is known of some claims. `run` holds the conditions as written.
/// Samples are shared among the processes; every one of them gets the whole answer. Throws Failure
/// (bad_input) when more values are uncertain than can be sampled.
io::Uncertainty sample_case(const io::Run& run, const std::vector<int>& claims,
                            const SamplingOptions& options, const study::Ranks& ranks = study::Alone());

/// The verdicts as results have them, each with its sentence.
std::vector<study::ClaimResult> claim_results(const geometry::Case& content,
                                              const io::Uncertainty& uncertainty);

/// "4096 samples of 61 uncertain values, 40 of them assumed, seed 1; ...", and whether more samples could
/// turn a verdict.
std::string sampling_note(const geometry::Case& content, const io::Uncertainty& uncertainty);

/// The same in short, where the answers are to fit one screen.
std::string short_sampling_note(const geometry::Case& content, const io::Uncertainty& uncertainty);

/// Samples of the commands that say how sure without being asked: enough to tell 95 % from 92 %.
constexpr int kPassingSamples = 1024;

/// Adds the option --samples of such a command.
CLI::Option* add_samples_option(CLI::App& command, int& samples);

/// --inputs-only of every command that samples.
CLI::Option* add_inputs_only_option(CLI::App& command, bool& inputs_only);

/// --samples and --seed of the commands that are asked how sure; `about` says what the samples are, at most
/// `most`.
void add_sampling_options(CLI::App& command, const std::string& about, int most, int& samples,
                          std::uint64_t& seed);

/// Fills Run::uncertainty of a run of the whole case or of some conditions: its claims, and in every
/// condition what the vents do. Without samples, or where there is nothing to sample, it stays empty. `field`
/// says what is asked of the field for the conditions of claims; `show_progress`: of its solves and of
/// the samples.
void sample(io::Run& run, int samples, const FieldChoice& field, bool show_progress = false);

/// Says what is to be known of the steady states of a run's conditions.
void say_state_warnings(const io::Run& run);

/// Exit status of a run with verdicts.
ExitStatus status_of(const io::Run& run);

/// Samples each of 16 replicates gets at most; a power of two.
int points_for(int samples);

}  // namespace tuft::cli
