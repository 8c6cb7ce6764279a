// What a claim of a case file states, and of what.
#pragma once

#include <string>

#include "geometry/casefile/reader.hpp"

namespace tuft::casefile {

/// Reads the one statement of a claim, what it is about, and how much. Returns the statement's key; empty
/// when there is none or more than one (reported).
std::string read_statement(Reader& reader, const Item& item, geometry::Claim& claim);

}  // namespace tuft::casefile
