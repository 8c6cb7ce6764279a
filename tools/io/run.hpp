// What one run of the program hands to the writers: finished, plain data.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/casefile/case_file.hpp"
#include "geometry/device/condition.hpp"
#include "solver/study/result.hpp"
#include "tools/io/doubt_numbers.hpp"

namespace tuft::output {

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
  std::optional<Doubt> doubt;              ///< how sure; none: nothing was sampled
};

}  // namespace tuft::output
