#include <fmt/format.h>

#include "tools/io/vtk.hpp"

namespace tuft::output {

// File names come from file_names_of() and need no XML escapes.
std::string collection_pvd(const std::vector<CollectionEntry>& entries) {
  std::string text =
      "<?xml version=\"1.0\"?>\n<VTKFile type=\"Collection\" version=\"0.1\" byte_order=\"LittleEndian\">\n"
      " <Collection>\n";
  for (const CollectionEntry& entry : entries) {
    text += fmt::format("  <DataSet timestep=\"{}\" part=\"{}\" file=\"{}\"/>\n", entry.value + 0.0,
                        entry.part, entry.file);
  }
  return text + " </Collection>\n</VTKFile>\n";
}

}  // namespace tuft::output
