// Lists of key paths that name uncertain quantities of a case.
#pragma once

#include <string>
#include <vector>

#include "geometry/casefile/reader.hpp"

namespace tuft::casefile {

/// The inputs of a case by their key paths, once all of them are known.
class InputPaths {
 public:
  /// An input and where it is named.
  struct Placed {
    int input = 0;
    Spot spot;
  };

  explicit InputPaths(Reader& reader);

  /// The inputs of a list of at least `least` paths; faulty ones are reported and left out.
  std::vector<Placed> named(const Item& list, std::size_t least = 2);

  const std::string& name(int input) const { return at(keys_, input); }

 private:
  int find(const Item& item);

  Reader& reader_;
  std::vector<std::string> keys_;
};

}  // namespace tuft::casefile
