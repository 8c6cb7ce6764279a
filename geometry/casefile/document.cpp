#include "geometry/casefile/document.hpp"

#include <yaml-cpp/eventhandler.h>
#include <yaml-cpp/exceptions.h>
#include <yaml-cpp/parser.h>

#include <algorithm>
#include <set>
#include <sstream>
#include <utility>

namespace tuft::casefile {
namespace {

// Thrown to leave the parser when reading on makes no sense; the fault has been reported.
struct Stop {};

// Builds the tree from the parser's events: unlike the library's own tree these carry the place of every
// alias, and let duplicates and depth be seen before memory is spent on them.
class Builder : public YAML::EventHandler {
 public:
  Builder(const std::vector<std::string_view>& lines, Report& report) : lines_(lines), report_(report) {}

  Node take_root() { return std::move(root_); }
  bool has_document() const { return n_documents_ > 0; }

  void OnDocumentStart(const YAML::Mark& mark) override {
    if (++n_documents_ == 1) return;
    report_.error(spot(mark), "", "a second document begins here; a case file holds one device",
                  "put the other device into a file of its own");
    throw Stop{};
  }
  void OnDocumentEnd() override {}

  void OnNull(const YAML::Mark& mark, YAML::anchor_t) override {
    add(after_key() ? open_.back().key_spot : spot(mark), Node::Kind::nothing);
  }
  void OnAlias(const YAML::Mark& mark, YAML::anchor_t) override {
    const bool of_merge_key = after_key() && open_.back().skip_value;
    if (!of_merge_key)
      report_.error(spot(mark), path(), "aliases (*name) are not used in case files", "write the value out");
    add(spot(mark), Node::Kind::nothing, "", true);
  }
  void OnScalar(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t,
                const std::string& value) override {
    check_tag(mark, tag);
    add(spot(mark), Node::Kind::text, value);
  }
  void OnSequenceStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t,
                       YAML::EmitterStyle::value) override {
    open(mark, tag, Node::Kind::list);
  }
  void OnSequenceEnd() override { close(); }
  void OnMapStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t,
                  YAML::EmitterStyle::value) override {
    open(mark, tag, Node::Kind::map);
  }
  void OnMapEnd() override { close(); }

 private:
  struct Open {
    Node node;
    bool has_key = false;
    bool skip_value = false;  ///< the key was bad or a duplicate
    std::string key;
    Spot key_spot;
    std::set<std::string> keys;
  };

  Spot spot(const YAML::Mark& mark) const {
    if (mark.line < 0) return {1, 1};
    const auto line = static_cast<std::size_t>(mark.line);
    if (line >= lines_.size()) return {mark.line + 1, 1};
    const auto column = static_cast<std::size_t>(std::max(0, mark.column));
    return {mark.line + 1, character_column(lines_[line], column)};
  }

  bool in_map() const { return !open_.empty() && open_.back().node.kind == Node::Kind::map; }
  bool after_key() const { return in_map() && open_.back().has_key; }

  std::string path() const {
    std::string out;
    for (const Open& level : open_) {
      if (level.node.kind == Node::Kind::list) {
        out += "[" + std::to_string(level.node.items.size()) + "]";
      } else if (level.has_key) {
        out += (out.empty() ? "" : ".") + level.key;
      }
    }
    return out;
  }

  void check_tag(const YAML::Mark& mark, const std::string& tag) {
    if (tag.empty() || tag == "?" || tag == "!") return;
    report_.error(spot(mark), path(), "tags (!...) are not used in case files", "remove the tag");
  }

  void open(const YAML::Mark& mark, const std::string& tag, Node::Kind kind) {
    check_tag(mark, tag);
    if (static_cast<int>(open_.size()) >= kMaxDepth) {
      report_.error(spot(mark), "",
                    "lists and maps are nested more than " + std::to_string(kMaxDepth) + " deep");
      throw Stop{};
    }
    open_.emplace_back();
    open_.back().node.kind = kind;
    open_.back().node.spot = spot(mark);
  }

  void close() {
    Node node = std::move(open_.back().node);
    open_.pop_back();
    add(std::move(node));
  }

  void count_node(Spot where) {
    if (++n_nodes_ <= kMaxNodes) return;
    report_.error(where, "", "the file holds more than " + std::to_string(kMaxNodes) + " entries");
    throw Stop{};
  }

  void add(Spot where, Node::Kind kind, const std::string& text = "", bool faulty = false) {
    add(Node{kind, where, faulty, text, {}, {}});
  }

