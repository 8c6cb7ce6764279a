// The answer drawn on the photos of a case.
#pragma once

#include <string>
#include <vector>

#include "tools/cli/figure_pictures.hpp"
#include "tools/page/report_photo.hpp"

namespace tuft::cli {

/// How photos are to be drawn on.
struct PhotoWish {
  std::string case_path;  ///< the files of the photos lie in its folder
  std::string name;       ///< of the one photo that is wanted; empty: all
  bool transparent =
      false;  ///< the signs alone, on nothing, to be laid over the same picture or a film of it
  bool words = true;
  bool large_type = false;  ///< words of at least 18 pixels, for video
};

struct NamedPicture {
  std::string name, document;  ///< name of the photo, SVG
};

/// The photos of a case with what a solved condition does there, in the order of the case file. Throws
/// Failure (bad_input) where there is no such photo, or its file can't be read.
std::vector<NamedPicture> photo_pictures(const io::Run& run, const study::ConditionResult& result,
                                         const PhotoWish& wish, const PictureSize& size);

/// The photos of a case for a page, of those whose files can be read; of the others it says on standard error
/// why they are left out.
std::vector<page::ReportPhoto> report_photos(const geometry::Case& content, const std::string& case_path);

}  // namespace tuft::cli
