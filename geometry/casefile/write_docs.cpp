// Writes the case-file reference and the schema into a folder; run after a change of the key table.
#include <fstream>
#include <iostream>

#include "geometry/casefile/reference.hpp"

namespace {

bool write(const std::string& path, const std::string& text) {
  std::ofstream stream(path, std::ios::binary);
  stream << text;
  stream.close();
  if (!stream) std::cerr << path << ": can't be written\n";
  return static_cast<bool>(stream);
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 2) {
    std::cerr << "usage: write_case_docs FOLDER\n";
    return 2;
  }
  const std::string folder = argv[1];
  const bool written = write(folder + "/case-file.md", tuft::casefile::case_reference_markdown()) &&
                       write(folder + "/case-file.schema.json", tuft::casefile::case_schema_json());
  return written ? 0 : 1;
}
