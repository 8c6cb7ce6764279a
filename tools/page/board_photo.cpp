#include "tools/page/board_photo.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "geometry/photo/marks.hpp"
#include "geometry/photo/open_area.hpp"
#include "geometry/photo/photo_map.hpp"
#include "solver/numerics/constants.hpp"

namespace tuft::page {
namespace {

using io::Json;
using io::plain;
using photo::Vec2;

// Mixes the four pixels around a place; the middle of the first pixel is at (0.5, 0.5).
void mix(const Pixels& photo, const Vec2& place, std::uint8_t* to) {
  const double x = std::clamp(place.x() - 0.5, 0.0, photo.width - 1.0);
  const double y = std::clamp(place.y() - 0.5, 0.0, photo.height - 1.0);
  const int column = std::min(static_cast<int>(x), std::max(0, photo.width - 2));
  const int row = std::min(static_cast<int>(y), std::max(0, photo.height - 2));
  const int right = photo.width > 1 ? 4 : 0, below = photo.height > 1 ? 4 * photo.width : 0;
  const double a = x - column, b = y - row;
  const std::uint8_t* at = &photo.rgba[4 * (static_cast<std::size_t>(row) * photo.width + column)];
  for (int i = 0; i < 3; ++i) {
    const double upper = (1.0 - a) * at[i] + a * at[i + right];
    const double lower = (1.0 - a) * at[i + below] + a * at[i + below + right];
    to[i] = static_cast<std::uint8_t>(std::lround((1.0 - b) * upper + b * lower));
  }
  to[3] = 255;
}

bool shows(const Pixels& photo, const Vec2& place) {
  return place.x() >= 0.0 && place.y() >= 0.0 && place.x() <= photo.width && place.y() <= photo.height;
}

Vec2 vec2_of(const Json& list) { return {list.at(0).get<double>(), list.at(1).get<double>()}; }

Json read_json(const photo::Read& read) { return {plain(read.value), plain(read.low), plain(read.high)}; }

photo::PhotoMap map_for(const photo::Picture& picture, const geometry::Photo& stated,
                        const geometry::Vec3& device_size) {
  const auto map = photo::map_of(stated, device_size, picture.width, picture.height);
  if (!map) throw std::invalid_argument("the places of the photo " + stated.name + " state no plane");
  return *map;
}

}  // namespace

Pixels on_face(const Pixels& photo, const geometry::Photo& stated, const geometry::Vec3& device_size,
               int right, int down, int width, int height, double margin) {
  const auto map = photo::map_of(stated, device_size, photo.width, photo.height);
  if (!map) return {};
  const Eigen::Vector2d extent = geometry::photo_extent(stated, device_size);
  Pixels face{width, height, std::vector<std::uint8_t>(4 * static_cast<std::size_t>(width) * height, 0)};
  for (int row = 0; row < height; ++row) {
    for (int column = 0; column < width; ++column) {
      const double along = (column + 0.5) / width, across = (row + 0.5) / height;
      const Vec2 place((extent.x() + 2.0 * margin) * (right > 0 ? along : 1.0 - along) - margin,
                       (extent.y() + 2.0 * margin) * (down > 0 ? across : 1.0 - across) - margin);
      const auto pixel = map->pixel(place);
      if (pixel && shows(photo, *pixel))
        mix(photo, *pixel, &face.rgba[4 * (static_cast<std::size_t>(row) * width + column)]);
    }
  }
  return face;
}

Json seen_corners(const photo::Picture& picture, const geometry::Vec3& device_size, const Json& request) {
  const std::vector<photo::FoundMark> found = photo::find_marks(picture);
  Json corners = Json::array();
  if (const auto places = photo::corners_of_marks(found))
    for (const Vec2& place : *places) corners.push_back({plain(place.x()), plain(place.y())});
  double bulge = 0.0;
  if (!corners.empty()) {
    geometry::Photo photo;
    photo.view = geometry::kind_called<geometry::PhotoView>(request.at("face").get<std::string>()).value();
    for (const photo::FoundMark& mark : found) photo.corners.push_back({mark.corner.x(), mark.corner.y()});
    if (photo.view == geometry::PhotoView::inside) photo.seen_from = photo::seen_from(photo);
    bulge = photo::bulge_of_marks(found, geometry::turns_clockwise(photo),
                                  geometry::photo_extent(photo, device_size), picture.width, picture.height)
                .value_or(0.0);
  }
  return {{"corners", corners}, {"found", found.size()}, {"bulge", plain(bulge)}};
}

Json seen_open_area(const photo::Picture& picture, const geometry::Photo& stated,
                    const geometry::Vec3& device_size, const Json& request) {
  const Vec2 size = vec2_of(request.at("size"));
  const double angle = request.at("turned").get<double>() * numerics::kDegree;
  const photo::Patch patch{vec2_of(request.at("centre")), size.x(), size.y(),
                           geometry::turn_sense(geometry::face_of(stated)) * angle};
  const photo::OpenArea seen =
      photo::open_area(picture, map_for(picture, stated, device_size), patch, request.at("level"));
  std::string mask;
  for (const std::uint8_t open : seen.mask.in) mask += open != 0 ? '1' : '0';
  return {{"cannot", photo::sentence(seen.cannot)},
          {"doubt", photo::sentence(seen.doubt)},
          {"open", read_json(seen.open)},
          {"hole", read_json(seen.hole)},
          {"shape", photo::word_of(seen.shape)},
          {"pitch", plain(seen.pitch)},
          {"holes", seen.holes},
          {"columns", seen.mask.columns},
          {"rows", seen.mask.rows},
          {"mask", mask}};
}

Json seen_two_holes(const photo::Picture& picture, const geometry::Photo& stated,
                    const geometry::Vec3& device_size, const Json& request) {
  const photo::PhotoMap map = map_for(picture, stated, device_size);
  const auto one = map.pixel(vec2_of(request.at("one"))), other = map.pixel(vec2_of(request.at("other")));
  photo::TwoHoles seen;
  seen.cannot = photo::CannotTell::not_in_picture;
  if (one && other) seen = photo::two_holes(picture, map, *one, *other);
  const std::string word = request.at("pattern");
  const photo::Pattern pattern = word == "slots"       ? photo::Pattern::slots
                                 : word == "staggered" ? photo::Pattern::staggered
                                                       : photo::Pattern::square;
  const auto share = [&](double hole) {
    return seen.pitch > 0.0 ? photo::open_share(hole, seen.shape, seen.pitch, pattern) : 0.0;
  };
  return {{"cannot", photo::sentence(seen.cannot)},
          {"open", {share(seen.hole.value), share(seen.hole.low), share(seen.hole.high)}},
          {"hole", read_json(seen.hole)},
          {"shape", photo::word_of(seen.shape)},
          {"pitch", plain(seen.pitch)}};
}

}  // namespace tuft::page
