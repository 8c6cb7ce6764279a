// Rows of the key table: photos of the device.
#include "geometry/casefile/keys.hpp"
#include "geometry/device/photo.hpp"

namespace tuft::casefile {

std::vector<Key> photo_keys() {
  using D = Dimension;
  const auto place = [](const std::string& path, const char* says) {
    return quantities_key(path, D::number, 2, "-100000", "100000", says);
  };
  return {
      named_key("photos", 40,
                "Pictures of the device, to draw vents on and to show answers on. No result depends on them, "
                "and they need "
                "not be there to predict. Places in a picture count in pixels of the upright picture, x to "
                "the right and y down from its upper left corner."),
      map_key("photos.*", "One picture."),
      must(text_key("photos.*.file",
                    "Its file, PNG or JPEG, in the folder of the case file or in a folder below it.")),
      must(word_key("photos.*.face", geometry::all_words<geometry::PhotoView>(),
                    "The face it shows, seen from outside; inside: what is to be seen with the cover off.")),
      word_key("photos.*.seen-from", geometry::all_words<geometry::OpenedAt>(),
               "Inside only: the side that was taken off. Left out, the corners tell it, by the way they run "
               "round; with two "
               "points it is the base."),
      list_key("photos.*.corners", 4,
               "The face's four corners in the picture, beginning at the face's own [0, 0] and going first "
               "along its "
               "first axis. Base, top and inside: front left, front right, rear right, rear left, named as "
               "of a device that lies flat in use. Left and right: front bottom, rear bottom, rear top, "
               "front top. Front "
               "and rear: left bottom, right bottom, right top, left top."),
      place("photos.*.corners[]", "[x, y]"),
      list_key(
          "photos.*.two-points", 2,
          "Instead of corners, for a picture taken square on: two points on a line along the face's first "
          "axis, in its direction."),
      place("photos.*.two-points[]", "[x, y]"),
      exact_key(
          "photos.*.length", D::length, "> 0 mm", "2 m",
          "Distance of the two points on the device; left out, the face's extent along its first axis."),
      quantities_key(
          "photos.*.start", D::length, 2, "-2 m", "2 m",
          "Where the first of the two points lies, in the face's own coordinates; left out, [0 mm, 0 mm]."),
      exact_key("photos.*.bulge", D::number, "-0.2", "0.5",
                "How much the lens bulges straight lines outwards: with s the distance from the picture's "
                "centre in halves of its diagonal, the picture without bulge has s / (1 - bulge s^2). Left "
                "out, 0."),
      quantities_key(
          "photos.*.size", D::number, 2, "1", "100000",
          "Width and height of the upright picture that the places are counted in, so that a smaller "
          "copy of it will do."),
  };
}

}  // namespace tuft::casefile
