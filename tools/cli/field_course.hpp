// tuft field --until: the plan layers followed in time.
#pragma once

#include <filesystem>
#include <optional>

#include "tools/io/course_record.hpp"
#include "tools/cli/exit_status.hpp"
#include "tools/cli/field_options.hpp"
#include "tools/cli/progress_line.hpp"

namespace tuft::program {

struct CourseRun {
  CourseWish wish;
  output::CourseRecord record;                  ///< with the network's answer and the cell
  std::optional<study::ConditionResult> start;  ///< the network's, of the condition to start from
  std::optional<std::filesystem::path> place;   ///< results folder; nothing: no files
  Showing showing = Showing::never;
};

/// Follows, writes while it goes, and tells. An interrupt leaves a partial folder and then takes effect.
/// Throws Failure.
ExitStatus follow_course(CourseRun* run, bool quiet);

}  // namespace tuft::program
