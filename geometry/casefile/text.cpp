#include "geometry/casefile/text.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cstdint>

namespace tuft::casefile {
namespace {

constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";

unsigned byte_at(std::string_view text, std::size_t i) { return static_cast<unsigned char>(text[i]); }

// Code point of a valid character of the given length.
std::uint32_t code_point(std::string_view text, int length) {
  if (length == 1) return byte_at(text, 0);
  std::uint32_t point = byte_at(text, 0) & (0xFFu >> (length + 1));
  for (int i = 1; i < length; ++i) point = (point << 6) | (byte_at(text, i) & 0x3Fu);
  return point;
}

int width_of(std::uint32_t point) {
  const bool combining = (point >= 0x300 && point <= 0x36F) || (point >= 0x200B && point <= 0x200F) ||
                         (point >= 0x20D0 && point <= 0x20FF) || (point >= 0xFE00 && point <= 0xFE0F);
  if (combining) return 0;
  const bool wide = (point >= 0x1100 && point <= 0x115F) || (point >= 0x2E80 && point <= 0xA4CF) ||
                    (point >= 0xAC00 && point <= 0xD7A3) || (point >= 0xF900 && point <= 0xFAFF) ||
                    (point >= 0xFE30 && point <= 0xFE6F) || (point >= 0xFF00 && point <= 0xFF60) ||
                    (point >= 0x1F300 && point <= 0x1F9FF) || (point >= 0x20000 && point <= 0x3FFFD);
  return wide ? 2 : 1;
}

// First character of a line that may not stand in a case file.
TextFault find_character_fault(std::string_view line, int number) {
  int column = 0;
  for (const std::string_view character : characters(line)) {
    const unsigned byte = byte_at(character, 0);
    ++column;
    if (utf8_length(character) == 0)
      return {{number, column}, fmt::format("byte 0x{:02X} is not UTF-8; save the file as UTF-8", byte)};
    if ((byte < 0x20 && byte != '\t') || byte == 0x7F)
      return {{number, column}, fmt::format("control character 0x{:02X} in the file", byte)};
  }
  return {};
}

}  // namespace

std::string normalised(std::string_view text) {
  if (text.substr(0, kByteOrderMark.size()) == kByteOrderMark) text.remove_prefix(kByteOrderMark.size());
  std::string out;
  out.reserve(text.size());
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] != '\r') {
      out += text[i];
    } else {
      out += '\n';
      if (i + 1 < text.size() && text[i + 1] == '\n') ++i;
    }
  }
  return out;
}

std::vector<std::string_view> split_lines(std::string_view text) {
  std::vector<std::string_view> lines;
  std::size_t start = 0;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] != '\n' && text[i] != '\r') continue;
    lines.push_back(text.substr(start, i - start));
    if (text[i] == '\r' && i + 1 < text.size() && text[i + 1] == '\n') ++i;
    start = i + 1;
  }
  if (start < text.size() || lines.empty()) lines.push_back(text.substr(start));
  return lines;
}

int utf8_length(std::string_view text) {
  if (text.empty()) return 0;
  const unsigned first = byte_at(text, 0);
  const int length = first < 0x80 ? 1 : first < 0xC2 ? 0 : first < 0xE0 ? 2 : first < 0xF0 ? 3 : 4;
  if (first > 0xF4 || length == 0 || text.size() < static_cast<std::size_t>(length)) return 0;
  for (int i = 1; i < length; ++i)
    if ((byte_at(text, i) & 0xC0u) != 0x80u) return 0;
  const unsigned second = length > 1 ? byte_at(text, 1) : 0;
  const bool overlong = (first == 0xE0 && second < 0xA0) || (first == 0xF0 && second < 0x90);
  const bool surrogate = first == 0xED && second > 0x9F;
  const bool too_large = first == 0xF4 && second > 0x8F;
  return overlong || surrogate || too_large ? 0 : length;
}

std::vector<std::string_view> characters(std::string_view text) {
  std::vector<std::string_view> out;
  for (; !text.empty(); text.remove_prefix(out.back().size()))
    out.push_back(text.substr(0, static_cast<std::size_t>(std::max(1, utf8_length(text)))));
  return out;
}

int character_column(std::string_view line, std::size_t byte_column) {
  int column = 1;
  for (std::size_t i = 0; i < std::min(byte_column, line.size()); ++column)
    i += static_cast<std::size_t>(std::max(1, utf8_length(line.substr(i))));
  return column;
}

int display_width(std::string_view line, int count) {
  int width = 0;
  for (const std::string_view character : characters(line)) {
    if (count <= 0) break;
    const int length = utf8_length(character);
    width += length == 0 ? 1 : width_of(code_point(character, length));
    --count;
  }
  return width + count;
}

TextFault find_text_fault(std::string_view text) {
  if (text.substr(0, 2) == "\xFF\xFE" || text.substr(0, 2) == "\xFE\xFF")
    return {{1, 1}, "the file is UTF-16; save it as UTF-8"};
  int number = 0;
  for (const std::string_view line : split_lines(text)) {
    ++number;
    if (line.size() > kMaxLineLength)
      return {{number, 1}, "the line is longer than " + std::to_string(kMaxLineLength) + " bytes"};
    const TextFault fault = find_character_fault(line, number);
    if (!fault.message.empty()) return fault;
    const std::size_t first = line.find_first_not_of(' ');
    if (first == std::string_view::npos || line[first] != '\t') continue;
    const std::size_t content = line.find_first_not_of(" \t");
    if (content == std::string_view::npos || line[content] == '#') continue;
    return {{number, static_cast<int>(first) + 1}, "a tab indents this line; YAML wants spaces"};
  }
  return {};
}

}  // namespace tuft::casefile
