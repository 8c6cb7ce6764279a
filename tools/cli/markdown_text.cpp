#include "tools/cli/markdown_text.hpp"

#include <sstream>

#include "tools/io/grid.hpp"

namespace tuft::start {
namespace {

using output::Ink;
using output::Look;

bool is_heading(const std::string& line) { return line.rfind('#', 0) == 0; }
bool is_row(const std::string& line) { return line.rfind('|', 0) == 0; }

std::string heading(const std::string& line, const Look& look) {
  return inked(line.substr(line.find_first_not_of("# ")), Ink::strong, look) + "\n";
}

// "| one | two |" -> one, and two below it. The rule under a table's head is left out.
std::string row(const std::string& line, const Look& look) {
  if (line.rfind("|--", 0) == 0) return "";
  const std::size_t bar = line.find(" | "), end = line.rfind(" |");
  if (bar == std::string::npos || end <= bar) return without_marks(line) + "\n";
  return "  " + without_marks(line.substr(2, bar - 2)) + "\n" +
         output::fill("      ", without_marks(line.substr(bar + 3, end - bar - 3)), look.width);
}

}  // namespace

std::string without_marks(const std::string& text) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text.compare(i, 2, "**") == 0) {
      ++i;
    } else if (text[i] != '`') {
      out += text[i];
    }
  }
  return out;
}

std::string markdown_text(const std::string& markdown, const Look& look) {
  std::string text, paragraph;
  const auto end_paragraph = [&] {
    if (!paragraph.empty()) text += output::fill("", without_marks(paragraph), look.width);
    paragraph.clear();
  };
  std::istringstream lines(markdown);
  for (std::string line; std::getline(lines, line);) {
    if (line.empty() || is_heading(line) || is_row(line)) end_paragraph();
    if (line.empty()) {
      text += "\n";
    } else if (is_heading(line)) {
      text += heading(line, look);
    } else if (is_row(line)) {
      text += row(line, look);
    } else {
      paragraph += line + " ";
    }
  }
  end_paragraph();
  return text;
}

}  // namespace tuft::start
