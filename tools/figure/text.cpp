#include "tools/figure/text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <initializer_list>
#include <utility>

namespace tuft::figure {
namespace {

// What stands for a byte that is no part of a valid character.
constexpr char32_t kReplacement = 0xFFFD;
constexpr char32_t kEllipsis = 0x2026;
constexpr char32_t kFirstStrongIsolate = 0x2068;
constexpr char32_t kPopIsolate = 0x2069;
constexpr int kMostMarks = 3;  // combining marks on one letter; more is ornament, or malice

// Advance widths of DejaVu Sans and DejaVu Sans Bold, U+0020 to U+007E, in thousandths of the size, measured
// from the fonts themselves.
constexpr std::array<int, 95> kRegular = {
    318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361,  318, 337, 636, 636, 636,
    636, 636, 636, 636, 636, 636, 636, 337, 337, 838, 838, 838, 531, 1000, 684, 686, 698, 770, 632,
    575, 775, 752, 295, 295, 656, 557, 863, 748, 787, 603, 787, 695, 635,  611, 732, 684, 989, 685,
    611, 685, 390, 337, 390, 838, 500, 500, 613, 635, 550, 635, 615, 352,  635, 634, 278, 278, 579,
    278, 974, 634, 612, 635, 635, 411, 521, 392, 634, 592, 818, 592, 592,  525, 636, 337, 636, 838};
constexpr std::array<int, 95> kBold = {
    348, 456,  521, 838, 696, 1002, 872, 306, 457, 457, 523, 838, 380, 415,  380, 365, 696, 696,  696,
    696, 696,  696, 696, 696, 696,  696, 400, 400, 838, 838, 838, 580, 1000, 774, 762, 734, 830,  683,
    683, 821,  837, 372, 372, 775,  637, 995, 837, 850, 733, 850, 770, 720,  682, 812, 774, 1103, 771,
    724, 725,  457, 365, 457, 838,  500, 500, 675, 716, 593, 716, 678, 435,  716, 712, 343, 343,  665,
    343, 1042, 712, 687, 716, 716,  493, 595, 478, 712, 652, 924, 645, 652,  582, 712, 365, 712,  838};

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

// Characters from the first to the last of each pair.
using Ranges = std::initializer_list<std::pair<char32_t, char32_t>>;

bool is_in(const Ranges& ranges, char32_t code) {
  return std::any_of(ranges.begin(), ranges.end(),
                     [code](const auto& range) { return code >= range.first && code <= range.second; });
}

bool is_mark(char32_t code) {
  return is_in({{0x0300, 0x036F},
                {0x0483, 0x0489},
                {0x0591, 0x05BD},
                {0x0610, 0x061A},
                {0x064B, 0x065F},
                {0x1AB0, 0x1AFF},
                {0x1DC0, 0x1DFF},
                {0x20D0, 0x20FF},
                {0xFE00, 0xFE0F},
                {0xFE20, 0xFE2F}},
               code);
}

bool is_invisible(char32_t code) {
  return is_in({{0x200B, 0x200F}, {0x202A, 0x202E}, {0x2060, 0x2069}, {0xFEFF, 0xFEFF}}, code);
}

bool turns_direction(char32_t code) {
  return is_in({{0x061C, 0x061C}, {0x200E, 0x200F}, {0x202A, 0x202E}, {0x2066, 0x2069}}, code);
}

bool is_control(char32_t code) {
  return is_in({{0x00, 0x1F}, {0x7F, 0x9F}, {0x2028, 0x2029}, {0xFFF9, 0xFFFB}}, code);
}

// U+FFFE, U+FFFF and their kin are no characters, and XML forbids the first two.
bool is_noncharacter(char32_t code) { return (code & 0xFFFEU) == 0xFFFEU || is_in({{0xFDD0, 0xFDEF}}, code); }

bool is_right_to_left(char32_t code) {
  return is_in({{0x0590, 0x08FF}, {0xFB1D, 0xFDFF}, {0xFE70, 0xFEFC}, {0x10800, 0x10FFF}, {0x1E800, 0x1EFFF}},
               code);
}

// Thousandths of the size for what the table lacks, at the safe side.
int wide_guess(char32_t code) {
  if (is_mark(code) || is_invisible(code)) return 0;
  if (code == 0x00B7 || code == 0x2009 || code == 0x202F) return 380;
  if (code == 0x00B0 || code == 0x00B2 || code == 0x00B3 || code == 0x2013) return 500;
  if (code < 0x0250) return code == 0x00B1 || code == 0x00D7 ? 838 : 1000;
  if (code == 0x2212 || code == 0x2192 || code == 0x2264 || code == 0x2265) return 838;
  if (code == 0xFDFD) return 12000;  // a whole phrase in one character
  if (code >= 0x1F000) return 1500;
  return code < 0x2E80 || code >= 0xFB1D ? 1400 : 1100;
}

int thousandths(char32_t code, bool bold) {
  if (code >= 0x20 && code < 0x7F) {
    const auto place = static_cast<std::size_t>(code - 0x20);
    return (bold ? kBold[place] : kRegular[place]) + 1;  // the tables are rounded
  }
  return wide_guess(code) * (bold ? 11 : 10) / 10;
}

std::string encoded(const std::u32string& codes) {
  std::string text;
  for (const char32_t code : codes) append(text, code);
  return text;
}

}  // namespace

std::u32string characters(const std::string& text) {
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
  constexpr char32_t kLead[] = {0x00, 0xC0, 0xE0, 0xF0};
  const unsigned more = code < 0x80 ? 0 : code < 0x800 ? 1 : code < 0x10000 ? 2 : 3;
  text += byte_of(kLead[more] | (code >> (6U * more)));
  for (unsigned k = more; k-- > 0;) text += byte_of(0x80U | ((code >> (6U * k)) & 0x3FU));
}

std::string escape_of(char32_t code) {
  if (!is_control(code) && !turns_direction(code)) return "";
  if (code == U'\n') return "\\n";
  if (code == U'\t') return "\\t";
  if (code == U'\r') return "\\r";
  const auto number = static_cast<unsigned>(code);
  return number < 0x100 ? fmt::format("\\x{:02x}", number) : fmt::format("\\u{:04x}", number);
}

std::string clean(const std::string& text) {
  std::string result;
  int marks = 0;
  for (const char32_t code : characters(text)) {
    marks = is_mark(code) ? marks + 1 : 0;
    if (marks > kMostMarks) continue;
    const std::string escape = escape_of(code);
    if (escape.empty()) append(result, is_noncharacter(code) ? kReplacement : code);
    result += escape;
  }
  return result;
}

std::string isolated(const std::string& name) {
  const std::string text = clean(name);
  for (const char32_t code : characters(text))
    if (is_right_to_left(code)) return encoded({kFirstStrongIsolate}) + text + encoded({kPopIsolate});
  return text;
}

double text_width(const std::string& text, double size, bool bold) {
  double sum = 0.0;
  for (const char32_t code : characters(text)) sum += thousandths(code, bold);
  return sum * size / 1000.0;
}

double widest(const std::vector<std::string>& texts, double size) {
  double width = 0.0;
  for (const std::string& text : texts) width = std::max(width, text_width(text, size));
  return width;
}

std::string with_unit(const std::string& quantity, const std::string& unit) {
  return isolated(quantity) + (unit.empty() ? "" : " [" + clean(unit) + "]");
}

std::string fitted(const std::string& text, double width, double size, bool bold) {
  if (text_width(text, size, bold) <= width) return text;
  const std::u32string codes = characters(text);
  double room = width * 1000.0 / size - thousandths(kEllipsis, bold);
  std::u32string kept;
  int open = 0;  // isolates that have to be closed again
  for (const char32_t code : codes) {
    room -= thousandths(code, bold);
    if (room < 0.0) break;
    open += code == kFirstStrongIsolate ? 1 : code == kPopIsolate ? -1 : 0;
    kept += code;
  }
  while (!kept.empty() && kept.back() == U' ') kept.pop_back();
  kept += kEllipsis;
  for (; open > 0; --open) kept += kPopIsolate;
  return encoded(kept);
}

std::vector<std::string> wrapped(const std::string& text, double width, double size, bool bold) {
  std::vector<std::string> lines;
  std::string line;
  for (std::size_t at = 0; at <= text.size();) {
    const std::size_t space = std::min(text.find(' ', at), text.size());
    const std::string word = fitted(text.substr(at, space - at), width, size, bold);
    const std::string longer = line.empty() ? word : line + " " + word;
    if (!line.empty() && text_width(longer, size, bold) > width) {
      lines.push_back(line);
      line = word;
    } else {
      line = longer;
    }
    at = space + 1;
  }
  if (!line.empty() || lines.empty()) lines.push_back(line);
  return lines;
}

}  // namespace tuft::figure
