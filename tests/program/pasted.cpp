#include "tests/program/pasted.hpp"

#include <cstdlib>
#include <fstream>
#include <set>

#include "tests/output/sample.hpp"
#include "tests/program/source_text.hpp"

namespace tuft::test {
namespace fs = std::filesystem;

namespace {

std::string quoted(const fs::path& path) { return "'" + path.string() + "'"; }

// All blocks as one script. What fails is written down with its status, in a file a block.
void write_script(const std::vector<PastedBlock>& blocks, const fs::path& notes) {
  std::ofstream script(notes / "script");
  script << "trap 'echo \"$? $BASH_COMMAND\" >> " << notes.string() << "/failed.$PASTED' ERR\n";
  for (std::size_t i = 0; i < blocks.size(); ++i) script << "PASTED=" << i << "\n" << blocks[i].script;
  script << "touch " << quoted(notes / "end") << "\n";
}

void run_script(const fs::path& notes, const fs::path& folder) {
  const std::string command = "cd " + quoted(folder) + " && HOME=" + quoted(folder) +
                              " PATH=" + quoted(fs::path(TUFT_BINARY_DIR) / "bin") +
                              ":\"$PATH\" bash --norc " + quoted(notes / "script") + " < /dev/null > " +
                              quoted(notes / "shown") + " 2>&1";
  // The status is that of the last command, which is among those written down.
  [[maybe_unused]] const int status = std::system(command.c_str());
}

void compare_statuses(const PastedBlock& block, const std::string& failed, std::vector<std::string>& faults) {
  const std::vector<std::string> announced = matches(block.before, "exit status ([0-9]+)");
  std::set<std::string> missing(announced.begin(), announced.end()), known = missing;
  for (const std::string& line : lines_of(failed)) {
    const std::string status = line.substr(0, line.find(' '));
    if (!matches(status, "^([0-9]+)$").empty() && known.count(status) == 0)
      faults.push_back("ended with exit status " + line + " (not announced)");
    missing.erase(status);
  }
  for (const std::string& status : missing)
    faults.push_back("exit status " + status + " is announced, and no command ended so:\n" + block.script);
}

std::set<std::string> files_below(const fs::path& folder) {
  std::set<std::string> names;
  for (const auto& entry : fs::recursive_directory_iterator(folder)) names.insert(entry.path().filename());
  return names;
}

// What looks like a file or a results folder of the commands pasted.
std::vector<std::string> files_named(const std::string& markdown) {
  return matches(markdown,
                 "`([A-Za-z][A-Za-z0-9_-]*(?:\\.(?:yaml|svg|html|csv|json|1)|-tuft|-[a-z]+ed|-study))`");
}

}  // namespace

std::vector<PastedBlock> pasted_blocks(const std::string& markdown) {
  std::vector<PastedBlock> blocks;
  PastedBlock block;
  bool inside = false, pasted = false;
  for (const std::string& line : lines_of(markdown)) {
    if (line.rfind("```", 0) == 0) {
      if (pasted) blocks.push_back(block), block = {};
      inside = !inside;
      pasted = inside && line == "```sh";
    } else {
      (pasted ? block.script : block.before) += line + "\n";
    }
  }
  return blocks;
}

std::vector<std::string> faults_of_pasting(const std::string& markdown, const fs::path& folder,
                                           std::string& shown) {
  const Scratch notes;
  const std::vector<PastedBlock> blocks = pasted_blocks(markdown);
  write_script(blocks, notes.path());
  run_script(notes.path(), folder);
  shown = bytes_of(notes.path() / "shown");
  std::vector<std::string> faults;
  if (!fs::exists(notes.path() / "end")) faults.push_back("the shell did not come to the end");
  for (std::size_t i = 0; i < blocks.size(); ++i) {
    const fs::path failed = notes.path() / ("failed." + std::to_string(i));
    compare_statuses(blocks[i], fs::exists(failed) ? bytes_of(failed) : "", faults);
  }
  const std::set<std::string> present = files_below(folder);
  for (const std::string& name : files_named(markdown)) {
    if (present.count(name) == 0) faults.push_back("the text names " + name + ", which is not there");
  }
  return faults;
}

}  // namespace tuft::test
