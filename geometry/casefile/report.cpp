#include "geometry/casefile/report.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <tuple>
#include <utility>

namespace tuft::casefile {
namespace {

std::vector<Diagnostic> in_order(std::vector<Diagnostic> found) {
  std::stable_sort(found.begin(), found.end(), [](const Diagnostic& a, const Diagnostic& b) {
    return std::tie(a.line, a.column) < std::tie(b.line, b.column);
  });
  const auto same = [](const Diagnostic& a, const Diagnostic& b) {
    return a.line == b.line && a.column == b.column && a.key == b.key && a.message == b.message;
  };
  found.erase(std::unique(found.begin(), found.end(), same), found.end());
  if (found.size() > Report::kMaxReported) found.resize(Report::kMaxReported);
  return found;
}

// --- as a person sees it: place, key, message, and the excerpt with a caret -------------------------

constexpr int kLongestExcerpt = 100;  // characters of a line shown; a longer one is cut around the caret

// A line made fit to print: tabs as one space, other control characters and bad bytes as '?'.
std::string printable(std::string_view line) {
  std::string out;
  for (const std::string_view character : characters(line)) {
    const auto byte = static_cast<unsigned char>(character[0]);
    const bool bad = utf8_length(character) == 0 || byte == 0x7F || (byte < 0x20 && byte != '\t');
    out += bad ? "?" : byte == '\t' ? " " : character;
  }
  return out;
}

std::string part_of(std::string_view line, int from, int count) {
  std::string out;
  for (const std::string_view character : characters(line)) {
    if (from <= 0 && count-- > 0) out += character;
    --from;
  }
  return out;
}

std::string cut(const std::string& line) {
  const std::string start = part_of(line, 0, kLongestExcerpt);
  return start.size() < line.size() ? start + "..." : start;
}

std::string numbered(int line, int width, const std::string& text) {
  return fmt::format(text.empty() ? "{:>{}} |\n" : "{:>{}} | {}\n", line, width, text);
}

// The line before, the line itself, and a caret under the column.
std::string excerpt(const std::vector<std::string_view>& lines, int line, int column) {
  if (line < 1 || line > static_cast<int>(lines.size())) return "";
  const int width = static_cast<int>(std::to_string(line).size()) + 2;
  const std::string shown = printable(lines[line - 1]);
  const int length = character_column(shown, shown.size()) - 1;
  const int skipped = length <= kLongestExcerpt ? 0 : std::max(0, column - kLongestExcerpt / 2);
  const std::string before = skipped > 0 ? "..." : "";
  const std::string part =
      before + part_of(shown, skipped, kLongestExcerpt) + (skipped + kLongestExcerpt < length ? "..." : "");
  const int caret = display_width(part, column - 1 - skipped + static_cast<int>(before.size()));
  std::string out;
  if (line > 1 && skipped == 0) out += numbered(line - 1, width, cut(printable(lines[line - 2])));
  out += numbered(line, width, part);
  out += fmt::format("{:>{}} | {:>{}}\n", "", width, "^", caret + 1);
  return out;
}

}  // namespace

Diagnostic at_file(const std::string& path, const std::string& message) {
  return {path, 0, 0, "", message, "", false, 0, 0, ""};
}

Report::Report(std::string path, const std::string& text) : path_(std::move(path)) {
  for (const std::string_view line : split_lines(text))
    line_lengths_.push_back(character_column(line, line.size()) - 1);
}

// Marks of a scanner that ran off the end are brought back into the file.
Spot Report::clamped(Spot spot) const {
  const int n_lines = static_cast<int>(line_lengths_.size());
  if (spot.line > n_lines) return {n_lines, line_lengths_.back() + 1};
  spot.line = std::max(1, spot.line);
  const int length = line_lengths_[spot.line - 1];
  spot.column = std::clamp(spot.column, 1, length + 1);
  return spot;
}

Diagnostic Report::make(Spot spot, std::string key, const std::string& message, std::string hint) const {
  const Spot inside = clamped(spot);
  return {path_, inside.line, inside.column, std::move(key), message, std::move(hint), false, 0, 0, ""};
}

std::nullopt_t Report::error(Spot spot, std::string key, const std::string& message, std::string hint) {
  errors_.push_back(make(spot, std::move(key), message, std::move(hint)));
  return std::nullopt;
}

void Report::warning(Spot spot, std::string key, const std::string& message, std::string hint) {
  warnings_.push_back(make(spot, std::move(key), message, std::move(hint)));
  warnings_.back().is_warning = true;
}

void Report::conflict(Spot spot, std::string key, const std::string& message, Spot other,
                      std::string other_note) {
  error(spot, std::move(key), message);
  const Spot inside = clamped(other);
  errors_.back().other_line = inside.line;
  errors_.back().other_column = inside.column;
  errors_.back().other_note = std::move(other_note);
}

bool Report::has_errors_in(const std::vector<std::string>& sections) const {
  const auto in = [](const std::string& key, const std::string& section) {
    const std::size_t n = section.size();
    return key.compare(0, n, section) == 0 && (key.size() == n || key[n] == '.' || key[n] == '[');
  };
  return std::any_of(errors_.begin(), errors_.end(), [&](const Diagnostic& found) {
    return std::any_of(sections.begin(), sections.end(),
                       [&](const std::string& section) { return in(found.key, section); });
  });
}

std::vector<Diagnostic> Report::errors() const { return in_order(errors_); }
std::vector<Diagnostic> Report::warnings() const { return in_order(warnings_); }

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
