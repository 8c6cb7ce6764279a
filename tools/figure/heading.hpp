// What stands above and below every figure: title and subtitle, the key of its signs, small print.
#pragma once

#include <string>
#include <vector>

#include "tools/figure/marks.hpp"
#include "tools/figure/svg.hpp"

namespace tuft::figure {

/// The words around a figure; each may be empty, and may come from a case file.
struct Heading {
  std::string title, subtitle, note;
};

constexpr double kPageEdge = 20.0;  ///< margin of every figure [px]

/// Where the drawing may begin [px from the top] in a figure of that width [px]: long subtitles take more
/// lines.
double heading_bottom(const Heading& heading, double width);

/// Height that the small print takes below the drawing [px], 0 when there is none.
double note_height(const Heading& heading, double width);

/// Writes title and subtitle at the top.
void draw_heading(const Heading& heading, Svg& svg);

/// Writes the small print below `top` [px].
void draw_note(const Heading& heading, double top, Svg& svg);

/// One entry: a sign and its meaning.
struct KeyEntry {
  enum class Sign { mark, arrow_in, arrow_out, scale, gravity, line, hatch, block };
  Sign sign = Sign::mark;
  std::string text;
  double length = 22.0;           ///< of the sign [px]
  Paint paint = Paint::muted;     ///< line, hatch, block
  std::vector<double> dash = {};  ///< line
  VentState vent_state = {};      ///< mark
  Gravity gravity = {};           ///< gravity
};

/// The signs of what vents do, each that is there once, in the order of keys.
std::vector<KeyEntry> mark_entries(const std::vector<VentState>& there);
/// The sign of gravity.
KeyEntry gravity_entry(const std::string& text, const Gravity& gravity);

/// Height of the key when it is `width` wide [px].
double key_height(const std::vector<KeyEntry>& entries, double width);

/// Draws the key with its upper left corner at a point, in rows.
void draw_key(const std::vector<KeyEntry>& entries, const Point& corner, double width, Svg& svg);

}  // namespace tuft::figure
