#include "geometry/casefile/document.hpp"

#include <yaml-cpp/eventhandler.h>
#include <yaml-cpp/exceptions.h>
#include <yaml-cpp/parser.h>

#include <algorithm>
#include <sstream>
#include <utility>

#include "geometry/casefile/tree_builder.hpp"

namespace tuft::casefile {
namespace {

// Thrown to leave the parser when reading on makes no sense; the fault has been reported.
struct Stop {};

// Hands what the parser comes across to the builder of the tree.
class Events : public YAML::EventHandler {
 public:
  Events(const std::vector<std::string_view>& lines, TreeBuilder& tree) : lines_(lines), tree_(tree) {}

  void OnDocumentStart(const YAML::Mark& mark) override {
    tree_.document(spot(mark));
    leave_if_stopped();
  }
  void OnDocumentEnd() override {}
  void OnNull(const YAML::Mark& mark, YAML::anchor_t) override {
    tree_.nothing(spot(mark));
    leave_if_stopped();
  }
  void OnAlias(const YAML::Mark& mark, YAML::anchor_t) override {
    tree_.alias(spot(mark));
    leave_if_stopped();
  }
  void OnScalar(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t,
                const std::string& value) override {
    tree_.scalar(spot(mark), tag, value);
    leave_if_stopped();
  }
  void OnSequenceStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t,
                       YAML::EmitterStyle::value) override {
    tree_.open(spot(mark), tag, Node::Kind::list);
    leave_if_stopped();
  }
  void OnSequenceEnd() override { OnMapEnd(); }
  void OnMapStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t,
                  YAML::EmitterStyle::value) override {
    tree_.open(spot(mark), tag, Node::Kind::map);
    leave_if_stopped();
  }
  void OnMapEnd() override {
    tree_.close();
    leave_if_stopped();
  }

 private:
  void leave_if_stopped() const {
    if (tree_.has_stopped()) throw Stop{};
  }

  Spot spot(const YAML::Mark& mark) const {
    if (mark.line < 0) return {1, 1};
    const auto line = static_cast<std::size_t>(mark.line);
    if (line >= lines_.size()) return {mark.line + 1, 1};
    const auto column = static_cast<std::size_t>(std::max(0, mark.column));
    return {mark.line + 1, character_column(lines_[line], column)};
  }

  const std::vector<std::string_view>& lines_;
  TreeBuilder& tree_;
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

std::optional<Node> parse_document(const std::string& text, Report& report) {
  const std::vector<std::string_view> lines = split_lines(text);
  TreeBuilder tree(report);
  Events events(lines, tree);
  std::istringstream stream(text);
  try {
    YAML::Parser parser(stream);
    while (parser.HandleNextDocument(events)) {
    }
    if (tree.has_document()) return tree.take_root();
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

}  // namespace tuft::casefile
