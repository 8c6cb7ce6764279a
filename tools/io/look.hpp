// How text is to look: with colour or without, and how wide.
#pragma once

#include <string>

namespace tuft::output {

/// What the place that the text goes to can show.
struct Look {
  bool colour = false;
  int width = 120;  ///< columns
};

/// The look for a file descriptor: colour if it is a terminal, TERM is not "dumb" and the environment
/// variable NO_COLOR is unset or empty; the terminal's width, held between 80 and 120 columns, and 80 where
/// there is no terminal.
Look look_of(int file_descriptor);

/// Ways to set words apart. Meaning never rests on them alone: the words say the same.
enum class Ink { plain, strong, faint, blue, red, magenta, green, yellow };

/// The text in an ink, or as it is when the look has no colour.
std::string inked(const std::string& text, Ink ink, const Look& look);

}  // namespace tuft::output
