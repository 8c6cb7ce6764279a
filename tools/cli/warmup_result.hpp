// What a warm-up gave, as the writers take it.
#pragma once

#include "geometry/casefile/case_file.hpp"
#include "solver/network/warm_up.hpp"
#include "tools/io/warmup.hpp"

namespace tuft::program {

/// The warm-up of a case by a plan, as plain data for table, chart and files. @pre it did not fail
output::Warmup warmup_result(const casefile::CaseFile& file, const transient::Plan& plan,
                             const transient::WarmUp& run);

}  // namespace tuft::program
