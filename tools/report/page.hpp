// One self-contained HTML page from a results file.
#pragma once

#include <string>

namespace tuft::report {

/// What stands near the top of every page, and in no other file.
constexpr const char* kPageMark = "<meta name=\"generator\" content=\"tuft\">";

/// The page: results (all but their list of files), words, style and scripts in one document that needs no
/// network and no other file, and forbids itself both. The same results give the same bytes. Throws
/// ResultsError.
std::string report_page(const std::string& results_text);

/// Whether this build has the solver that pages turn the device with; without it they step through solved
/// angles.
bool solves_in_page();

}  // namespace tuft::report
