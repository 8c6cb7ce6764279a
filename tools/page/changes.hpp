// What a change of the case file did to the results.
#pragma once

#include <string>
#include <vector>

#include "tools/io/run.hpp"

namespace tuft::page {

/// One line for everything that a person would notice: conditions that came, went, lost or found their
/// solution; roles, flows, temperatures that differ; verdicts. Things are the same when their names are.
/// Flows and temperatures count when they would be printed differently: by 1 % of the through-flow, by 0.1 K.
std::vector<std::string> changes(const io::Run& before, const io::Run& after);

}  // namespace tuft::page
