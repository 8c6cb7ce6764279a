#include "tests/messages/mutations.hpp"

#include <algorithm>
#include <functional>
#include <random>
#include <utility>

namespace tuft::casefile::test {
namespace {

using Random = std::mt19937;

std::size_t below(Random& random, std::size_t n) { return n == 0 ? 0 : random() % n; }

struct Span {
  std::size_t at = 0;
  std::size_t length = 0;
};

bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }
bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool in_word(char c) { return is_letter(c) || is_digit(c) || c == '-'; }

// Words before a ':'.
std::vector<Span> keys(const std::string& text) {
  std::vector<Span> out;
  for (std::size_t i = 1; i + 1 < text.size(); ++i) {
    if (text[i] != ':' || (text[i + 1] != ' ' && text[i + 1] != '\n')) continue;
    std::size_t start = i;
    while (start > 0 && in_word(text[start - 1])) --start;
    if (start < i) out.push_back({start, i - start});
  }
  return out;
}

// "{key: value" and ", key: value" of maps in braces, with the mark before them; values without brackets.
std::vector<Span> entries(const std::string& text) {
  std::vector<Span> out;
  for (const Span& key : keys(text)) {
    const std::size_t before = text.find_last_not_of(' ', key.at - 1);
    const bool inside = before != std::string::npos && (text[before] == '{' || text[before] == ',');
    const std::size_t end = text.find_first_of(",{}[]\n", key.at);
    if (inside && end != std::string::npos && (text[end] == ',' || text[end] == '}')) {
      out.push_back({before, end - before});
    }
  }
  return out;
}

// Runs of digits, decimals included.
std::vector<Span> numbers(const std::string& text) {
  std::vector<Span> out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (!is_digit(text[i])) continue;
    std::size_t end = i;
    while (end < text.size() && (is_digit(text[end]) || (text[end] == '.' && is_digit(text[end + 1])))) ++end;
    out.push_back({i, end - i});
    i = end;
  }
  return out;
}

// What follows a number and a space.
std::vector<Span> units(const std::string& text) {
  std::vector<Span> out;
  for (const Span& number : numbers(text)) {
    const std::size_t start = number.at + number.length + 1;
    if (start >= text.size() || text[start - 1] != ' ') continue;
    const std::size_t end = text.find_first_of(" ,]}\n", start);
    if (end != std::string::npos && end > start) out.push_back({start, end - start});
  }
  return out;
}

// The lines with their ends.
std::vector<Span> lines(const std::string& text) {
  std::vector<Span> out;
  for (std::size_t start = 0; start < text.size();) {
    const std::size_t end = std::min(text.find('\n', start), text.size() - 1) + 1;
    out.push_back({start, end - start});
    start = end;
  }
  return out;
}

std::vector<Span> marks(const std::string& text) {
  std::vector<Span> out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (std::string("{}[],:").find(text[i]) != std::string::npos) out.push_back({i, 1});
  }
  return out;
}

Span pick(Random& random, const std::vector<Span>& spans) { return spans[below(random, spans.size())]; }

std::string replaced(std::string text, Span span, const std::string& with) {
  return text.replace(span.at, span.length, with);
}

std::string misspelt(Random& random, std::string word) {
  const std::size_t i = below(random, word.size());
  switch (below(random, 4)) {
    case 0:
      word.erase(i, 1);
      break;
    case 1:
      word.insert(i, 1, static_cast<char>('a' + below(random, 26)));
      break;
    case 2:
      word[i] = static_cast<char>('a' + below(random, 26));
      break;
    default:
      if (i + 1 < word.size()) std::swap(word[i], word[i + 1]);
  }
  return word;
}

std::string misspell_key(const std::string& good, Random& random) {
  const Span span = pick(random, keys(good));
  return replaced(good, span, misspelt(random, good.substr(span.at, span.length)));
}

