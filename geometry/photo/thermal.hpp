// Temperatures out of a thermal picture: from the colours of its colour bar, or from a grid of numbers.
#pragma once

#include <array>
#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

#include "geometry/photo/photo_map.hpp"
#include "geometry/photo/straighten.hpp"

namespace tuft::photo {

/// A colour, 0 to 255 each, as files have it.
using Colour = std::array<double, 3>;

/// What one pixel says.
struct ThermalPixel {
  double temperature = 0.0;  ///< [K]
  bool known = false;        ///< false: no colour of the bar (words, a cross), or no number
  bool at_end = false;       ///< its colour is that of an end of the bar: it may be hotter or colder
  double sigma = 0.0;        ///< by how far the way of reading may be wrong, standard deviation [K]
};

/// A thermal picture of a size, as a function of column and row.
struct ThermalPicture {
  int width = 0, height = 0;  ///< [pixels]
  std::function<ThermalPixel(int column, int row)> pixel;
};

/// A place on the colour bar, and the temperature that stands beside it.
struct BarMark {
  Vec2 place = Vec2::Zero();  ///< [pixels]
  double temperature = 0.0;   ///< [K]
};

/// Why a colour bar cannot be read.
enum class BarFault {
  none,
  outside,          ///< a mark lies outside the picture
  too_short,        ///< the marks lie less than 16 pixels apart
  same,             ///< both marks have one temperature
  too_few_colours,  ///< the colours between them hardly differ: no bar there
  repeats           ///< places far apart on it have one colour
};

/// The temperatures that colours stand for, between two marks of a colour bar; evenly spread along it, as
/// cameras draw them.
class ColourBar {
 public:
  /// Reads the bar out of a picture of four bytes a pixel (red, green, blue and one that is passed over).
  ColourBar(const std::uint8_t* rgba, int width, int height, const BarMark& first, const BarMark& second);

  BarFault fault() const { return fault_; }
  /// The place on the bar whose colour is nearest. A colour farther than 30 of 441 from all of them is none
  /// of the bar's (judgement: compression moves colours by about 10). Only without a fault.
  ThermalPixel read(const Colour& colour) const;

 private:
  BarFault fault_ = BarFault::none;
  std::vector<Colour> colours_;  // along the bar, from the first mark to the second
  double from_ = 0.0, to_ = 0.0;
};

/// What a thermal picture shows of a part of a face.
struct ThermalReading {
  double mean = 0.0;                   ///< [K], of the pixels that are known
  double lowest = 0.0, highest = 0.0;  ///< [K]
  double sigma = 0.0;                  ///< of the way of reading (ThermalPixel::sigma), mean [K]
  int pixels = 0;                      ///< that were looked at, each once
  double across = 0.0;                 ///< pixels across its narrower side
  double unknown = 0.0;                ///< share of them that is not known [-]
  double at_end = 0.0;                 ///< share of the known that is at an end of the bar [-]
};

/// Reads what lies within a rectangle of a face, or within the ellipse inside it (`round`). None where part
/// of it lies outside the picture.
std::optional<ThermalReading> read_thermal(const ThermalPicture& picture, const PhotoMap& map,
                                           const Patch& patch, bool round);

}  // namespace tuft::photo
