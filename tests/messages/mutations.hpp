// Makes broken case files out of good ones.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

namespace tuft::casefile::test {

/// A good case file changed in one way.
struct Mutation {
  std::string what;  ///< "delete key line 12", for the log
  std::string text;
};

/// Seeded changes of a whole case file (with maps in braces, numbers and units), `per_kind` of each kind:
/// keys deleted, doubled, misspelt, swapped; units and numbers swapped; words replaced; lines indented;
/// brackets lost; the end cut off; bytes inserted, removed and flipped.
std::vector<Mutation> mutations(const std::string& good, int per_kind, std::uint32_t seed);

}  // namespace tuft::casefile::test
