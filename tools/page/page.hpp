// One self-contained HTML page from a results file.
#pragma once

#include <string>

namespace tuft::report {

/// What stands near the top of every page, and in no other file.
constexpr const char* kPageMark = "<meta name=\"generator\" content=\"tuft\">";

/// The page: results (all but their list of files), words, style and scripts in one document that needs no
/// network and no other file, and forbids itself both. `engine`: bytes of the solver that turns the device in
/// the page (page_engine.hpp); empty: the page steps through the angles that were solved beforehand. The same
/// results and engine give the same bytes. Throws ResultsError.
std::string report_page(const std::string& results_text, const std::string& engine);

}  // namespace tuft::report
