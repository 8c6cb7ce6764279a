// Pasting the commands of a document into a shell, block after block, as a reader would.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace tuft::test {

/// A block ```sh of a document.
struct PastedBlock {
  std::string before;  ///< the text since the block before
  std::string script;  ///< its lines
};

/// The blocks ```sh in order. Other blocks belong to the text.
std::vector<PastedBlock> pasted_blocks(const std::string& markdown);

/// Runs the blocks in one bash, in the folder, which is also its home, with the built program first on PATH,
/// and says what is wrong, a line each: a command whose exit status the text before its block does not
/// announce
/// ("exit status 2"), an announced status that no command of the block had, a shell that did not come to the
/// end, and a file named in `backticks` that is nowhere below the folder afterwards. Empty: nothing is wrong.
/// `shown`: receives all that was printed.
std::vector<std::string> faults_of_pasting(const std::string& markdown, const std::filesystem::path& folder,
                                           std::string& shown);

}  // namespace tuft::test
