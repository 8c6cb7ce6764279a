// New entries of the section together.
#include <fmt/core.h>

#include <cctype>

#include "geometry/casefile/rewrite_places.hpp"

namespace tuft::casefile {
namespace {

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

}  // namespace

std::string with_tie(const std::string& text, const NewTie& tie) {
  Report report("", text);
  const ParsedDocument document = parse_document(text, report);
  if (!document.complete) return text;
  const Entry* section = document.root.find("together");
  std::string out = text;
  if (section == nullptr) {
    if (!out.empty() && out.back() != '\n') out += '\n';
    return out + "together:\n  - " + entry_of(tie) + "\n";
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

}  // namespace tuft::casefile
