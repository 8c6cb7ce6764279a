#include "tools/page/report_photo.hpp"

#include <algorithm>
#include <cmath>

#include "tools/figure/png.hpp"
#include "tools/page/board_photo.hpp"

namespace tuft::page {
namespace {

constexpr int kLongest = 1000;    // side of a picture in a page [px]
constexpr int kQuality = 78;      // of its JPEG: a shell shows no blocks yet
constexpr double kAround = 0.12;  // of the face's longer side, shown around it: arrows stand there
constexpr std::uint8_t kNothing[] = {0xe4, 0xe7, 0xe9};  // where the photo shows nothing

Pixels pixels_of(const figure::ColourPicture& picture) {
  Pixels pixels{picture.width, picture.height, {}};
  pixels.rgba.reserve(4 * picture.rgb.size() / 3);
  for (std::size_t i = 0; i < picture.rgb.size(); i += 3) {
    pixels.rgba.insert(pixels.rgba.end(), &picture.rgb[i], &picture.rgb[i] + 3);
    pixels.rgba.push_back(255);
  }
  return pixels;
}

figure::ColourPicture opaque(const Pixels& pixels) {
  figure::ColourPicture picture{pixels.width, pixels.height, pixels.width, pixels.height, {}};
  picture.rgb.reserve(3 * pixels.rgba.size() / 4);
  for (std::size_t i = 0; i < pixels.rgba.size(); i += 4) {
    const std::uint8_t* colour = pixels.rgba[i + 3] != 0 ? &pixels.rgba[i] : kNothing;
    picture.rgb.insert(picture.rgb.end(), colour, colour + 3);
  }
  return picture;
}

}  // namespace

std::optional<ReportPhoto> report_photo(const geometry::Photo& photo, const geometry::Vec3& device_size,
                                        const figure::ColourPicture& picture) {
  geometry::Photo stated = photo;
  if (stated.width <= 0.0 || stated.height <= 0.0) {
    stated.width = picture.full_width;
    stated.height = picture.full_height;
  }
  const Eigen::Vector2d face = geometry::photo_extent(stated, device_size);
  const double margin = kAround * face.maxCoeff(), scale = kLongest / (face.maxCoeff() + 2.0 * margin);
  const auto pixels = [&](double extent) {
    return std::max(16, static_cast<int>(std::lround(scale * (extent + 2.0 * margin))));
  };
  ReportPhoto result;
  result.width = pixels(face.x());
  result.height = pixels(face.y());
  const int right = geometry::turns_clockwise(stated) ? -1 : 1;  // up is along the second axis, as one looks
  const Pixels laid =
      on_face(pixels_of(picture), stated, device_size, right, -1, result.width, result.height, margin);
  if (laid.rgba.empty()) return std::nullopt;
  result.jpeg = figure::base64(figure::jpeg_of(opaque(laid), kQuality));
  result.shown = {photo.name, "", photo.view, photo.seen_from, {}, {}, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0};
  result.shown.width = result.width;
  result.shown.height = result.height;
  const double left = scale * margin, top = scale * margin;
  const double near = right > 0 ? left : result.width - left, far = right > 0 ? result.width - left : left;
  result.shown.corners = {{near, result.height - top}, {far, result.height - top}, {far, top}, {near, top}};
  return result;
}

}  // namespace tuft::page
