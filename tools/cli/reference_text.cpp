#include "tools/cli/reference_text.hpp"

#include <algorithm>
#include <sstream>

#include "geometry/casefile/reference.hpp"
#include "tools/io/grid.hpp"

namespace tuft::cli {

namespace {

using io::Ink;
using io::Look;

// The text without the marks of Markdown (`code`, **strong**).
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
         io::fill("      ", without_marks(line.substr(bar + 3, end - bar - 3)), look.width);
}

// The little Markdown that our own texts use: paragraphs filled to the look's width, headings set apart, each
// row of a table of two columns as its first cell with the second below it.
std::string markdown_text(const std::string& markdown, const Look& look) {
  std::string text, paragraph;
  const auto end_paragraph = [&] {
    if (!paragraph.empty()) text += io::fill("", without_marks(paragraph), look.width);
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

using casefile::Default;
using casefile::Key;

constexpr const char* kSigns = "* stands for a name that you choose, [] for each item of a list.";

bool is_section(const Key& key) { return key.path.find_first_of(".[") == std::string::npos; }

// Words filled behind a margin.
std::string filled(const std::string& margin, const std::string& words, const Look& look) {
  return words.empty() ? "" : io::fill(margin, without_marks(words), look.width);
}

std::string capital(std::string words) {
  if (!words.empty() && words[0] >= 'a' && words[0] <= 'z')
    words[0] = static_cast<char>(words[0] - 'a' + 'A');
  return words;
}

// A person's words for "map": the keys that follow.
std::string held(const Key& key) {
  std::string text = casefile::holds(key);
  if (key.type == casefile::Type::map) text.replace(0, std::string("map").size(), "the keys below");
  return capital(text) + ".";
}

// A quantity's usual units; a share says its own in words.
std::string units(const Key& key) {
  const bool quantity = key.type == casefile::Type::quantity || key.type == casefile::Type::quantities;
  if (!quantity && !key.or_quantity) return "";
  const std::string examples = casefile::dimension_info(key.dimension).examples;
  if (key.second != casefile::Dimension::other)
    return " Units: " + examples + "; then " + casefile::dimension_info(key.second).examples + ".";
  return examples.empty() ? "" : " Units: " + examples + ".";
}

std::string default_text(const Key& key, const std::string& margin, const Look& look) {
  if (key.required) return filled(margin, "Required.", look);
  if (key.defaults.empty()) return "";
  if (key.defaults.size() == 1 && key.defaults[0].when.empty()) {
    const Default& only = key.defaults[0];
    return filled(margin, "Without it: " + only.value + " (" + only.why + ").", look);
  }
  std::string text = margin + "Without it:\n";
  for (const Default& entry : key.defaults) {
    const std::string when = entry.when.empty() ? "" : entry.when + ": ";
    text += filled(margin + "  " + when, entry.value + " (" + entry.why + ")", look);
  }
  return text;
}

std::string section_text(const Key& key, const Look& look) {
  std::string text = inked(key.path, Ink::strong, look) + "\n" + filled("  ", key.says, look);
  text += default_text(key, "  ", look);
  if (key.type == casefile::Type::word)
    text += filled("  ", "It is " + casefile::code_list(key.words) + ".", look);
  return text;
}

std::string key_text(const Key& key, const Look& look) {
  return "  " + inked(key.path, Ink::strong, look) + "\n" + filled("      ", held(key) + units(key), look) +
         filled("      ", casefile::meaning(key), look) + default_text(key, "      ", look);
}

}  // namespace

std::string keys_text(const std::vector<std::string>& paths, const Look& look) {
  std::string text;
  for (const std::string& path : paths) {
    const Key* key = casefile::find_key(path);
    if (key == nullptr) continue;
    text += (text.empty() ? "" : "\n") + (is_section(*key) ? section_text(*key, look) : key_text(*key, look));
  }
  const bool signs = std::any_of(paths.begin(), paths.end(), [](const std::string& path) {
    return path.find_first_of("*[") != std::string::npos;
  });
  return signs ? text + "\n" + filled("", kSigns, look) : text;
}

std::string reference_text(const Look& look) {
  std::string text = markdown_text(casefile::case_introduction_markdown(), look);
  for (const std::string& section : casefile::section_names()) {
    text += "\n" + keys_text(casefile::keys_asked_for(section), look);
  }
  return text;
}

}  // namespace tuft::cli
