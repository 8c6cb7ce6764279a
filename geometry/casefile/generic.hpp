// Generic things: classes of fans, fins, heat paths, grilles and what a device lies on, which a case file may
// name instead of giving numbers (`like: blower-50`). They stand in generic.yaml.
#pragma once

#include <string>
#include <vector>

#include "geometry/casefile/document.hpp"

namespace tuft::casefile {

/// One class of things.
struct GenericThing {
  std::string list;  ///< what it may stand for: fans, fins, joins, parts, covers or supports
  std::string name;  ///< as a case file says it
  std::string says;  ///< what it looks like
  std::string why;   ///< where its ranges come from
  Node gives;        ///< keys of a case file with their values
};

/// All of them, in the order of the file. Throws std::logic_error if the file that is built in is broken.
const std::vector<GenericThing>& generic_things();

/// Names of one list, in the order of the file; of all lists if none is named.
std::vector<std::string> generic_names(const std::string& list = "");

/// The thing of this name in a list, or nullptr.
const GenericThing* find_generic(const std::string& list, const std::string& name);

/// Lists and things as JSON, for what offers them: {"fans": [{"name", "says", "why", "gives": {...}}], ...}.
std::string generic_things_json();

/// Writes into a case's document what the things named in it give, wherever the case does not say it itself
/// (Node::why says so of each value). Reports unknown names, and kinds that contradict the thing.
void fill_in_generic(Node& root, Report& report);

/// Text of generic.yaml.
const char* generic_text();

}  // namespace tuft::casefile
