// A thermal picture as a command is given it: its file, how its temperatures are told, and where the face
// lies in it. Apart from its one command, which is about observations: what is wrong with a picture is a
// subject of its own.
#pragma once

#include <string>
#include <vector>

#include "geometry/device/condition.hpp"
#include "geometry/photo/photo_map.hpp"
#include "geometry/photo/thermal.hpp"

namespace tuft::cli {

/// What stands on the command line, as typed; what is empty was not given.
struct ThermalSource {
  std::string picture, face, corners, photo, unit;
  std::vector<std::string> bar;
};

/// A picture of temperatures, and the face that it shows.
struct PlacedPicture {
  photo::ThermalPicture thermal;
  geometry::Face face = geometry::Face::base;
  photo::PhotoMap map;
};

/// Reads it. Throws Failure (bad_input) with what is wrong and what is allowed.
PlacedPicture placed_picture(const geometry::Case& content, const ThermalSource& source);

}  // namespace tuft::cli
