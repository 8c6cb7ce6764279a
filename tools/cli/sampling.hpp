// Sampling a case for the commands that say how sure.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "geometry/device/condition.hpp"
#include "solver/study/field_correction.hpp"
#include "solver/study/sampler.hpp"
#include "tools/cli/console.hpp"
#include "tools/io/run.hpp"

namespace CLI {
class App;
class Option;
}  // namespace CLI

namespace tuft::cli {

/// As asked for on the command line.
struct FieldChoice {
  std::string folder;  ///< that tuft field has written; empty: solved where needed
  bool none = false;   ///< the network alone
};

/// --field and --no-field.
void add_field_options(CLI::App& command, FieldChoice& choice);

struct FieldAnswers {
  std::vector<study::FieldCorrection> corrections;  ///< for the sampler
  std::vector<std::string> sentences;  ///< what the field says and which of the two the verdicts go by
};

/// The answers for the conditions of some claims. `run` holds the conditions solved by the network. Solved
/// here: conditions in which the network is unsure of a vent, on two sizes of cells, as long as the device is
/// small enough for that to take seconds (by the number of cells, so that the answer does not depend on the
/// machine). Throws Failure (bad_input) if a folder is no field's, or of another device or state.
FieldAnswers field_answers(const io::Run& run, const std::vector<int>& claims, const FieldChoice& choice,
                           bool show_progress);

struct SamplingOptions {
  int samples = 4096;  ///< at most; brought up to 16 times a power of two
  std::uint64_t seed = 1;
  bool everywhere = false;  ///< every condition that is solved, not those of the claims alone; also its vents
  bool reasons = false;     ///< also what the claims depend on in all and what to measure next; is everywhere
  std::vector<geometry::Spot> spots;  ///< of an infrared thermometer, among what could be measured
  FieldAnswers field;                 ///< model uncertainty
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

/// --samples and --seed of the commands that are asked how sure; `about` says what the samples are, at most
/// `most`.
void add_sampling_options(CLI::App& command, const std::string& about, int most, int& samples,
                          std::uint64_t& seed);

/// Fills Run::uncertainty of a run of the whole case or of some conditions: its claims, and in every
/// condition what the vents do. Without samples, or where there is nothing to sample, it stays empty.
void sample(io::Run& run, int samples);

/// Says what is to be known of the steady states of a run's conditions.
void say_state_warnings(const io::Run& run);

/// Exit status of a run with verdicts.
ExitStatus status_of(const io::Run& run);

/// Samples each of 16 replicates gets at most; a power of two.
int points_for(int samples);

}  // namespace tuft::cli
