#include "geometry/casefile/report.hpp"

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

}  // namespace

Report::Report(std::string path, const std::string& text) : path_(std::move(path)) {
  for (const std::string_view line : split_lines(text)) {
    line_lengths_.push_back(character_column(line, line.size()) - 1);
  }
}

// Marks of a scanner that ran off the end are brought back into the file.
Spot Report::clamped(Spot spot) const {
  const int n_lines = static_cast<int>(line_lengths_.size());
  if (spot.line > n_lines) return {n_lines, line_lengths_.back() + 1};
  spot.line = std::max(1, spot.line);
  const int length = line_lengths_[static_cast<std::size_t>(spot.line - 1)];
  spot.column = std::clamp(spot.column, 1, length + 1);
  return spot;
}

Diagnostic Report::make(Spot spot, std::string key, std::string message, std::string hint) const {
  const Spot inside = clamped(spot);
  Diagnostic found;
  found.file = path_;
  found.line = inside.line;
  found.column = inside.column;
  found.key = std::move(key);
  found.message = std::move(message);
  found.hint = std::move(hint);
  return found;
}

void Report::error(Spot spot, std::string key, std::string message, std::string hint) {
  errors_.push_back(make(spot, std::move(key), std::move(message), std::move(hint)));
}

void Report::warning(Spot spot, std::string key, std::string message, std::string hint) {
  warnings_.push_back(make(spot, std::move(key), std::move(message), std::move(hint)));
  warnings_.back().is_warning = true;
}

void Report::conflict(Spot spot, std::string key, std::string message, Spot other, std::string other_note) {
  error(spot, std::move(key), std::move(message));
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

}  // namespace tuft::casefile
