// results.json: all results of a run in one file.
#pragma once

#include <string>
#include <vector>

#include "tools/io/run.hpp"

namespace tuft::io {

/// What `format` and `version` say in every results file; the version rises when a key changes its meaning.
constexpr const char* kResultsFormat = "tuft-results";
constexpr int kResultsVersion = 2;

/// The results as JSON text, laid out as docs/results.md says. The same run gives the same bytes: no time, no
/// folder, keys in a fixed order. `files` lists the files of the results folder, results.json included.
/// Throws NotFinite when a number is not finite.
std::string results_json(const Run& run, const std::vector<std::string>& files);

}  // namespace tuft::io
