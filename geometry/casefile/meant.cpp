#include "geometry/casefile/meant.hpp"

#include <algorithm>
#include <cctype>
#include <initializer_list>
#include <utility>

#include "geometry/casefile/units.hpp"

namespace tuft::casefile {
namespace {

constexpr const char* kOddBlanks[] = {"\u00A0", "\u2007", "\u2009", "\u202F"};
constexpr const char* kCurlyQuotes[] = {"\u201C", "\u201D", "\u201E", "\u2018", "\u2019", "\u00AB", "\u00BB"};
constexpr const char* kDashes[] = {"\u2013", "\u2014"};

bool is_number(std::string_view text) {
  return !text.empty() &&
         std::all_of(text.begin(), text.end(), [](unsigned char c) { return std::isdigit(c); });
}

bool starts_with_digit(std::string_view text) {
  return !text.empty() && std::isdigit(static_cast<unsigned char>(text.front())) != 0;
}

std::string_view bare(std::string_view text) {
  const std::size_t first = text.find_first_not_of(' ');
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(' ') - first + 1);
}

bool replace_all(std::string& text, std::string_view sign, std::string_view by) {
  bool found = false;
  for (std::size_t at = text.find(sign); at != std::string::npos; at = text.find(sign, at + by.size())) {
    text.replace(at, sign.size(), by);
    found = true;
  }
  return found;
}

// A comma between two digits.
bool replace_commas(std::string& text) {
  bool found = false;
  for (std::size_t i = 1; i + 1 < text.size(); ++i) {
    if (text[i] != ',' || !starts_with_digit(text.substr(i - 1)) || !starts_with_digit(text.substr(i + 1)))
      continue;
    text[i] = '.';
    found = true;
  }
  return found;
}

// A hyphen between two numbers: "10-12 W", "10 - 12 W". No unit and no exponent stands before it.
bool replace_hyphen(std::string& text) {
  const std::size_t at = text.find('-', 1);
  if (at == std::string::npos || text.find('-', at + 1) != std::string::npos) return false;
  const std::string_view before = bare(std::string_view(text).substr(0, at));
  const std::string_view after = bare(std::string_view(text).substr(at + 1));
  if (before.empty() || !starts_with_digit(before.substr(before.size() - 1)) || !starts_with_digit(after))
    return false;
  text = std::string(before) + ".." + std::string(after);
  return true;
}

std::string lower(std::string_view text) {
  std::string out(text);
  for (char& c : out) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return out;
}

// Units as people write them. Only whole units count.
std::string unit_meant(const std::string& unit) {
  static const std::pair<const char*, const char*> words[] = {
      {"\"", "in"},           {"''", "in"},      {"\u2033", "in"},
      {"zoll", "in"},         {"u/min", "rpm"},  {"upm", "rpm"},
      {"1/min.", "rpm"},      {"tr/min", "rpm"}, {"giri/min", "rpm"},
      {"watts", "W"},         {"watt", "W"},     {"w", "W"},
      {"mw", "mW"},           {"kw", "kW"},      {"mm", "mm"},
      {"cm", "cm"},           {"m", "m"},        {"rpm", "rpm"},
      {"pa", "Pa"},           {"k", "K"},        {"\u00B0c", "\u00B0C"},
      {"\u00B0f", "\u00B0F"}, {"m3/h", "m3/h"},  {"cfm", "cfm"},
      {"l/s", "L/s"},         {"k/w", "K/W"},    {"w/k", "W/K"},
      {"j/k", "J/K"},         {"m/s", "m/s"},    {"min.", "min"},
      {"sec", "s"},           {"hrs", "h"}};
  const std::string folded = lower(unit);
  for (const auto& [said, meant] : words)
    if (folded == said && unit != meant) return meant;
  return "";
}

bool replace_unit(std::string& text) {
  const std::size_t last = text.find_last_of("0123456789");
  // A digit may belong to the unit: "m3/h".
  std::size_t end = last;
  for (const std::size_t blank : {text.find(' ', text.find_first_of("0123456789")), std::string::npos})
    if (blank != std::string::npos && blank < last) end = std::min(end, blank - 1);
  if (end == std::string::npos) return false;
  for (const std::size_t from : {end, last}) {
    const std::string meant = unit_meant(std::string(bare(std::string_view(text).substr(from + 1))));
    if (meant.empty()) continue;
    text = text.substr(0, from + 1) + " " + meant;
    return true;
  }
  return false;
}

}  // namespace

