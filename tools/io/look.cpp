#include "tools/io/look.hpp"

#include <sys/ioctl.h>
#include <unistd.h>

#include <algorithm>
#include <cstdlib>

namespace tuft::output {
namespace {

constexpr int kPipeWidth = 80;   // what a pipe, a file or a mail is read in
constexpr int kLeastWidth = 60;  // below it a line wraps by itself
constexpr int kMostWidth = 120;

std::string environment(const char* name) {
  const char* value = std::getenv(name);
  return value == nullptr ? "" : value;
}

// Select Graphic Rendition codes of ISO/IEC 6429 (ECMA-48).
const char* code(Ink ink) {
  switch (ink) {
    case Ink::plain:
      return "";
    case Ink::strong:
      return "1";
    case Ink::faint:
      return "2";
    case Ink::red:
      return "31";
    case Ink::green:
      return "32";
    case Ink::yellow:
      return "33";
    case Ink::blue:
      return "34";
    case Ink::magenta:
      return "35";
  }
  return "";
}

}  // namespace

Look look_of(int file_descriptor) {
  Look look;
  look.width = kPipeWidth;
  if (isatty(file_descriptor) == 0) return look;
  look.colour = environment("NO_COLOR").empty() && environment("TERM") != "dumb";
  winsize size{};
  if (ioctl(file_descriptor, TIOCGWINSZ, &size) == 0 && size.ws_col > 0) {
    look.width = std::clamp(static_cast<int>(size.ws_col), kLeastWidth, kMostWidth);
  }
  return look;
}

std::string inked(const std::string& text, Ink ink, const Look& look) {
  if (!look.colour || ink == Ink::plain) return text;
  return std::string("\x1b[") + code(ink) + "m" + text + "\x1b[0m";
}

}  // namespace tuft::output
