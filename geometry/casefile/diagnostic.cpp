// Diagnostics as a person sees them: place, key, message, and the excerpt with a caret.
#include <fmt/core.h>

#include <algorithm>

#include "geometry/casefile/case_file.hpp"
#include "geometry/casefile/text.hpp"

namespace tuft::casefile {
namespace {

constexpr int kLongestExcerpt = 100;  // characters of a line shown; a longer one is cut around the caret

// A line made fit to print: tabs as one space, other control characters and bad bytes as '?'.
std::string printable(std::string_view line) {
  std::string out;
  for (std::size_t i = 0; i < line.size();) {
    const int length = utf8_length(line.substr(i));
    const auto byte = static_cast<unsigned char>(line[i]);
    if (length == 0 || byte == 0x7F || (byte < 0x20 && byte != '\t')) {
      out += '?';
    } else {
      out += byte == '\t' ? std::string(" ") : std::string(line.substr(i, static_cast<std::size_t>(length)));
    }
    i += static_cast<std::size_t>(std::max(1, length));
  }
  return out;
}

std::string characters(std::string_view line, int from, int count) {
  std::size_t i = 0;
  const auto step = [&] { i += static_cast<std::size_t>(std::max(1, utf8_length(line.substr(i)))); };
  for (; from > 0 && i < line.size(); --from) step();
  const std::size_t start = i;
  for (; count > 0 && i < line.size(); --count) step();
  return std::string(line.substr(start, i - start));
}

std::string cut(const std::string& line) {
  const std::string start = characters(line, 0, kLongestExcerpt);
  return start.size() < line.size() ? start + "..." : start;
}

std::string numbered(int line, int width, const std::string& text) {
  return fmt::format(text.empty() ? "{:>{}} |\n" : "{:>{}} | {}\n", line, width, text);
}

// The line before, the line itself, and a caret under the column.
std::string excerpt(const std::vector<std::string_view>& lines, int line, int column) {
  if (line < 1 || line > static_cast<int>(lines.size())) return "";
  const int width = static_cast<int>(std::to_string(line).size()) + 2;
  const std::string shown = printable(lines[static_cast<std::size_t>(line - 1)]);
  const int length = character_column(shown, shown.size()) - 1;
  const int skipped = length <= kLongestExcerpt ? 0 : std::max(0, column - kLongestExcerpt / 2);
  const std::string before = skipped > 0 ? "..." : "";
  const std::string part = before + characters(shown, skipped, kLongestExcerpt) +
                           (skipped + kLongestExcerpt < length ? "..." : "");
  const int caret = display_width(part, column - 1 - skipped + static_cast<int>(before.size()));
  std::string out;
  if (line > 1 && skipped == 0) {
    out += numbered(line - 1, width, cut(printable(lines[static_cast<std::size_t>(line - 2)])));
  }
  out += numbered(line, width, part);
  out += fmt::format("{:>{}} | {:>{}}\n", "", width, "^", caret + 1);
  return out;
}

}  // namespace

std::string format(const Diagnostic& diagnostic, const std::string& text) {
  std::string out = diagnostic.file;
  if (diagnostic.line > 0) out += fmt::format(":{}:{}", diagnostic.line, diagnostic.column);
  out += diagnostic.is_warning ? ": warning: " : ": error: ";
  if (!diagnostic.key.empty()) out += diagnostic.key + ": ";
  out += diagnostic.message;
  if (!diagnostic.hint.empty()) out += "; " + diagnostic.hint;
  out += "\n";
  const std::string plain = normalised(text);
  const std::vector<std::string_view> lines = split_lines(plain);
  out += excerpt(lines, diagnostic.line, diagnostic.column);
  if (diagnostic.other_line > 0) {
    out += fmt::format("{}:{}:{}: note: {}\n", diagnostic.file, diagnostic.other_line,
                       diagnostic.other_column, diagnostic.other_note);
    out += excerpt(lines, diagnostic.other_line, diagnostic.other_column);
  }
  return out;
}

}  // namespace tuft::casefile
