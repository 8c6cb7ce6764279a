// How colours look to people: OKLab, without one kind of cone, and contrast. To judge the program's colours
// by.
#pragma once

#include <string>

#include "tools/figure/colour.hpp"

namespace tuft::test {

using figure::Linear;
using figure::Oklab;
using figure::Rgb;

/// Inverse of sRGB's transfer curve (IEC 61966-2-1, from memory; confirmed against public code).
double linear_of(double encoded);

/// "#rrggbb" to linear light.
Linear linear_of_hex(const std::string& hex);
/// Bytes to linear light.
Linear linear_of_rgb(const Rgb& colour);

/// OKLab after B. Ottosson, "A perceptual color space for image processing" (2020), matrices as transcribed
/// in public code.
Oklab oklab_of(const Linear& colour);

/// Distance in OKLab [-]: about 0.02 is just seen side by side (judgement), 1 lies between black and white.
double distance(const Oklab& a, const Oklab& b);

enum class Vision { full, no_long_cones, no_medium_cones, no_short_cones };

/// A colour as people see it who lack one kind of cone: Machado, Oliveira and Fernandes (2009), IEEE
/// Transactions on Visualization and Computer Graphics 15(6), severity 1.0, matrices as transcribed in public
/// code; applied in linear light and clamped.
Linear seen(const Linear& colour, Vision vision);

/// Contrast of two colours, 1..21, as WCAG 2 defines it (from memory).
double contrast(const Linear& a, const Linear& b);

}  // namespace tuft::test
