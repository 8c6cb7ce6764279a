// What one run of the program hands to the writers: finished, plain data.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "geometry/casefile/case_file.hpp"
#include "geometry/device/condition.hpp"
#include "solver/experiment/measure.hpp"
#include "solver/experiment/sensitivity.hpp"
#include "solver/experiment/uncertainty_shares.hpp"
#include "solver/experiment/verdicts.hpp"
#include "solver/study/result.hpp"
#include "tools/io/results_place.hpp"

namespace tuft::io {

/// What `format` and `version` say in every results file; the version rises when a key changes its meaning.
constexpr const char* kResultsFormat = "tuft-results";
constexpr int kResultsVersion = 2;

/// What a sample of the case says.
struct Uncertainty {
  std::vector<study::Input> inputs;  ///< sampled
  std::size_t samples = 0;           ///< solved, or not
  int replicates = 0;
  std::uint64_t seed = 1;
  bool settled = false;  ///< more samples would hardly turn a verdict; else the budget was used
  std::vector<experiment::ClaimProbability> claims;
  experiment::Questions questions;
  std::vector<experiment::ConditionRanges> conditions;  ///< vents' roles and flows; empty if not asked for
  experiment::SensitivityResult sensitivity;            ///< by the sample itself where not asked for
  std::vector<experiment::UncertaintyShares> shares;    ///< one a claim; empty: too few samples to tell
  std::vector<experiment::Suggestion> suggestions;      ///< by falling worth; empty if not asked for
  std::vector<int> model_conditions;  ///< that carry model uncertainty; rising indices into Case::conditions
  std::string model;                  ///< a sentence on the model uncertainty itself; empty: none was added
};

/// Everything that was computed from one case file. Writers read it and change nothing.
///
/// `conditions` may hold fewer entries than the case has (the person asked for some by name); each entry says
/// by its `condition` which one it is. `claims` and `sweeps` likewise hold what could be computed.
struct Run {
  geometry::Case content;
  std::vector<casefile::Assumption> assumptions;
  std::string case_file;    ///< file name of the case, without folders
  std::string case_sha256;  ///< of the file's bytes, in hexadecimal: what `sha256sum` prints
  std::string case_text;    ///< what the file says, so that the results can be checked without it
  std::string version;      ///< of the program
  std::vector<study::ConditionResult> conditions;
  std::vector<study::SweepResult> sweeps;
  std::vector<study::ClaimResult> claims;  ///< judged with the values as written
  std::optional<Uncertainty> uncertainty;  ///< how sure; none: nothing was sampled
  std::vector<std::string> expected = {};  ///< key paths of what the file says is unusual and so
  std::string not_sampled = {};            ///< why not, a sentence; empty: nobody asked, or nothing is solved
};

/// The results as JSON text, laid out as docs/results.md says. The same run gives the same bytes: no time, no
/// folder, keys in a fixed order. `files` lists the files of the results folder, results.json included.
/// Throws NotFinite when a number is not finite.
std::string results_json(const Run& run, const Contents& contents);

/// Writes the results folder: results.json, vents.csv, vtk/NAME.vtp and vtk/NAME.flow.vtp for each solved
/// condition, and for each sweep vtk/NAME.pvd with its files in vtk/NAME/. Whole or not at all (see
/// ResultsFolder). Throws NotFinite or FolderError. Returns the names of the files written, in a
/// fixed order.
std::vector<std::string> write_results(const Run& run, const ResultsPlace& place);

}  // namespace tuft::io
