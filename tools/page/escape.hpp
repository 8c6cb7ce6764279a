// Foreign text made harmless for a page. The one place where this is done: scripts of the page put text in as
// text, never as markup.
#pragma once

#include <string>

namespace tuft::report {

/// Text for between tags or within a quoted attribute: & < > " ' become entities; control characters that
/// HTML forbids, and bytes that are no UTF-8, become U+FFFD.
std::string html_text(const std::string& text);

/// JSON for within a script element: what could end the element or the line of a script (< > & U+2028 U+2029)
/// becomes an escape of JSON, which leaves its meaning as it is. @pre valid JSON in UTF-8
std::string script_data(const std::string& json);

}  // namespace tuft::report
