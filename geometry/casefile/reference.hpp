// What is written from the key table: the reference for people and the schema for editors.
#pragma once

#include <string>
#include <vector>

#include "geometry/casefile/keys.hpp"

namespace tuft::casefile {

/// The reference of the case file, in Markdown: every key with what it holds, its default and why.
std::string case_reference_markdown();

/// Its beginning: how a file is written, names and axes, quantities, defaults.
std::string case_introduction_markdown();

/// Rows of the key table that somebody means who writes `asked`: a section and all that is in it ("vents"), a
/// key path and all below it ("fans.*.curve", or "fans.main.curve" with a name of one's own), or every key of
/// that name ("hole"). Paths of the table, in its order; empty: nothing is called so.
std::vector<std::string> keys_asked_for(const std::string& asked);

/// "did you mean 'vents'?" for what nothing is called, or the sections there are.
std::string nearest_reference(const std::string& asked);

/// Names of the sections, in the order of the table.
std::vector<std::string> section_names();

/// The JSON Schema (draft-07) of the case file, indented; editors complete and check with it. It accepts all
/// that the reader accepts, and rejects wrong keys, missing ones, wrong words and numbers without a unit;
/// what needs more than one place to tell (names that refer to others, geometry) is the reader's alone.
std::string case_schema_json();

// What the reference says of a key, in words; the words a person writes stand in `backticks`.

/// "`open`, `mesh`".
std::string code_list(const std::vector<std::string>& words);

/// What may stand there, with the allowed range: "a length, 0 mm to 100 mm".
std::string holds(const Key& key);

/// What stands in place of a required key, as in " unless `like` gives it"; may be empty.
std::string required_unless(const Key& key);

/// What it means, and for which kinds of thing.
std::string meaning(const Key& key);

}  // namespace tuft::casefile
