// Text of unknown origin (a case file and the names in it) made fit for a terminal, measured in terminal
// columns, and told apart.
#pragma once

#include <string>
#include <vector>

namespace tuft::io {

/// The text with every byte that is no valid UTF-8 replaced by U+FFFD.
std::string valid_utf8(const std::string& text);

/// The text as it may be printed: valid UTF-8, with control characters and the marks that turn the writing
/// direction shown as escapes (\n, \x1b, \u202e), so that a name cannot move the cursor or disguise a word.
std::string printable(const std::string& text);

/// The same with line ends and tabs left as they are.
std::string printable_lines(const std::string& text);

/// One character of a text: its bytes, and whether it is a letter, a digit or a mark on them of any script.
struct WrittenCharacter {
  std::string bytes;
  bool is_letter = false;
};

/// The characters of a text in order; a byte that is no valid UTF-8 is U+FFFD, and no letter.
std::vector<WrittenCharacter> characters_of(const std::string& text);

/// The text with every capital letter of any script made small, one for one; valid UTF-8.
std::string lower_case(const std::string& text);

/// Columns that valid, printable UTF-8 takes in a terminal: 2 for wide characters, 0 for combining marks.
int display_width(const std::string& text);

/// The text cut to at most `columns` (>= 1) columns; an ellipsis stands for what was cut off.
std::string shortened(const std::string& text, int columns);

/// The text filled with spaces to at least `columns` columns, text first (left) or last (right).
std::string pad_right(const std::string& text, int columns);
std::string pad_left(const std::string& text, int columns);

/// The SHA-256 digest (FIPS 180-4) of the bytes as 64 hexadecimal digits: what `sha256sum` prints for a file
/// of them, and says which case file a result belongs to.
std::string sha256(const std::string& bytes);

}  // namespace tuft::io
