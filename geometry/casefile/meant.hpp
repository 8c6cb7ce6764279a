// What somebody probably meant by a value that cannot be read: signs of word processors, of other languages,
// of data sheets. Nothing is read so; the message says how to write it.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace tuft::casefile {

/// A text as it was probably meant, and what was wrong with it ("has a decimal comma"); both empty where
/// nothing of the kind is in it.
struct Meant {
  std::string text;
  std::string wrong;
};

/// Of a single value. Whether the text can be read is for the caller to try.
Meant meant_by(std::string_view text);

/// Of a list in which decimal commas part numbers ("50,5 mm" is two items): the items as they were meant, or
/// none where no item is such a half.
std::vector<std::string> with_decimals(const std::vector<std::string>& items);

/// Of "117 x 112 x 41 mm": each length with its unit; empty where the text is not written so.
std::vector<std::string> split_by_times(std::string_view text);

/// The text without the curly quotes around it.
std::string without_curly_quotes(std::string_view text);

/// True if a text begins with a blank that is none to YAML: a non-breaking, thin or figure space.
bool begins_with_odd_blank(std::string_view text);

/// True if a key is the second half of a number that a decimal comma has cut in two ("5 W").
bool is_half_number(std::string_view key);
/// What to do about it.
inline constexpr const char* kWriteAPoint =
    "a comma ends a value between braces; write decimals after a point";

}  // namespace tuft::casefile