  void add(Node node) {
    if (open_.empty()) {
      root_ = std::move(node);
      return;
    }
    count_node(node.spot);
    Open& parent = open_.back();
    if (parent.node.kind == Node::Kind::list) {
      parent.node.items.push_back(std::move(node));
    } else if (!parent.has_key) {
      take_key(parent, node);
    } else {
      if (!parent.skip_value)
        parent.node.entries.push_back({std::move(parent.key), parent.key_spot, std::move(node)});
      parent.has_key = false;
    }
  }

  void take_key(Open& parent, const Node& node) {
    const std::string where = path();
    parent.has_key = true;
    parent.key = node.text;
    parent.key_spot = node.spot;
    parent.skip_value = true;
    if (node.kind != Node::Kind::text) {
      if (!node.faulty) report_.error(node.spot, where, "a key must be a word, found " + describe(node));
    } else if (node.text == "<<") {
      report_.error(node.spot, where, "merge keys (<<) are not used in case files", "write the values out");
      parent.node.faulty = true;
    } else if (!parent.keys.insert(node.text).second) {
      const Entry* first = parent.node.find(node.text);
      report_.conflict(node.spot, where, "the key " + in_quotes(node.text) + " is written twice",
                       first ? first->key_spot : node.spot, "first written here");
    } else {
      parent.skip_value = false;
    }
  }

  const std::vector<std::string_view>& lines_;
  Report& report_;
  std::vector<Open> open_;
  Node root_;
  int n_documents_ = 0;
  int n_nodes_ = 0;
};

// The parser's reasons in the words of somebody who edits the file.
std::string plain_reason(const std::string& reason) {
  static const std::pair<const char*, const char*> words[] = {
      {"illegal map value", "a ':' where no value may stand; quote the text, or check the indentation"},
      {"end of map flow not found",
       "the map in { } can't be read from here on; it is not closed, or a text in it with a ':' is not "
       "quoted"},
      {"end of sequence flow not found",
       "the list in [ ] can't be read from here on; it is not closed, or a comma "
       "is missing"},
      {"end of map not found", "this line does not fit the lines above; check the indentation and the ':'"},
      {"end of sequence not found",
       "this line does not fit the list above; check the indentation and the '-'"},
      {"unexpected end of", "the file ends in the middle of something"},
      {"the referenced anchor is not defined", "aliases (*name) are not used in case files"},
  };
  for (const auto& [part, plain] : words)
    if (reason.find(part) != std::string::npos) return plain;
  return "not valid YAML: " + reason;
}

}  // namespace

const Entry* Node::find(std::string_view key) const {
  const auto it = std::find_if(entries.begin(), entries.end(), [&](const Entry& e) { return e.key == key; });
  return it == entries.end() ? nullptr : &*it;
}

std::optional<Node> parse_document(const std::string& text, Report& report) {
  const std::vector<std::string_view> lines = split_lines(text);
  Builder builder(lines, report);
  std::istringstream stream(text);
  try {
    YAML::Parser parser(stream);
    while (parser.HandleNextDocument(builder)) {
    }
    if (builder.has_document()) return builder.take_root();
    report.error({1, 1}, "", "the file is empty", "a case begins with 'tuft: 1'");
  } catch (const Stop&) {
  } catch (const YAML::Exception& fault) {
    const auto line = static_cast<std::size_t>(std::max(0, fault.mark.line));
    const auto column = static_cast<std::size_t>(std::max(0, fault.mark.column));
    const int character = line < lines.size() ? character_column(lines[line], column) : 1;
    report.error({static_cast<int>(line) + 1, character}, "", plain_reason(fault.msg));
  }
  return std::nullopt;
}

std::optional<Node> parse_document(const std::string& text) {
  Report unused("", text);
  return parse_document(text, unused);
}

std::optional<Node> parse_map(const std::string& text, Report& report, const std::string& hint) {
  const TextFault fault = find_text_fault(text);
  if (!fault.message.empty()) return report.error(fault.spot, "", fault.message);
  std::optional<Node> root = parse_document(text, report);
  if (!root || root->kind == Node::Kind::map) return root;
  return report.error(root->spot, "", "expected a map of keys, found " + describe(*root), hint);
}

const Node& empty_map() {
  static const Node node{Node::Kind::map, {}, false, "", {}, {}};
  return node;
}

std::string describe(const Node& node) {
  if (node.kind == Node::Kind::text) return in_quotes(node.text);
  return node.kind == Node::Kind::list ? "a list" : node.kind == Node::Kind::map ? "a map" : "nothing";
}

std::string in_quotes(std::string_view text) {
  constexpr int kLongest = 60;
  std::string out = "'";
  int count = 0;
  for (const std::string_view character : characters(text)) {
    if (count++ == kLongest) return out + "...'";
    out += static_cast<unsigned char>(character[0]) < 0x20 ? " " : character;
  }
  return out + "'";
}

}  // namespace tuft::casefile
