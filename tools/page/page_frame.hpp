// HTML around the page that `tuft watch` shows.
#pragma once

#include <string>

namespace tuft::start {

/// The frame: a line for what is wrong, and the page itself, which is loaded anew when its number changes.
/// The page is not touched, so that it may be any page that stands alone.
std::string page_frame(const std::string& title);

/// The text fit to stand in HTML, also within quotes.
std::string html_text(const std::string& text);

}  // namespace tuft::start
