// Text of unknown origin (names from a case file) made fit for a terminal, and measured in terminal columns.
#pragma once

#include <string>

namespace tuft::output {

/// The text with every byte that is no valid UTF-8 replaced by U+FFFD.
std::string valid_utf8(const std::string& text);

/// The text as it may be printed: valid UTF-8, with control characters and the marks that turn the writing
/// direction shown as escapes (\n, \x1b, \u202e), so that a name cannot move the cursor or disguise a word.
std::string printable(const std::string& text);

/// Columns that valid, printable UTF-8 takes in a terminal: 2 for wide characters, 0 for combining marks.
int display_width(const std::string& text);

/// The text cut to at most `columns` (>= 1) columns; an ellipsis stands for what was cut off.
std::string shortened(const std::string& text, int columns);

/// The text filled with spaces to at least `columns` columns, text first (left) or last (right).
std::string pad_right(const std::string& text, int columns);
std::string pad_left(const std::string& text, int columns);

}  // namespace tuft::output
