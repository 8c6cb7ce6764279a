// The little Markdown that our own texts use, for a terminal: headings, paragraphs, tables of two columns.
#pragma once

#include <string>

#include "tools/io/grid.hpp"

namespace tuft::start {

/// The text without the marks of Markdown (`code`, **strong**).
std::string without_marks(const std::string& text);

/// Paragraphs filled to the look's width, headings set apart, each row of a table as its first cell with the
/// second below it.
std::string markdown_text(const std::string& markdown, const output::Look& look);

}  // namespace tuft::start