std::string delete_entry(const std::string& good, Random& random) {
  Span span = pick(random, entries(good));
  ++span.at;  // the bracket or comma before it stays
  --span.length;
  return replaced(good, span, "");
}

std::string double_entry(const std::string& good, Random& random) {
  const Span span = pick(random, entries(good));
  const std::string entry = good.substr(span.at + 1, span.length - 1);
  return replaced(good, {span.at + span.length, 0}, ", " + entry);
}

std::string swap_unit(const std::string& good, Random& random) {
  static const char* const others[] = {"mm",  "Pa",  "W",       "°C", "deg", "%",
                                       "L/s", "rpm", "furlong", "",   "mm2", "K"};
  return replaced(good, pick(random, units(good)), others[below(random, std::size(others))]);
}

std::string swap_number(const std::string& good, Random& random) {
  static const char* const others[] = {"0",    "-1",  "1e9", "1e400", ".nan", ".inf", "010",
                                       "0x1F", "1,5", "yes", "~",     "3..2", ""};
  return replaced(good, pick(random, numbers(good)), others[below(random, std::size(others))]);
}

std::string swap_keys(const std::string& good, Random& random) {
  const Span one = pick(random, keys(good));
  const Span other = pick(random, keys(good));
  return replaced(good, one, good.substr(other.at, other.length));
}

std::string delete_line(const std::string& good, Random& random) {
  return replaced(good, pick(random, lines(good)), "");
}

std::string double_line(const std::string& good, Random& random) {
  const Span span = pick(random, lines(good));
  return replaced(good, {span.at, 0}, good.substr(span.at, span.length));
}

std::string indent_line(const std::string& good, Random& random) {
  static const char* const indents[] = {" ", "   ", "\t", "- ", "? "};
  return replaced(good, {pick(random, lines(good)).at, 0}, indents[below(random, std::size(indents))]);
}

std::string truncate(const std::string& good, Random& random) {
  return good.substr(0, below(random, good.size()));
}

std::string change_bracket(const std::string& good, Random& random) {
  static const char* const brackets[] = {"", "{", "}", "[", "]", ":", ",", "#", "&a ", "*a"};
  return replaced(good, pick(random, marks(good)), brackets[below(random, std::size(brackets))]);
}

std::string insert_bytes(const std::string& good, Random& random) {
  std::string bytes;
  for (std::size_t n = 1 + below(random, 4); n > 0; --n) bytes += static_cast<char>(below(random, 256));
  return replaced(good, {below(random, good.size()), 0}, bytes);
}

std::string remove_bytes(const std::string& good, Random& random) {
  return replaced(good, {below(random, good.size() - 8), 1 + below(random, 8)}, "");
}

std::string flip_bit(const std::string& good, Random& random) {
  std::string out = good;
  char& byte = out[below(random, out.size())];
  byte = static_cast<char>(static_cast<unsigned char>(byte) ^ (1u << below(random, 8)));
  return out;
}

}  // namespace

std::vector<Mutation> mutations(const std::string& good, int per_kind, std::uint32_t seed) {
  using Change = std::function<std::string(const std::string&, Random&)>;
  const std::pair<const char*, Change> kinds[] = {
      {"misspell a key", misspell_key},     {"delete an entry", delete_entry},
      {"double an entry", double_entry},    {"swap a unit", swap_unit},
      {"swap a number", swap_number},       {"swap keys", swap_keys},
      {"delete a line", delete_line},       {"double a line", double_line},
      {"indent a line", indent_line},       {"truncate", truncate},
      {"change a bracket", change_bracket}, {"insert bytes", insert_bytes},
      {"remove bytes", remove_bytes},       {"flip a bit", flip_bit}};
  Random random(seed);
  std::vector<Mutation> out;
  for (const auto& [name, change] : kinds) {
    for (int i = 0; i < per_kind; ++i)
      out.push_back({name + (" " + std::to_string(i)), change(good, random)});
  }
  return out;
}

}  // namespace tuft::casefile::test
