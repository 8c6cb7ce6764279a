// A number in a message.
#pragma once

#include <cstdio>
#include <string>

namespace tuft::base {

/// Six digits at most, as "%g". No stream: streams would bring all the world's ways of writing dates and
/// money into the solver of a page.
inline std::string short_text(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%g", value);
  return text;
}

}  // namespace tuft::base
