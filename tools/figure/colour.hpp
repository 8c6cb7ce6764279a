// Colours in a space where distances match what people see.
#pragma once

#include <cstdint>

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

/// sRGB's transfer curve (IEC 61966-2-1, from memory; confirmed against public code).
double encoded_of(double linear);

/// Linear light as bytes; what cannot be shown is clamped.
Rgb rgb_of(const Linear& colour);

/// From OKLab after B. Ottosson, "A perceptual color space for image processing" (2020), matrices as
/// transcribed in public code.
Linear linear_of_oklab(const Oklab& colour);

}  // namespace tuft::figure
