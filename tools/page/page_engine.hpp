// The solver that turns the device in a page: a file beside the program.
#pragma once

#include <filesystem>
#include <string>

namespace tuft::page {

/// The engine, or why there is none.
struct PageEngine {
  std::filesystem::path file;  ///< where it is, or would have to be
  std::string bytes;           ///< WebAssembly; empty: none that could be used
  std::string fault;           ///< what is wrong with the file, as in "is not there"; empty: nothing
};

/// Looks for the engine of the program that lies at `program`: PREFIX/share/tuft/page-engine.wasm for
/// PREFIX/bin/tuft, installed or in a build tree. One made from other sources than the program is not used,
/// for page and program would disagree.
PageEngine find_page_engine(const std::filesystem::path& program);

/// How to get an engine, in words that stand after a colon.
std::string page_engine_advice();

}  // namespace tuft::page
