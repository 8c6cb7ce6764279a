// Case files, and the names in them, as commands need them.
#pragma once

#include <string>
#include <vector>

#include "geometry/casefile/case_file.hpp"

namespace tuft::program {

/// Reads a case file; shows its warnings. Throws Failure (bad_input) with every error in it.
casefile::CaseFile load_case(const std::string& path);

/// Shows warnings on standard error.
void show_warnings(const casefile::ReadResult& read);

/// All errors of a file as one text.
std::string error_text(const casefile::ReadResult& read);

/// Index of the condition or vent of that name. Throws Failure (bad_input) with the nearest known name, or
/// all.
int find_condition(const geometry::Case& content, const std::string& name);
int find_vent(const geometry::Case& content, const std::string& name);

/// The claims of those ids, or all when none is named; in the order of the case, each once.
std::vector<int> find_claims(const geometry::Case& content, const std::vector<std::string>& ids);

/// The conditions of those names, or all when none is named; in the order of the case, each once.
std::vector<int> find_conditions(const geometry::Case& content, const std::vector<std::string>& names);

}  // namespace tuft::program
