// What stands above and below every figure: title, subtitle, small print.
#pragma once

#include <string>

#include "tools/figure/svg.hpp"

namespace tuft::figure {

/// The words around a figure; each may be empty, and may come from a case file.
struct Heading {
  std::string title, subtitle, note;
};

constexpr double kPageEdge = 20.0;  ///< margin of every figure [px]

/// Where the drawing may begin [px from the top].
double heading_bottom(const Heading& heading);

/// Height that the small print takes below the drawing [px], 0 when there is none.
double note_height(const Heading& heading, double width);

/// Writes title and subtitle at the top.
void draw_heading(const Heading& heading, Svg& svg);

/// Writes the small print below `top` [px].
void draw_note(const Heading& heading, double top, Svg& svg);

}  // namespace tuft::figure
