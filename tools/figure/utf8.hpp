// UTF-8 to characters and back.
#pragma once

#include <string>

namespace tuft::figure {

/// What stands for a byte that is no part of a valid character.
constexpr char32_t kReplacement = 0xFFFD;

/// The characters of a text; overlong forms, surrogates, values past U+10FFFF and stray bytes each become
/// U+FFFD, byte by byte, so that the rest of the text survives.
std::u32string decoded(const std::string& text);

/// Adds a character to a UTF-8 text.
void append(std::string& text, char32_t code);

}  // namespace tuft::figure
