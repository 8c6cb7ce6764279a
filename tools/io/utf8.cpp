#include "tools/io/utf8.hpp"

#include <glib.h>

#include <memory>

#include "tools/figure/text.hpp"

namespace tuft::io {
namespace {

using figure::append;
using figure::characters;

int width_of(char32_t code) { return g_unichar_iszerowidth(code) ? 0 : g_unichar_iswide(code) ? 2 : 1; }

// Marks are parts of words in many scripts; the selectors of a symbol's looks are not.
bool is_letter(char32_t code) {
  const bool selector = code >= 0xFE00 && code <= 0xFE0F;
  return g_unichar_isalnum(code) || (g_unichar_ismark(code) && !selector);
}

}  // namespace

std::string valid_utf8(const std::string& text) {
  std::string result;
  for (const char32_t code : characters(text)) append(result, code);
  return result;
}

std::string printable(const std::string& text) {
  std::string result;
  for (const char32_t code : characters(text)) {
    const std::string escape = figure::escape_of(code);
    if (escape.empty()) append(result, code);
    result += escape;
  }
  return result;
}

std::string printable_lines(const std::string& text) {
  std::string result;
  std::size_t from = 0;
  for (std::size_t end = text.find_first_of("\n\t"); end != std::string::npos;
       end = text.find_first_of("\n\t", from)) {
    result += printable(text.substr(from, end - from)) + text[end];
    from = end + 1;
  }
  return result + printable(text.substr(from));
}

std::vector<WrittenCharacter> characters_of(const std::string& text) {
  std::vector<WrittenCharacter> result;
  for (const char32_t code : characters(text)) {
    result.push_back({"", is_letter(code)});
    append(result.back().bytes, code);
  }
  return result;
}

std::string lower_case(const std::string& text) {
  std::string result;
  for (const char32_t code : characters(text)) append(result, g_unichar_tolower(code));
  return result;
}

int display_width(const std::string& text) {
  int columns = 0;
  for (const char32_t code : characters(text)) columns += width_of(code);
  return columns;
}

std::string shortened(const std::string& text, int columns) {
  if (display_width(text) <= columns) return text;
  std::string result;
  int used = 1;  // the ellipsis
  for (const char32_t code : characters(text)) {
    used += width_of(code);
    if (used > columns) break;
    append(result, code);
  }
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

std::string sha256(const std::string& bytes) {
  const std::unique_ptr<char, void (*)(void*)> digits(
      g_compute_checksum_for_data(G_CHECKSUM_SHA256, reinterpret_cast<const guchar*>(bytes.data()),
                                  bytes.size()),
      g_free);
  return digits.get();
}

}  // namespace tuft::io
