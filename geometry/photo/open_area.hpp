// How much of a grille is open, told from a photo: dark holes against a lighter shell.
#pragma once

#include <string>

#include "geometry/photo/blobs.hpp"
#include "geometry/photo/straighten.hpp"

namespace tuft::photo {

/// A number with the range that the picture leaves.
struct Read {
  double value = 0.0, low = 0.0, high = 0.0;
};

enum class HoleShape { round, square, slot };
constexpr const char* word_of(HoleShape shape) {
  return shape == HoleShape::round ? "round" : shape == HoleShape::square ? "square" : "slot";
}

/// Why a picture does not tell the open area.
enum class CannotTell {
  no,              ///< it does tell
  not_in_picture,  ///< part of the rectangle lies outside the picture
  too_few_pixels,  ///< the rectangle is but a few pixels across
  one_tone,        ///< nothing divides holes from shell: black mesh behind black holes, glare, plain shell
  weak_contrast,   ///< what is darker is not dark: dust, print, a grille just behind the holes
  too_coarse,      ///< the holes are but a few pixels across, so that their rims are guesswork
  joined,     ///< what is dark hangs together around what is light: dark webs, or ones too thin to be seen
  no_pattern  ///< what is darker is neither black nor of one size, as holes are: bricks, stones, letters
};

/// What makes a picture that does tell less sure. The range is wider then.
enum class Doubt {
  none,
  something_behind,  ///< within the holes some places are lighter: a mesh, a filter or a part close behind
                     ///< them
  not_black,         ///< the holes are alike, but far from black beside their shell
  many_sizes         ///< black, but of several sizes
};

/// The sentence a person is shown: what is the matter, and what would help.
std::string sentence(CannotTell reason);
std::string sentence(Doubt doubt);

/// What a picture tells of a grille. Unless `cannot` is `no`, all numbers are for show only: the default of
/// the kind of grille and its spread stay.
struct OpenArea {
  CannotTell cannot = CannotTell::no;
  Doubt doubt = Doubt::none;
  Read open;  ///< open share of the rectangle [-]
  Read hole;  ///< diameter, side of a square hole, or width of a slot [m]; 0: no hole found
  HoleShape shape = HoleShape::round;
  double pitch = 0.0;  ///< from a hole's middle to that of the nearest other [m]; 0: too few holes
  int holes = 0;       ///< found, without those that the rim cuts
  double separation = 0.0, dark = 0.0;  ///< see Tones
  Mask mask;                            ///< what counts as open, over the rectangle, in the order of Straight

  bool tells() const { return cannot == CannotTell::no; }
};

/// Measures the holes in a patch, which `even_light` has been applied to with these tones as result. `level`:
/// where between the light of the holes (0) and of the shell (1) the rim of a hole is put. Half way is right
/// where blur is even and the picture's tones are true; the spread is that of a quarter less and a quarter
/// more, which for a sharp picture moves each rim by a quarter of a pixel (derived: a pixel across an edge
/// averages its two sides). Where there is a doubt the range reaches lower: to the share that is as dark as
/// the darkest, or to half (judgement: meshes and filters are about half open).
///
/// A black mesh or filter close behind black holes shows in no picture: whoever takes the number has to be
/// told.
OpenArea open_area(const Straight& evened, const Tones& tones, double level = 0.5);

/// The same from a picture.
OpenArea open_area(const Picture& picture, const PhotoMap& map, const Patch& patch, double level = 0.5);

/// Two neighbouring holes, clicked by hand.
struct TwoHoles {
  CannotTell cannot = CannotTell::no;
  Read hole;  ///< mean of the two [m]
  HoleShape shape = HoleShape::round;
  double pitch = 0.0;  ///< between their middles [m]

  bool tells() const { return cannot == CannotTell::no; }
};

/// Measures the hole at one place of a picture and its neighbour at another [pixels].
TwoHoles two_holes(const Picture& picture, const PhotoMap& map, const Vec2& one, const Vec2& other);

/// How holes lie: in rows and columns, each row set off by half a pitch from the next, or slots side by side.
enum class Pattern { square, staggered, slots };

/// Open share of an endless pattern of holes at a pitch [-]: pi d^2 / (4 p^2) for round holes in a square,
/// and pi d^2 / (2 sqrt(3) p^2) staggered; d^2 / p^2 for square holes; d / p for slots (derived: area of a
/// hole over that of its cell). At most 1.
double open_share(double hole, HoleShape shape, double pitch, Pattern pattern);

}  // namespace tuft::photo
