#include "geometry/casefile/rewrite.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cctype>

#include "geometry/casefile/document.hpp"
#include "geometry/casefile/generic.hpp"
#include "geometry/casefile/keys.hpp"
#include "geometry/casefile/nearest.hpp"
#include "geometry/casefile/quantity.hpp"

namespace tuft::casefile {
namespace {

// Byte offset of a place in normalised text.
std::size_t offset_of(const std::string& text, Spot spot) {
  std::size_t at = 0;
  for (int line = 1; line < spot.line; ++line) at = text.find('\n', at) + 1;
  for (int column = 1; column < spot.column; ++column)
    at += static_cast<std::size_t>(std::max(1, utf8_length(std::string_view(text).substr(at))));
  return at;
}

// The unit of a quantity as it stands in a file: what follows its first number or range.
std::string unit_of(const std::string& written) {
  std::size_t from = 0;
  const auto in_number = [&](char c) { return std::isdigit(static_cast<unsigned char>(c)) != 0 || c == '.'; };
  while (from < written.size() &&
         (in_number(written[from]) || written[from] == '-' || written[from] == '+')) {
    ++from;
    const bool exponent = from + 1 < written.size() && (written[from] == 'e' || written[from] == 'E') &&
                          (in_number(written[from + 1]) || written[from + 1] == '-');
    if (exponent) from += 2;
  }
  std::size_t to = written.size();
  for (const char* sign : {"±", "+-", "+/-", "*/"}) to = std::min(to, written.find(sign, from));
  std::string unit = written.substr(from, to - from);
  while (!unit.empty() && unit.front() == ' ') unit.erase(unit.begin());
  while (!unit.empty() && unit.back() == ' ') unit.pop_back();
  return unit;
}

// Where a key path leads in a document: the node, or the map it would stand in and what is left of the path.
struct Found {
  const Node* node = nullptr;
  const Node* last = nullptr;  // deepest node on the way
  std::string rest;            // what is left below it
};

Found walk(const Node& root, const std::string& path) {
  Found out;
  out.last = &root;
  out.rest = path;
  while (!out.rest.empty()) {
    const Node* next = nullptr;
    std::size_t used = 0;
    if (out.rest[0] == '[' && out.last->kind == Node::Kind::list) {
      const std::size_t end = out.rest.find(']');
      const std::size_t index = std::stoul(out.rest.substr(1, end - 1));
      if (end == std::string::npos || index >= out.last->items.size()) return out;
      next = &out.last->items[index];
      used = end + 1;
    } else {
      // Names may hold dots: the longest key that fits.
      for (const Entry& entry : out.last->entries) {
        const std::size_t n = entry.key.size();
        const bool fits = out.rest.compare(0, n, entry.key) == 0 &&
                          (out.rest.size() == n || out.rest[n] == '.' || out.rest[n] == '[');
        if (!fits || n <= used) continue;
        next = &entry.value;
        used = n;
      }
    }
    if (next == nullptr) return out;
    out.rest.erase(0, used);
    if (!out.rest.empty() && out.rest[0] == '.') out.rest.erase(0, 1);
    out.last = next;
  }
  out.node = out.last;
  return out;
}

// The text of a scalar as it stands in the file, quotes included; length 0 if it is not there as one piece.
std::size_t written_length(const std::string& text, std::size_t at, const std::string& value) {
  if (text.compare(at, value.size(), value) == 0) return value.size();
  const bool quote = at < text.size() && (text[at] == '"' || text[at] == '\'');
  const bool same = quote && text.compare(at + 1, value.size(), value) == 0 &&
                    at + 1 + value.size() < text.size() && text[at + 1 + value.size()] == text[at];
  return same ? value.size() + 2 : 0;
}

// The text with another scalar in place of one; the same text if that does not stand there as one piece.
std::string with_scalar(std::string text, const Node& scalar, const std::string& written) {
  const std::size_t at = offset_of(text, scalar.spot);
  const std::size_t length = written_length(text, at, scalar.text);
  return length == 0 ? text : text.replace(at, length, written);
}

// What was assumed for a key path; empty: nothing.
std::string assumed_at(const CaseFile& file, const std::string& key) {
  for (const std::vector<Assumption>* list : {&file.assumptions, &file.laws})
    for (const Assumption& assumption : *list)
      if (assumption.key == key) return assumption.value;
  return "";
}

bool is_flow(const std::string& text, std::size_t first_key) {
  while (first_key > 0 && std::isspace(static_cast<unsigned char>(text[first_key - 1])) != 0) --first_key;
  return first_key > 0 && text[first_key - 1] == '{';
}

// A key, or one in a map of its own: "tilt.x".
bool is_short_path(const std::string& rest) {
  return !rest.empty() && rest.find('[') == std::string::npos && rest.find('.') == rest.rfind('.');
}

// "perforated.inertial" and "1 ± 5 %" as a key with its value: "perforated: {inertial: 1 ± 5 %}".
std::string pair_of(const std::string& rest, const std::string& written) {
  const std::size_t dot = rest.find('.');
  if (dot == std::string::npos) return rest + ": " + written;
  return rest.substr(0, dot) + ": {" + pair_of(rest.substr(dot + 1), written) + "}";
}

// The text with one value written at its path; the same text if there is no place for it.
std::string with_value(const std::string& text, const NewValue& value, const std::string& assumed) {
  const auto document = parse_document(text);
  if (!document) return text;
  const Found found = walk(*document, value.key);
  if (found.node != nullptr) {
    if (found.node->kind != Node::Kind::text) return text;
    const bool named = contains(generic_names("joins"), found.node->text);
    return with_scalar(text, *found.node,
                       write_quantity(value.value, unit_of(named ? assumed : found.node->text), value.steps));
  }
  // A key that has no name of the person's choosing on its way may lack the sections it stands in too.
  const bool fixed = find_key(value.key) != nullptr;
  if (assumed.empty() || !(fixed || is_short_path(found.rest))) return text;
  const std::string pair = pair_of(found.rest, write_quantity(value.value, unit_of(assumed), value.steps));
  if (found.last == &*document) return text + (text.back() == '\n' ? "" : "\n") + pair + "\n";
  if (found.last->kind == Node::Kind::text) {  // a bare word names a kind, or a generic thing
    const bool named = contains(generic_names(), found.last->text);
    return with_scalar(text, *found.last,
                       (named ? "{like: " : "{kind: ") + found.last->text + ", " + pair + "}");
  }
  if (found.last->kind != Node::Kind::map || found.last->entries.empty()) return text;
  const Spot first = found.last->entries.front().key_spot;
  const std::size_t at = offset_of(text, first);
  const std::string gap =
      is_flow(text, at) ? ", " : "\n" + std::string(static_cast<std::size_t>(first.column - 1), ' ');
  return std::string(text).insert(at, pair + gap);
}

// --- the section correlations ------------------------------------------------------------------------

// A key path as a text within a list in brackets: quoted where it holds more than names and dots.
std::string as_item(const std::string& key) {
  bool plain = true;
  std::string escaped;
  for (const char c : key) {
    plain = plain && (std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '.' || c == '-' || c == '_');
    if (c == '"' || c == '\\') escaped += '\\';
    escaped += c;
  }
  return plain ? key : '"' + escaped + '"';
}

std::string entry_of(const NewTie& tie) {
  return fmt::format("{{inputs: [{}, {}], correlation: {:.2f}}}", as_item(tie.first), as_item(tie.second),
                     tie.correlation);
}

// The text with one more entry in its section `correlations`; the same text if there is no place for it.
std::string with_tie(const std::string& text, const NewTie& tie) {
  const auto document = parse_document(text);
  if (!document) return text;
  const Entry* section = document->find("correlations");
  std::string out = text;
  if (section == nullptr) {
    if (!out.empty() && out.back() != '\n') out += '\n';
    return out + "correlations:\n  - " + entry_of(tie) + "\n";
  }
  if (section->value.kind != Node::Kind::list || section->value.items.empty()) return text;
  const std::size_t at = offset_of(text, section->value.items.front().spot);
  std::size_t before = at;
  while (before > 0 && std::isspace(static_cast<unsigned char>(text[before - 1])) != 0) --before;
  if (before == 0) return text;
  --before;
  if (text[before] == '[') return out.insert(at, entry_of(tie) + ", ");
  if (text[before] != '-') return text;
  const std::size_t line = text.rfind('\n', before) + 1;  // npos + 1 is 0
  const std::string dash = std::string(before - line, ' ') + text.substr(before, at - before);
  return out.insert(at, entry_of(tie) + "\n" + dash);
}

// --- the section joint-sample ------------------------------------------------------------------------

// The text without a section of the document's own map, up to the next one.
std::string without_section(const std::string& text, const std::string& name) {
  const auto document = parse_document(text);
  if (!document) return text;
  for (std::size_t i = 0; i < document->entries.size(); ++i) {
    if (document->entries[i].key != name) continue;
    const std::size_t from = offset_of(text, document->entries[i].key_spot);
    const std::size_t to =
        i + 1 < document->entries.size() ? offset_of(text, document->entries[i + 1].key_spot) : text.size();
    return std::string(text).erase(from, to - from);
  }
  return text;
}

std::string joint_section(const NewJointSample& joint) {
  constexpr std::size_t kWidth = 100;  // of a line of keys
  std::string text = "joint-sample:\n  inputs: [", line;
  for (std::size_t k = 0; k < joint.keys.size(); ++k) {
    const std::string item = as_item(joint.keys[k]) + (k + 1 < joint.keys.size() ? ", " : "]\n");
    if (!line.empty() && line.size() + item.size() > kWidth) {
      text += line + "\n    ";
      line.clear();
    }
    line += item;
  }
  text += line + "  places:\n";
  for (const std::vector<int>& device : joint.places) {
    text += "    -";
    for (const int place : device) text += " " + std::to_string(place);
    text += "\n";
  }
  return text;
}

// --- the whole -----------------------------------------------------------------------------------

std::string as_comment(const std::string& remark) {
  std::string out;
  for (const std::string_view line : split_lines(remark))
    if (!line.empty()) out += "# " + std::string(line) + "\n";
  return out;
}

bool is_sound(const std::string& text, const CaseFile& file) {
  return read_case_text(text, file.path).errors.empty();
}

// Three that are correlated can be possible where two of their pairs alone are not: all at once is tried
// first, then one after the other.
void correlate(const CaseFile& file, const std::vector<NewTie>& ties, Rewritten& out) {
  std::string all = out.text;
  bool placed = true;
  for (const NewTie& tie : ties) {
    const std::string next = with_tie(all, tie);
    placed = placed && next != all;
    all = next;
  }
  if (placed && is_sound(all, file)) {
    out.text = all;
    out.tied = ties;
    return;
  }
  for (const NewTie& tie : ties) {
    const std::string next = with_tie(out.text, tie);
    const bool sound = next != out.text && is_sound(next, file);
    (sound ? out.tied : out.untied).push_back(tie);
    if (sound) out.text = next;
  }
}

}  // namespace

std::vector<std::string> units_of(const CaseFile& file, const std::vector<std::string>& keys) {
  const auto document = parse_document(normalised(file.text));
  std::vector<std::string> out;
  for (const std::string& key : keys) {
    const Found found = document ? walk(*document, key) : Found{};
    std::string written;
    if (found.node != nullptr && found.node->kind == Node::Kind::text) written = found.node->text;
    if (written.empty() || contains(generic_names("joins"), written)) written = assumed_at(file, key);
    out.push_back(unit_of(written));
  }
  return out;
}

std::string with_joint_sample(const std::string& text, const std::string& path, const NewJointSample& joint) {
  std::string out = without_section(text, "joint-sample");
  if (!joint.keys.empty()) out += (out.empty() || out.back() == '\n' ? "" : "\n") + joint_section(joint);
  return read_case_text(out, path).errors.empty() ? out : text;
}

Rewritten rewrite(const CaseFile& file, const std::vector<NewValue>& values, const std::string& remark,
                  const std::vector<NewTie>& ties) {
  Rewritten out;
  out.text = as_comment(remark) + normalised(file.text);
  for (const NewValue& value : values) {
    const std::string next = with_value(out.text, value, assumed_at(file, value.key));
    const bool sound = next != out.text && is_sound(next, file);
    (sound ? out.written : out.left_out).push_back(value.key);
    if (sound) out.text = next;
  }
  correlate(file, ties, out);
  return out;
}

}  // namespace tuft::casefile
