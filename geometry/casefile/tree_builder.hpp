// Builds the tree of a document from what a YAML parser comes across, whichever parser that is.
#pragma once

#include <set>
#include <string>
#include <vector>

#include "geometry/casefile/document.hpp"

namespace tuft::casefile {

/// Takes the events of one document in their order. What a case file may not have is reported where it
/// stands. Unlike a tree that a library makes, this one carries the place of every alias, and lets duplicates
/// and depth be seen before memory is spent on them.
class TreeBuilder {
 public:
  explicit TreeBuilder(Report& report) : report_(report) {}

  void document(Spot spot);
  void nothing(Spot spot);
  void alias(Spot spot);
  void scalar(Spot spot, const std::string& tag, const std::string& value);
  /// A list or a map begins; close() ends the innermost.
  void open(Spot spot, const std::string& tag, Node::Kind kind);
  void close();

  /// Reading on makes no sense; the reason has been reported. Later events are of no use.
  bool has_stopped() const { return stopped_; }
  bool has_document() const { return n_documents_ > 0; }
  Node take_root() { return std::move(root_); }

 private:
  struct Open {
    Node node;
    bool has_key = false;
    bool skip_value = false;  ///< the key was bad or a duplicate
    std::string key;
    Spot key_spot;
    std::set<std::string> keys;
  };

  bool in_map() const;
  bool after_key() const;
  std::string path() const;
  void check_tag(Spot spot, const std::string& tag);
  void stop(Spot spot, const std::string& message, const std::string& hint = "");
  void add(Node node);
  void take_key(Open& parent, const Node& node);

  Report& report_;
  std::vector<Open> open_;
  Node root_;
  int n_documents_ = 0;
  int n_nodes_ = 0;
  bool stopped_ = false;
};

}  // namespace tuft::casefile
