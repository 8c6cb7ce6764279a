// Text of unknown origin (names from a case file) made fit for a figure, and measured for it.
#pragma once

#include <string>
#include <vector>

namespace tuft::figure {

/// The characters of a UTF-8 text; overlong forms, surrogates, values past U+10FFFF and stray bytes each
/// become U+FFFD, byte by byte, so that the rest of the text survives.
std::u32string characters(const std::string& text);

/// Adds a character to a UTF-8 text.
void append(std::string& text, char32_t code);

/// The escape (\n, \x1b, \u202e) that stands for a control character or a mark that turns the writing
/// direction; empty for any other.
std::string escape_of(char32_t code);

/// The text as it may stand in a figure: valid UTF-8, with control characters and the marks that turn the
/// writing direction shown as escapes (\n, \x1b, \u202e), and no more than three combining marks on a letter.
std::string clean(const std::string& text);

/// `clean`, and set apart (U+2068 ... U+2069) when the name holds letters that are written from right to
/// left, so that it cannot reorder the words and numbers around it.
std::string isolated(const std::string& name);

/// Width of a text in the fonts of a figure [px]: an upper estimate. Letter widths are those of DejaVu Sans,
/// the widest of the fonts that figures ask for (measured from the font), and a guess at the safe side for
/// scripts it lacks.
double text_width(const std::string& text, double size, bool bold = false);

/// Width of the widest of the texts [px], 0 without any.
double widest(const std::vector<std::string>& texts, double size);

/// "Speed [m/s]", made fit; the name alone where there is no unit.
std::string with_unit(const std::string& quantity, const std::string& unit);

/// The text, or as much of its beginning as fits into the width [px] with an ellipsis after it.
std::string fitted(const std::string& text, double width, double size, bool bold = false);

/// The text broken at its spaces into lines of at most that width [px]; longer words are shortened.
std::vector<std::string> wrapped(const std::string& text, double width, double size, bool bold = false);

}  // namespace tuft::figure
