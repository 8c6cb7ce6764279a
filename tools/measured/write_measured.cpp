// Writes the tables of docs/measured.md and its figure; run after a change of a law, of the sampling, or of
// cases/measured.
#include <filesystem>
#include <fstream>
#include <iostream>
#include <iterator>

#include "tools/measured/tables.hpp"

namespace fs = std::filesystem;

int main(int argc, char** argv) {
  if (argc != 3) {
    std::cerr << "usage: write_measured CASES DOCS\n";
    return 2;
  }
  try {
    const auto comparison = tuft::measured::compare((fs::path(argv[1]) / "measured").string());
    const fs::path page = fs::path(argv[2]) / "measured.md";
    std::ifstream in(page, std::ios::binary);
    const std::string text{std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
    const std::string written = tuft::measured::page_with(text, comparison);
    std::ofstream(page, std::ios::binary) << written;
    std::ofstream(fs::path(argv[2]) / "figures/measured.svg", std::ios::binary)
        << tuft::measured::scatter(comparison.values);
    std::cout << tuft::measured::coverage_text(comparison.values);
  } catch (const std::exception& error) {
    std::cerr << "write_measured: " << error.what() << "\n";
    return 1;
  }
  return 0;
}
