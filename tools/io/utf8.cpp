#include "tools/io/utf8.hpp"

#include <fmt/format.h>

#include <cctype>
#include <clocale>
#include <cwchar>
#include <cwctype>

namespace tuft::output {
namespace {

constexpr char32_t kReplacement = 0xFFFD;

struct Character {
  char32_t code = kReplacement;
  std::size_t bytes = 1;
  bool valid = false;
};

bool is_continuation(unsigned char byte) { return (byte & 0xC0U) == 0x80U; }

// One character from a position. Overlong forms, surrogates and values past U+10FFFF are invalid; an invalid
// lead byte is one character of its own, so that the rest of the text survives.
Character character_at(const std::string& text, std::size_t at) {
  const auto lead = static_cast<unsigned char>(text[at]);
  if (lead < 0x80U) return {lead, 1, true};
  std::size_t count = 0;
  char32_t code = 0;
  char32_t least = 0;
  if ((lead & 0xE0U) == 0xC0U) {
    count = 2, code = lead & 0x1FU, least = 0x80;
  } else if ((lead & 0xF0U) == 0xE0U) {
    count = 3, code = lead & 0x0FU, least = 0x800;
  } else if ((lead & 0xF8U) == 0xF0U) {
    count = 4, code = lead & 0x07U, least = 0x10000;
  } else {
    return {};
  }
  if (at + count > text.size()) return {};
  for (std::size_t i = 1; i < count; ++i) {
    const auto byte = static_cast<unsigned char>(text[at + i]);
    if (!is_continuation(byte)) return {};
    code = (code << 6U) | (byte & 0x3FU);
  }
  if (code < least || code > 0x10FFFF || (code >= 0xD800 && code <= 0xDFFF)) return {};
  return {code, count, true};
}

template <typename Visit>
void each_character(const std::string& text, Visit visit) {
  for (std::size_t at = 0; at < text.size();) {
    const Character character = character_at(text, at);
    visit(character, at);
    at += character.bytes;
  }
}

bool turns_direction(char32_t code) {
  return code == 0x200E || code == 0x200F || (code >= 0x202A && code <= 0x202E) ||
         (code >= 0x2066 && code <= 0x2069);
}

bool is_control(char32_t code) {
  return code < 0x20 || (code >= 0x7F && code < 0xA0) || code == 0x2028 || code == 0x2029;
}

std::string encoded(char32_t code) {
  const auto byte = [](char32_t bits) { return static_cast<char>(static_cast<unsigned char>(bits)); };
  if (code < 0x80) return {byte(code)};
  if (code < 0x800) return {byte(0xC0 | code >> 6), byte(0x80 | (code & 0x3F))};
  if (code < 0x10000) {
    return {byte(0xE0 | code >> 12), byte(0x80 | (code >> 6 & 0x3F)), byte(0x80 | (code & 0x3F))};
  }
  return {byte(0xF0 | code >> 18), byte(0x80 | (code >> 12 & 0x3F)), byte(0x80 | (code >> 6 & 0x3F)),
          byte(0x80 | (code & 0x3F))};
}

std::string escape(char32_t code) {
  if (code == U'\n') return "\\n";
  if (code == U'\t') return "\\t";
  if (code == U'\r') return "\\r";
  const auto number = static_cast<unsigned>(code);
  return code < 0x100 ? fmt::format("\\x{:02x}", number) : fmt::format("\\u{:04x}", number);
}

// The C library knows widths and classes of all characters, but tells them for the current locale only. This
// one is part of the C library itself and says nothing about language.
class UnicodeLocale {
 public:
  UnicodeLocale() : wide_(newlocale(LC_CTYPE_MASK, "C.UTF-8", locale_t{})) {
    if (wide_ != locale_t{}) before_ = uselocale(wide_);
  }
  ~UnicodeLocale() {
    if (wide_ == locale_t{}) return;
    uselocale(before_);
    freelocale(wide_);
  }
  UnicodeLocale(const UnicodeLocale&) = delete;
  UnicodeLocale& operator=(const UnicodeLocale&) = delete;

  int width(char32_t code) const {
    if (code >= 0x20 && code < 0x7F) return 1;
    if (wide_ == locale_t{}) return 1;
    const int columns = wcwidth(static_cast<wchar_t>(code));
    return columns < 0 ? 1 : columns;
  }
  bool is_letter(char32_t code) const {
    if (code < 0x80) return std::isalnum(static_cast<int>(code)) != 0;
    const bool accent = code >= 0x300 && code <= 0x36F;
    return wide_ != locale_t{} && (accent || iswalnum(static_cast<wint_t>(code)) != 0);
  }
  char32_t lower(char32_t code) const {
    return wide_ == locale_t{} && code >= 0x80 ? code
                                               : static_cast<char32_t>(towlower(static_cast<wint_t>(code)));
  }

 private:
  locale_t wide_;
  locale_t before_{};
};

}  // namespace

std::string valid_utf8(const std::string& text) {
  std::string result;
  each_character(text, [&](const Character& character, std::size_t at) {
    result += character.valid ? text.substr(at, character.bytes) : "\xEF\xBF\xBD";
  });
  return result;
}

std::string printable(const std::string& text) {
  std::string result;
  each_character(text, [&](const Character& character, std::size_t at) {
    if (!character.valid) {
      result += "\xEF\xBF\xBD";
    } else if (is_control(character.code) || turns_direction(character.code)) {
      result += escape(character.code);
    } else {
      result += text.substr(at, character.bytes);
    }
  });
  return result;
}

std::vector<WrittenCharacter> characters_of(const std::string& text) {
  const UnicodeLocale locale;
  std::vector<WrittenCharacter> result;
  each_character(text, [&](const Character& character, std::size_t at) {
    result.push_back({text.substr(at, character.bytes), character.valid && locale.is_letter(character.code)});
  });
  return result;
}

std::string lower_case(const std::string& text) {
  const UnicodeLocale locale;
  std::string result;
  each_character(text, [&](const Character& character, std::size_t at) {
    const char32_t small = character.valid ? locale.lower(character.code) : character.code;
    result += character.valid && small != character.code ? encoded(small) : text.substr(at, character.bytes);
  });
  return result;
}

int display_width(const std::string& text) {
  const UnicodeLocale locale;
  int columns = 0;
  each_character(text,
                 [&](const Character& character, std::size_t) { columns += locale.width(character.code); });
  return columns;
}

std::string shortened(const std::string& text, int columns) {
  if (display_width(text) <= columns) return text;
  const UnicodeLocale locale;
  std::string result;
  int used = 1;  // the ellipsis
  bool full = false;
  each_character(text, [&](const Character& character, std::size_t at) {
    used += locale.width(character.code);
    full = full || used > columns;
    if (!full) result += text.substr(at, character.bytes);
  });
  return result + "\u2026";
}

std::string pad_right(const std::string& text, int columns) {
  const int missing = columns - display_width(text);
  return missing > 0 ? text + std::string(static_cast<std::size_t>(missing), ' ') : text;
}

std::string pad_left(const std::string& text, int columns) {
  const int missing = columns - display_width(text);
  return missing > 0 ? std::string(static_cast<std::size_t>(missing), ' ') + text : text;
}

}  // namespace tuft::output
