// Writes the tables of docs/measured.md, its figure, and the figure of coverage where the README and
// docs/verification.md state it; run after a change of a law, of the sampling, or of cases/measured.
#include <filesystem>
#include <fstream>
#include <iostream>
#include <iterator>
#include <stdexcept>

#include "tools/measured/tables.hpp"

namespace fs = std::filesystem;

namespace {

std::string text_of(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

void write(const fs::path& path, const std::string& text) {
  std::ofstream out(path, std::ios::binary);
  out << text;
  if (!out.flush()) throw std::runtime_error(path.string() + " can't be written");
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 3) {
    std::cerr << "usage: write_measured CASES DOCS\n";
    return 2;
  }
  try {
    const fs::path cases = argv[1];
    const auto comparison = tuft::measured::compare((cases / "measured").string());
    const fs::path docs = fs::absolute(argv[2]).lexically_normal();
    write(docs / "measured.md", tuft::measured::page_with(text_of(docs / "measured.md"), comparison));
    write(docs / "figures/measured.svg", tuft::measured::scatter(comparison.values));
    for (const fs::path& stated : {docs / "verification.md", docs.parent_path() / "README.md"})
      write(stated, tuft::measured::with_coverage(text_of(stated), comparison.values));
    std::cout << tuft::measured::coverage_text(comparison.values);
  } catch (const std::exception& error) {
    std::cerr << "write_measured: " << error.what() << "\n";
    return 1;
  }
  return 0;
}
