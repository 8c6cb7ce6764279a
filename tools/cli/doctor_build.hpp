// What this build was made of.
#pragma once

#include <string>
#include <vector>

namespace tuft::program {

/// A library or a tool: what it is used for, and which one.
struct Ingredient {
  std::string name, version, use;
};

/// Libraries the program was built with.
std::vector<Ingredient> ingredients();

/// Version of the MPI standard that the build found; empty: built without.
std::string mpi_standard();

/// "Release, GNU 12.2.0, C++17"
std::string build_words();

}  // namespace tuft::program
