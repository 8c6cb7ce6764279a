// Located YAML: a tree of texts, lists and maps in which everything knows where it stands.
//
// YAML's own guesses are not used: every scalar stays the text it was written as, so that 010, yes, .nan and
// 1e3 mean what the key that holds them says. Aliases, merge keys, tags and several documents are refused.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "geometry/casefile/report.hpp"
#include "geometry/casefile/text.hpp"

namespace tuft::casefile {

struct Entry;

/// One node of the document.
struct Node {
  enum class Kind { nothing, text, list, map };
  Kind kind = Kind::nothing;
  Spot spot;                   ///< of its first character
  bool faulty = false;         ///< something about it was refused and reported; what it lacks is no news
  std::string text;            ///< Kind::text: as written, quotes and folding resolved
  std::vector<Node> items;     ///< Kind::list
  std::vector<Entry> entries;  ///< Kind::map, in the order of the file, keys unique
  std::string why = {};        ///< where a value that is not written comes from ("like blower-50: ...")

  /// Entry with this key, or nullptr.
  const Entry* find(std::string_view key) const;
};

/// A key and what it holds.
struct Entry {
  std::string key;
  Spot key_spot;
  Node value;
};

/// Deepest nesting of lists and maps.
constexpr int kMaxDepth = 24;
/// Most nodes of a document.
constexpr int kMaxNodes = 50000;

/// Parses normalised text. Faults go to `report`; there is no root when one hid the rest of the file.
std::optional<Node> parse_document(const std::string& text, Report& report);

/// The same, with the faults left unsaid.
std::optional<Node> parse_document(const std::string& text);

/// The same for a text that may be anything, and should be a map; `hint` says how that begins.
std::optional<Node> parse_map(const std::string& text, Report& report, const std::string& hint);

/// A map without entries, for what is not written.
const Node& empty_map();

/// "a map", "a list", "the text 'abc'", "nothing".
std::string describe(const Node& node);

/// A text as quoted in messages: shortened when long, control characters shown as spaces.
std::string in_quotes(std::string_view text);

}  // namespace tuft::casefile
