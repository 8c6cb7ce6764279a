// Sections of other commands brought into the results a page is made from.
#pragma once

#include <functional>
#include <string>

namespace tuft::report {

/// Reads a file that lies beside a results file, by the name it is listed under; throws whatever the caller's
/// way is when it cannot.
using ReadListed = std::function<std::string(const std::string&)>;

/// The results with what another results file of the same case adds: its sections `field`, `section`,
/// `bench`, `doubt`, `warmup`, as far as it has them, and its figures (listed files that end in .svg) as
/// `figures`: `section`, `file`, `svg`. Throws ResultsError when it is no results file, belongs to another
/// case (by its SHA-256), or adds nothing.
std::string with_sections(const std::string& results_text, const std::string& other_text,
                          const ReadListed& read);

}  // namespace tuft::report
