#include "tests/random/extremes.hpp"

#include <algorithm>
#include <cctype>
#include <iterator>

namespace tuft::test {
namespace {

constexpr const char* kExtremes[] = {"0",   "-1",  "1e-300", "1e300", "1e-12", "1e-9", "1e-5",
                                     "1e5", "1e9", "1e12",   ".nan",  ".inf",  "-.inf"};

bool is_digit(char c) { return std::isdigit(static_cast<unsigned char>(c)) != 0; }
bool is_word(char c) { return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_' || c == '-'; }

std::string without_comments(const std::string& text) {
  std::string out;
  bool comment = false;
  for (const char c : text) {
    comment = (comment || c == '#') && c != '\n';
    if (!comment) out += c;
  }
  return out;
}

}  // namespace

Extremes::Extremes(const std::string& text) : text_(without_comments(text)) {
  for (std::size_t i = 0; i < text_.size();) {
    const bool begins = is_digit(text_[i]) && (i == 0 || (!is_word(text_[i - 1]) && text_[i - 1] != '.'));
    // The second and later numbers of a range stand behind two dots.
    const bool in_range = is_digit(text_[i]) && i >= 2 && text_[i - 1] == '.' && text_[i - 2] == '.';
    if (!begins && !in_range) {
      ++i;
      continue;
    }
    std::size_t end = i;
    while (end < text_.size() && is_digit(text_[end])) ++end;
    if (end + 1 < text_.size() && text_[end] == '.' && is_digit(text_[end + 1]))
      for (++end; end < text_.size() && is_digit(text_[end]);) ++end;
    places_.push_back({i, end - i});
    i = end;
  }
}

std::size_t Extremes::count() const { return places_.size() * std::size(kExtremes); }

Replacement Extremes::at(std::size_t index) const {
  const Place& place = places_[index / std::size(kExtremes)];
  const std::string value = kExtremes[index % std::size(kExtremes)];
  Replacement out;
  out.text = text_;
  out.text.replace(place.at, place.length, value);
  const std::size_t before = out.text.rfind('\n', place.at);
  const std::size_t start = before == std::string::npos ? 0 : before + 1;
  const auto line =
      1 + std::count(text_.begin(), text_.begin() + static_cast<std::ptrdiff_t>(place.at), '\n');
  out.what = "line " + std::to_string(line) + ", " + text_.substr(place.at, place.length) + " -> " + value +
             ": " + out.text.substr(start, out.text.find('\n', start) - start);
  return out;
}

}  // namespace tuft::test
