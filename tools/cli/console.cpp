#include "tools/cli/console.hpp"

#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <utility>

#include "geometry/casefile/nearest.hpp"
#include "tools/io/utf8.hpp"
#include "tools/page/page.hpp"

namespace tuft::cli {
namespace fs = std::filesystem;

void say(const std::string& text) {
  // Flushed each time, so that a full disk is noticed while it can still be told.
  const bool whole =
      std::fwrite(text.data(), 1, text.size(), stdout) == text.size() && std::fflush(stdout) == 0;
  if (!whole && errno == EPIPE) return;  // whoever read it has seen enough; the files are still wanted
  if (!whole)
    throw Failure(ExitStatus::output_not_written,
                  std::string("cannot write to standard output: ") + std::strerror(errno));
}

void say_filled(const std::string& words, const std::string& margin) {
  say(io::fill(margin, words, look().width));
}

void complain(const std::string& text) {
  // What a file says in an error must not move the cursor or hide a word.
  const std::string safe = io::printable_lines(text);
  std::fflush(stdout);
  std::fwrite(safe.data(), 1, safe.size(), stderr);
}

void write_over(const std::string& line) {
  const std::string text = "\r\x1b[K" + io::printable(line);
  std::fwrite(text.data(), 1, text.size(), stderr);
}

void refuse(const std::string& message) { throw Failure(ExitStatus::bad_input, io::printable(message)); }

void refuse_unknown(const std::string& fault, const std::string& hint, const std::vector<std::string>& known,
                    const std::string& lead) {
  refuse(fault + "; " + (hint.empty() ? lead + casefile::listed(known) : hint));
}

io::Look look() { return io::look_of(STDOUT_FILENO); }

fs::path own_file() {
  std::error_code error;
  const fs::path file = fs::read_symlink("/proc/self/exe", error);
  return error ? fs::path() : file;
}

fs::path schema_file() {
  const fs::path folder = own_file().parent_path();
  if (folder.empty()) return {};
  // PREFIX/bin and PREFIX/share, or build/bin and docs.
  for (const char* place : {"../share/tuft/case-file.schema.json", "../../docs/case-file.schema.json"}) {
    const fs::path file = (folder / place).lexically_normal();
    std::error_code error;
    if (fs::is_regular_file(file, error)) return file;
  }
  return {};
}

std::string engine_for_page() {
  page::PageEngine engine = page::find_page_engine(own_file());
  if (!engine.fault.empty())
    complain(io::printable("The page only steps through angles solved beforehand: its live solver " +
                           engine.file.string() + " " + engine.fault +
                           ". To get it: " + page::page_engine_advice() + ".") +
             "\n");
  return std::move(engine.bytes);
}

std::string file_uri(const fs::path& path) {
  std::string uri = "file://";
  for (const char c : path.string()) {
    const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
                       std::string("/-._~+").find(c) != std::string::npos;
    char code[4];
    std::snprintf(code, sizeof code, "%%%02X", static_cast<unsigned>(static_cast<unsigned char>(c)));
    uri += plain ? std::string(1, c) : code;
  }
  return uri;
}

}  // namespace tuft::cli
