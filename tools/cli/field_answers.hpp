// What the field says of the conditions that a command's claims need: read from a folder, or solved here
// where the network is unsure.
#pragma once

#include <string>
#include <vector>

#include "solver/study/field_correction.hpp"
#include "tools/io/run.hpp"

namespace CLI {
class App;
}

namespace tuft::cli {

/// As asked for on the command line.
struct FieldChoice {
  std::string folder;  ///< that tuft field has written; empty: solved where needed
  bool none = false;   ///< the network alone
  bool later = false;  ///< with `none`: tuft check is left to ask where the network is unsure

  /// The same, but none where so it is.
  FieldChoice and_none(bool so) const { return {folder, none || so, later}; }
  /// The same, but nothing is left to come where `so` it is: there tuft check goes by the network too.
  FieldChoice unless(bool so) const { return {folder, none, later && !so}; }
};

/// The network alone, by a command after which tuft check is to come.
inline FieldChoice network_first() { return {"", true, true}; }

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

/// Claims among those given whose conditions field_answers would solve, the network being unsure in them.
std::vector<int> claims_left_to_field(const io::Run& run, const std::vector<int>& claims);

}  // namespace tuft::cli
