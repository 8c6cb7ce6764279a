// A photo of a case as a report shows it: straightened to its face, with signs and arrows over it.
#pragma once

#include <optional>
#include <string>

#include "geometry/device/condition.hpp"
#include "tools/figure/picture_file.hpp"

namespace tuft::page {

/// The face with a margin around it, seen as it was photographed, to scale. It holds pixels alone: nothing of
/// what the file of the photo says of place, date and camera.
struct ReportPhoto {
  geometry::Photo shown;      ///< where the face lies in it
  std::string jpeg;           ///< its bytes in base 64
  int width = 0, height = 0;  ///< [pixels]
};

/// Makes one. None where the places of the photo state no plane.
std::optional<ReportPhoto> report_photo(const geometry::Photo& photo, const geometry::Vec3& device_size,
                                        const figure::ColourPicture& picture);

}  // namespace tuft::page