Meant meant_by(std::string_view given) {
  Meant out{std::string(bare(given)), ""};
  const auto note = [&](const char* what) {
    out.wrong += (out.wrong.empty() ? "" : " and ") + std::string(what);
  };
  // One curly quote after a number is a mark for inch that a word processor has bent.
  const std::size_t mark = out.text.rfind("\u201D");
  const bool inch = mark != std::string::npos && mark + 3 == out.text.size() && mark > 0 &&
                    starts_with_digit(out.text.substr(mark - 1)) && starts_with_digit(out.text);
  if (inch) {
    out.text = out.text.substr(0, mark) + " in";
    note("has a curly quote for inch");
  }
  bool blanks = false, quotes = false, range = false;
  for (const char* blank : kOddBlanks) blanks = replace_all(out.text, blank, " ") || blanks;
  for (const char* quote : kCurlyQuotes) quotes = replace_all(out.text, quote, "") || quotes;
  for (const char* dash : kDashes) range = replace_all(out.text, dash, "-") || range;
  out.text = std::string(bare(out.text));
  if (blanks) note("has a non-breaking blank");
  if (quotes) note("has curly quotes");
  if (replace_commas(out.text)) note("has a decimal comma");
  if (replace_hyphen(out.text)) note("has a dash for a range");
  if (replace_unit(out.text)) note("has its unit in other letters");
  return out;
}

std::vector<std::string> with_decimals(const std::vector<std::string>& items) {
  std::vector<std::string> out;
  bool found = false;
  for (std::size_t i = 0; i < items.size(); ++i) {
    const std::string first(bare(items[i]));
    // Half a number has no unit; the other half begins with digits.
    if (is_number(first) && i + 1 < items.size() && starts_with_digit(bare(items[i + 1]))) {
      out.push_back(first + "." + std::string(bare(items[++i])));
      found = true;
    } else {
      out.push_back(first);
    }
  }
  return found ? out : std::vector<std::string>{};
}

std::vector<std::string> split_by_times(std::string_view text) {
  std::string whole(text);
  for (const char* times : {"\u00D7", "*", "X"}) replace_all(whole, times, "x");
  for (const char* blank : kOddBlanks) replace_all(whole, blank, " ");
  replace_commas(whole);
  std::vector<std::string> parts;
  for (std::size_t at = whole.find('x'); at != std::string::npos; at = whole.find('x')) {
    parts.emplace_back(bare(std::string_view(whole).substr(0, at)));
    whole.erase(0, at + 1);
  }
  parts.emplace_back(bare(whole));
  if (parts.size() < 2) return {};
  const std::size_t end = parts.back().find_last_of("0123456789");
  if (end == std::string::npos) return {};
  const std::string unit = parts.back().substr(end + 1);
  for (std::string& part : parts) {
    if (!starts_with_digit(part)) return {};
    if (starts_with_digit(part.substr(part.size() - 1))) part += unit;
  }
  return parts;
}

std::string without_curly_quotes(std::string_view text) {
  std::string out(text);
  for (const char* quote : kCurlyQuotes) replace_all(out, quote, "");
  return out;
}

bool is_half_number(std::string_view key) {
  const std::size_t digits = std::min(key.find_first_not_of("0123456789"), key.size());
  if (digits == 0 || digits == key.size()) return false;
  const std::string unit(bare(key.substr(digits)));
  return find_unit(unit).known || !unit_meant(unit).empty();
}

bool begins_with_odd_blank(std::string_view text) {
  return std::any_of(std::begin(kOddBlanks), std::end(kOddBlanks),
                     [&](std::string_view blank) { return text.substr(0, blank.size()) == blank; });
}

}  // namespace tuft::casefile
