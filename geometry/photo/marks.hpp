// Corner cards: printed marks that lie on a device's corners, and the place where they are found in a photo.
#pragma once

#include <optional>
#include <vector>

#include "geometry/photo/picture.hpp"

namespace tuft::photo {

/// A mark is a square of five by five modules: a black rim, and within it three by three that say which card
/// it is and which way up. Around it a white border is one module wide. The card's upper left corner, which
/// is laid flush on a corner of the device, is that of the border.
constexpr int kMarkModules = 5;
constexpr double kModuleSize = 4e-3;  ///< as printed [m]
constexpr int kMarks = 4;

/// Whether an inner module (row, column 0..2) of a mark (0..3) is black. Any two marks, in any turn, and any
/// mark and a turn of itself differ in at least four of nine modules (found by trying all): one that is
/// misread does no harm.
bool is_black(int mark, int row, int column);

/// A mark in a picture.
struct FoundMark {
  int mark = 0;  ///< 0..3: lies on the corner of this number, in the order of Photo::corners
  Quadrilateral square = {
      Vec2::Zero(), Vec2::Zero(), Vec2::Zero(),
      Vec2::Zero()};           ///< the rim's outer corners, from the upper left one clockwise [pixels]
  Vec2 corner = Vec2::Zero();  ///< the corner of the device [pixels]
  int misread = 0;             ///< inner modules that are not as they should be: 0 or 1
};

/// The marks in a picture, each at most once, by rising number. A side must be some 25 pixels long.
std::vector<FoundMark> find_marks(const Picture& picture);

/// The four corners of the face [pixels], in the order of Photo::corners; none unless all four marks were
/// found and their corners are convex.
std::optional<Quadrilateral> corners_of_marks(const std::vector<FoundMark>& found);

/// The lens's bulge that four marks show on a face of known extents [m], in a picture of that size [pixels]:
/// without it, the squares nearest to the picture's rim come out too short towards it. `clockwise` as in
/// geometry::turns_clockwise. None unless all four were found. Derived: the bulge for which the squares'
/// corners lie nearest to where they were printed, by golden section.
std::optional<double> bulge_of_marks(const std::vector<FoundMark>& found, bool clockwise, const Vec2& face,
                                     double width, double height);

}  // namespace tuft::photo
