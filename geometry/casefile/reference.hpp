// What is written from the key table: the reference for people and the schema for editors.
#pragma once

#include <string>

namespace tuft::casefile {

/// The reference of the case file, in Markdown: every key with what it holds, its default and why.
std::string case_reference_markdown();

/// The JSON Schema (draft-07) of the case file, indented; editors complete and check with it. It accepts all
/// that the reader accepts, and rejects wrong keys, missing ones, wrong words and numbers without a unit;
/// what needs more than one place to tell (names that refer to others, geometry) is the reader's alone.
std::string case_schema_json();

}  // namespace tuft::casefile
