#include "tools/cli/figure_photo.hpp"

#include <algorithm>
#include <filesystem>
#include <stdexcept>

#include "geometry/casefile/nearest.hpp"
#include "tools/cli/console.hpp"
#include "tools/figure/photo_drawing.hpp"
#include "tools/figure/picture_file.hpp"
#include "tools/figure/png.hpp"
#include "tools/io/field_figures.hpp"
#include "tools/io/read_whole.hpp"
#include "tools/io/utf8.hpp"

namespace tuft::cli {
namespace {

constexpr int kJpegQuality = 88;  // where blocks of the compression are not yet seen in a plain shell

std::string bytes_of(const std::filesystem::path& path, const geometry::Photo& photo) {
  try {
    return io::read_whole(path);
  } catch (const std::runtime_error& error) {
    refuse("photos." + photo.name + ".file: " + io::printable(error.what()) +
           "; photos lie in the folder of the case file or below it");
  }
}

figure::ColourPicture picture_in(const std::filesystem::path& path, const geometry::Photo& photo,
                                 int longest) {
  const std::string bytes = bytes_of(path, photo);
  try {
    return figure::read_picture(bytes, longest);
  } catch (const figure::PictureError& error) {
    refuse("photos." + photo.name + ".file: " + io::printable(path.string()) + ": " + error.what());
  }
}

double type_size(const PhotoWish& wish, const PictureSize& size) {
  const double scale = std::min(size.width / 1920.0, size.height / 1080.0);
  return wish.large_type ? std::max(18.0, 27.0 * scale) : std::max(11.0, 17.0 * scale);
}

NamedPicture drawn_on(const geometry::Photo& photo, const io::Run& run, const study::ConditionResult& result,
                      const PhotoWish& wish, const PictureSize& size) {
  const std::filesystem::path path = std::filesystem::path(wish.case_path).parent_path() / photo.file;
  const figure::ColourPicture picture = picture_in(path, photo, std::max(size.width, size.height));
  figure::PhotoDrawing drawing;
  drawing.title = run.content.device.name;
  drawing.subtitle = figure_subtitle(run, result);
  drawing.note = figure_note(run);
  drawing.device = run.content.device;
  drawing.units = run.content.units;
  drawing.flows = io::vent_flows(result);
  const geometry::Condition& condition = io::at(run.content.conditions, result.condition);
  const geometry::Support& support = io::at(run.content.supports, condition.support);
  drawing.rest = {support.kind, support.name};
  drawing.pose = io::at(run.content.poses, condition.pose);
  drawing.photo = photo;
  if (photo.width <= 0.0 ||
      photo.height <= 0.0) {  // its places count in the whole picture, which is smaller here
    drawing.photo.width = picture.full_width;
    drawing.photo.height = picture.full_height;
  }
  drawing.picture_width = picture.width;
  drawing.picture_height = picture.height;
  if (!wish.transparent) drawing.jpeg = figure::base64(figure::jpeg_of(picture, kJpegQuality));
  drawing.words = wish.words;
  drawing.type_size = type_size(wish, size);
  drawing.width = size.width;
  drawing.height = size.height;
  return {photo.name, figure::photo_drawing(drawing)};
}

constexpr int kReportPixels = 2400;  // of a photo before it is straightened for a page

}  // namespace

std::vector<page::ReportPhoto> report_photos(const geometry::Case& content, const std::string& case_path) {
  std::vector<page::ReportPhoto> out;
  for (const geometry::Photo& photo : content.photos) {
    try {
      const std::filesystem::path path = std::filesystem::path(case_path).parent_path() / photo.file;
      auto laid = page::report_photo(photo, content.device.size, picture_in(path, photo, kReportPixels));
      if (laid) out.push_back(std::move(*laid));
    } catch (const Failure& failure) {
      complain("tuft: " + std::string(failure.what()) + "; the page goes without this photo\n");
    }
  }
  return out;
}

std::vector<NamedPicture> photo_pictures(const io::Run& run, const study::ConditionResult& result,
                                         const PhotoWish& wish, const PictureSize& size) {
  const std::vector<geometry::Photo>& photos = run.content.photos;
  if (photos.empty())
    refuse(
        "the case has no photos to draw on; `tuft reference photos` says how the section `photos:` is "
        "written");
  std::vector<NamedPicture> out;
  for (const geometry::Photo& photo : photos)
    if (wish.name.empty() || wish.name == photo.name) out.push_back(drawn_on(photo, run, result, wish, size));
  if (out.empty()) refuse_word("--photo", wish.name, geometry::names_of(photos));
  return out;
}

}  // namespace tuft::cli
