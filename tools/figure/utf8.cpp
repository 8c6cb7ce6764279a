#include "tools/figure/utf8.hpp"

namespace tuft::figure {
namespace {

// Bytes of the character that starts with this byte, 0 when none does.
std::size_t length_of(unsigned char lead) {
  if (lead < 0x80U) return 1;
  if ((lead & 0xE0U) == 0xC0U) return 2;
  if ((lead & 0xF0U) == 0xE0U) return 3;
  return (lead & 0xF8U) == 0xF0U ? 4 : 0;
}

// The character of `count` bytes, or U+FFFD when the bytes are no shortest form of one.
char32_t character(const std::string& text, std::size_t at, std::size_t count) {
  constexpr unsigned char kLeadBits[] = {0, 0x7F, 0x1F, 0x0F, 0x07};
  constexpr char32_t kLeast[] = {0, 0, 0x80, 0x800, 0x10000};
  char32_t code = static_cast<unsigned char>(text[at]) & kLeadBits[count];
  for (std::size_t i = 1; i < count; ++i) {
    const auto byte = static_cast<unsigned char>(text[at + i]);
    if ((byte & 0xC0U) != 0x80U) return kReplacement;
    code = (code << 6U) | (byte & 0x3FU);
  }
  const bool surrogate = code >= 0xD800 && code <= 0xDFFF;
  return code < kLeast[count] || code > 0x10FFFF || surrogate ? kReplacement : code;
}

char byte_of(char32_t bits) { return static_cast<char>(static_cast<unsigned char>(bits)); }

}  // namespace

std::u32string decoded(const std::string& text) {
  std::u32string codes;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t count = length_of(static_cast<unsigned char>(text[at]));
    const bool whole = count > 0 && at + count <= text.size();
    const char32_t code = whole ? character(text, at, count) : kReplacement;
    codes += code;
    at += code == kReplacement && !(whole && text.compare(at, 3, "\xEF\xBF\xBD") == 0) ? 1 : count;
  }
  return codes;
}

void append(std::string& text, char32_t code) {
  if (code < 0x80) {
    text += byte_of(code);
  } else if (code < 0x800) {
    text += byte_of(0xC0U | (code >> 6U));
    text += byte_of(0x80U | (code & 0x3FU));
  } else if (code < 0x10000) {
    text += byte_of(0xE0U | (code >> 12U));
    text += byte_of(0x80U | ((code >> 6U) & 0x3FU));
    text += byte_of(0x80U | (code & 0x3FU));
  } else {
    text += byte_of(0xF0U | (code >> 18U));
    text += byte_of(0x80U | ((code >> 12U) & 0x3FU));
    text += byte_of(0x80U | ((code >> 6U) & 0x3FU));
    text += byte_of(0x80U | (code & 0x3FU));
  }
}

}  // namespace tuft::figure
