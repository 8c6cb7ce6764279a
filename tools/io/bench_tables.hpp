// The tables of the bench. For bench_text.cpp.
#pragma once

#include <string>

#include "solver/experiment/bench_report.hpp"
#include "tools/io/look.hpp"

namespace tuft::output {

/// A row a vent: roles, flows and heads in use and at the bench, the air before it, what would be found.
std::string vents_table(const bench::Report& report, const Look& look);
/// Air before the vents that the section cuts, by the laws and read off it; empty without a section.
std::string section_table(const bench::Report& report, const Look& look);
/// What copy paper, wool, thread and the best of the kit would show at each vent.
std::string strips_table(const bench::Report& report, const Look& look);
/// The kit, the one that shows the slowest air first.
std::string ranking_table(const bench::Report& report, const Look& look);
/// What anemometers would show, and how they choke what they measure.
std::string instruments_text(const bench::Report& report, const Look& look);

}  // namespace tuft::output
