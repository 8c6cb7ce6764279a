// Colours in a space where distances match what people see, and as people without one kind of cone see them.
#pragma once

#include <cstdint>
#include <string>

namespace tuft::figure {

/// A colour of a pixel, as sRGB bytes.
struct Rgb {
  std::uint8_t red = 0, green = 0, blue = 0;
};

/// A colour in linear light of the sRGB primaries, 0..1 each when it can be shown.
struct Linear {
  double red = 0.0, green = 0.0, blue = 0.0;
};

/// A colour in OKLab: lightness 0..1, green to red, blue to yellow.
struct Oklab {
  double light = 0.0, a = 0.0, b = 0.0;
};

/// sRGB's transfer curve and its inverse (IEC 61966-2-1, from memory; confirmed against public code).
double linear_of(double encoded);
double encoded_of(double linear);

/// "#rrggbb" to linear light. Throws std::invalid_argument for another writing.
Linear linear_of_hex(const std::string& hex);
/// Linear light as bytes; what cannot be shown is clamped.
Rgb rgb_of(const Linear& colour);
/// Bytes to linear light.
Linear linear_of_rgb(const Rgb& colour);

/// OKLab after B. Ottosson, "A perceptual color space for image processing" (2020), matrices as transcribed
/// in public code.
Oklab oklab_of(const Linear& colour);
Linear linear_of_oklab(const Oklab& colour);

/// Distance in OKLab [-]: about 0.02 is just seen side by side (judgement), 1 lies between black and white.
double distance(const Oklab& a, const Oklab& b);

enum class Vision { full, no_long_cones, no_medium_cones, no_short_cones };

/// A colour as people see it who lack one kind of cone: Machado, Oliveira and Fernandes (2009), IEEE
/// Transactions on Visualization and Computer Graphics 15(6), severity 1.0, matrices as transcribed in public
/// code; applied in linear light and clamped.
Linear seen(const Linear& colour, Vision vision);

/// Contrast of two colours, 1..21, as WCAG 2 defines it (from memory).
double contrast(const Linear& a, const Linear& b);

}  // namespace tuft::figure
