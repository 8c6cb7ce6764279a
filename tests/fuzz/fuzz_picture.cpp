// A picture file of any bytes: pixels in which corner cards are looked for, or plain words.
#include "geometry/photo/marks.hpp"
#include "tests/fuzz/fuzz.hpp"
#include "tools/figure/picture_file.hpp"

using namespace tuft;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
  try {
    const figure::ColourPicture picture = figure::read_picture(fuzz::text_of(bytes, size), 320);
    fuzz::expect(picture.rgb.size() ==
                     3u * static_cast<std::size_t>(picture.width) * static_cast<std::size_t>(picture.height),
                 "a picture without its pixels");
    const auto found = photo::find_marks(figure::luminance_of(picture));
    photo::corners_of_marks(found);
    photo::bulge_of_marks(found, false, {0.3, 0.2}, picture.width, picture.height);
    figure::jpeg_of(picture, 80);
  } catch (const figure::PictureError& error) {
    fuzz::expect(*error.what() != '\0', "a message without words");
  }
  return 0;
}
