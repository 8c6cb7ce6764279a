// Finished numbers of how sure the claims are, for the writers.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "solver/experiment/learn.hpp"
#include "tools/io/grid.hpp"
#include "tools/io/numbers.hpp"
#include "tools/io/run.hpp"

namespace tuft::io {

/// A measurement in words: "strip tissue-60 at comb, in bench".
std::string measurement_words(const geometry::Case& content, const std::vector<study::Input>& inputs,
                              const experiment::Measurement& measurement);
/// How a person makes it, and what to mind.
std::string how_to(const experiment::Measurement& measurement);

/// How many of the inputs are values of the case (its laws are not), and how many of these its file does not
/// give.
std::size_t count_values(const std::vector<study::Input>& inputs);
std::size_t count_assumed(const std::vector<study::Input>& inputs);

/// "1024 samples of 61 uncertain values (40 of them assumed) and 12 factors on the laws of the model", or ";
/// the laws of the model are taken as exact". The part in brackets is left out where there is no room for it.
std::string sample_words(const Uncertainty& uncertainty, bool in_short = false);

/// Where a claim's uncertainty comes from; null where it can't be told.
const experiment::UncertaintyShares* shares_of(const Uncertainty& uncertainty, int claim);
/// The same in a sentence: how much of it is the model's; empty where it can't be told.
std::string shares_sentence(const Uncertainty& uncertainty, int claim);

/// What is known of a claim of a run; null where nothing was sampled, or not this claim.
const experiment::ClaimProbability* probability_of(const Run& run, int claim);

/// What stands for a verdict that is left to the field.
constexpr const char* kLeftOpen = "left open";

/// The verdict on a claim with its probability: "holds (98 %)"; of a run that was not sampled what
/// `as_written` says, which is no verdict.
std::string told(const Run& run, const study::ClaimResult& result);

/// A row a claim: the verdict with its probability and 99 % interval; of a run that was not sampled a
/// sentence that counts what is true as written. Ends with a newline; empty without claims.
std::string verdicts_text(const Run& run, const Look& look);

/// A probability as a cell of a table; a dash where no sample has a solution: then there is none to give.
std::string chance_cell(const experiment::ClaimProbability& probability);

/// What is known of a claim and why, in sentences: probability, numbers, what was assumed, evidence.
std::string probability_sentence(const geometry::Case& content, const Uncertainty& uncertainty,
                                 const experiment::ClaimProbability& claim);

/// Name of what an influence is of: a key path, several, or the rest.
std::string influence_name(const std::vector<study::Input>& inputs, const experiment::Influence& influence);

/// Names of assumed values that make a tenth or more of a claim's uncertainty, those that make most first;
/// three at most.
std::vector<std::string> assumed_that_matter(const Uncertainty& uncertainty);

/// A verdict as the results have it.
study::Verdict verdict_of(const experiment::ClaimProbability& claim);

/// The verdicts as text, then (where they are there) what they depend on and what to measure next.
std::string uncertainty_text(const geometry::Case& content, const Uncertainty& uncertainty, const Look& look);

/// What the field says beside the network, a paragraph a condition. Ends with a newline, or is empty.
std::string model_text(const Uncertainty& uncertainty, const Look& look);

/// How what was learned is spoken of.
struct LearnWords {
  std::vector<std::string> observations;  ///< each as its line has it
  /// A value that an observation's instrument would be shown, as a person reads it: "71.0 °C", "leans out".
  std::function<std::string(std::size_t observation, double shown)> shown;
  std::vector<std::string> units;  ///< of each input, as the case file writes it; empty: a pure number
};

/// What was learned, as text. Where it is not reliable: only what contradicts what, and by how much.
std::string learned_text(const geometry::Case& content, const experiment::Learned& learned,
                         const LearnWords& words, const Look& look);

/// "\"chip processor in use: 95 °C\" contradicts the description, which lets one expect ...".
std::string contradiction_sentence(const experiment::Contradiction& found, const LearnWords& words);

/// Why an observation can't be explained, and what is the likely culprit.
std::string predictive_check_sentence(const experiment::Learned& learned, std::size_t observation,
                                      const std::string& words);

/// results.json of a study, as text; its section `uncertainty` is that of every run that was sampled.
std::string study_json(const Run& run, const Uncertainty& uncertainty, const Contents& contents);
/// results.json of what was learned.
std::string learned_json(const Run& run, const experiment::Learned& learned, const LearnWords& words,
                         const Contents& contents);

/// Writes the folder of a study; returns its files. Throws FolderError.
std::vector<std::string> write_study(const Run& run, const Uncertainty& uncertainty,
                                     const ResultsPlace& place);
/// The same of what was learned; `learned_case` is the new case file, which is left out where it is empty.
std::vector<std::string> write_learned(const Run& run, const experiment::Learned& learned,
                                       const LearnWords& words, const std::string& learned_case,
                                       const ResultsPlace& place);

}  // namespace tuft::io
