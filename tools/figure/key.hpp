// The key below a drawing: what its signs mean.
#pragma once

#include <string>
#include <vector>

#include "tools/figure/marks.hpp"

namespace tuft::figure {

/// One entry: a sign and its meaning. Build with the functions below.
struct KeyEntry {
  enum class Sign { mark, arrow_in, arrow_out, scale, gravity, line, hatch, block };
  Sign sign = Sign::mark;
  std::string text;
  double length = 22.0;           ///< of the sign [px]
  Doing doing = {};               ///< mark
  Gravity gravity = {};           ///< gravity
  Paint paint = Paint::muted;     ///< line, hatch, block
  std::vector<double> dash = {};  ///< line
};

/// Height of the key when it is `width` wide [px].
double key_height(const std::vector<KeyEntry>& entries, double width);

/// Draws the key with its upper left corner at a point, in rows.
void draw_key(const std::vector<KeyEntry>& entries, const Point& corner, double width, Svg& svg);

}  // namespace tuft::figure
