// Where things stand in the text of a case file that is written anew.
#pragma once

#include <string>

#include "geometry/casefile/document.hpp"
#include "geometry/casefile/rewrite.hpp"

namespace tuft::casefile {

/// Byte offset of a place in normalised text.
std::size_t offset_of(const std::string& text, Spot spot);

/// The text with one more entry in its section `together`; the same text if there is no place for it.
std::string with_tie(const std::string& text, const NewTie& tie);

}  // namespace tuft::casefile
