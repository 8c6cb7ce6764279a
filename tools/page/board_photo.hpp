// A photo within the drawing page: its pixels, laid on its face by the places that the case states, and what
// they tell of a grille. All of it is geometry/photo.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "geometry/device/condition.hpp"
#include "geometry/photo/picture.hpp"
#include "tools/io/case_json.hpp"

namespace tuft::page {

/// Pixels of four bytes, red, green, blue and opacity, row by row.
struct Pixels {
  int width = 0, height = 0;
  std::vector<std::uint8_t> rgba;
};

/// The face of a photo as a picture of `width` by `height` pixels, seen as it was taken: its first and second
/// axis run as `right` and `down` say, -1 where they run to the left or upwards. What the photo does not show
/// is left transparent. `margin` [m]: of what lies around the face, shown too on all four sides. Empty where
/// the photo's places state no plane.
Pixels on_face(const Pixels& photo, const geometry::Photo& stated, const geometry::Vec3& device_size,
               int right, int down, int width, int height, double margin = 0.0);

/// Where the corner cards in a photo say that the face's corners are, in the order of Photo::corners
/// [pixels]; empty unless all four were found; how many were; and the lens's bulge that all four show on the
/// face that the request names: {"corners": [[x, y], ...], "found": 4, "bulge": 0.03}.
io::Json seen_corners(const photo::Picture& picture, const geometry::Vec3& device_size,
                      const io::Json& request);

/// What a photo tells of the rectangle that the request names: `centre` [m], `size` [m], `level`. The answer
/// has `cannot` and `doubt` (sentences; empty: it tells, without one), `open`, `hole` [m] (value, low, high),
/// `shape`, `pitch` [m], `holes`, and the mask: `columns`, `rows` and `mask`, a text of 0 and 1.
io::Json seen_open_area(const photo::Picture& picture, const geometry::Photo& stated,
                        const geometry::Vec3& device_size, const io::Json& request);

/// The same from two neighbouring holes by hand: `one` and `other` on the face [m]; `pattern`.
io::Json seen_two_holes(const photo::Picture& picture, const geometry::Photo& stated,
                        const geometry::Vec3& device_size, const io::Json& request);

}  // namespace tuft::page
