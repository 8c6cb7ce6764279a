// tuft sheet: corner cards to print, and the corners that they give in a photo.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <stdexcept>

#include "geometry/casefile/nearest.hpp"
#include "geometry/device/photo.hpp"
#include "geometry/photo/marks.hpp"
#include "geometry/photo/photo_map.hpp"
#include "tools/cli/console.hpp"
#include "tools/cli/load.hpp"
#include "tools/cli/options.hpp"
#include "tools/figure/card_sheet.hpp"
#include "tools/figure/picture_file.hpp"
#include "tools/figure/png.hpp"
#include "tools/io/folder.hpp"
#include "tools/io/read_whole.hpp"
#include "tools/io/utf8.hpp"

namespace tuft::cli {
namespace {

struct SheetOptions {
  std::string paper = "a4", out = ".", find, face = "base", of_case;
};

figure::Paper paper_of(const std::string& word) {
  if (word == "a4") return figure::Paper::a4;
  if (word == "letter") return figure::Paper::letter;
  refuse_unknown("--paper: there is no '" + word + "'", casefile::did_you_mean(word, {"a4", "letter"}),
                 {"a4", "letter"});
}

std::string bytes_at(const std::filesystem::path& path) {
  std::ifstream stream(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
}

// The same sheet again is no other file; anything else of that name is not ours to replace.
void write_unless_there(const std::filesystem::path& path, const std::string& bytes) {
  if (bytes_at(path) != bytes) io::write_whole_file(path, bytes, "");
}

ExitStatus write_sheet(const SheetOptions& options) {
  const figure::Paper paper = paper_of(options.paper);
  const auto [width, height] = figure::size_of(paper);
  const std::string document = figure::card_sheet(paper);
  const std::string pdf = figure::pdf_of_svg(document, width, height);
  const std::filesystem::path folder(options.out);
  const std::string stem = "corner-cards-" + options.paper;
  write_or_fail([&] {
    write_unless_there(folder / (stem + ".svg"), document);
    write_unless_there(folder / (stem + ".pdf"), pdf);
  });
  say("Corner cards: " + io::printable((folder / (stem + ".pdf")).string()) +
      " (and .svg). Print at 100 %, and measure the line of 100 mm.\n");
  return ExitStatus::good;
}

figure::ColourPicture picture_at(const std::string& path) {
  constexpr int kLongest = 3000;  // pixels: a fifth of a millimetre on a notebook, and found in a second
  std::string bytes;
  try {
    bytes = io::read_whole(path);
  } catch (const std::runtime_error& error) {
    refuse("--find: " + io::printable(error.what()));
  }
  try {
    return figure::read_picture(bytes, kLongest);
  } catch (const figure::PictureError& error) {
    refuse("--find: " + io::printable(path) + ": " + error.what());
  }
}

std::string names_missing(const std::vector<photo::FoundMark>& found) {
  std::string out;
  for (int mark = 0; mark < photo::kMarks; ++mark) {
    const bool there =
        std::any_of(found.begin(), found.end(), [&](const auto& one) { return one.mark == mark; });
    if (!there) out += (out.empty() ? "" : ", ") + std::to_string(mark + 1);
  }
  return out;
}

// The line of the lens's bulge, which the marks show where the size of their face is known; empty: it is not,
// or there is none.
std::string bulge_line(const SheetOptions& options, const std::vector<photo::FoundMark>& found,
                       const figure::ColourPicture& picture) {
  if (options.of_case.empty()) return "";
  geometry::Photo photo;
  photo.view = *geometry::kind_called<geometry::PhotoView>(options.face);
  for (const photo::FoundMark& mark : found) photo.corners.push_back({mark.corner.x(), mark.corner.y()});
  if (photo.view == geometry::PhotoView::inside) photo.seen_from = photo::seen_from(photo);
  const geometry::Vec3 size = load_case({options.of_case}).content.device.size;
  const auto bulge =
      photo::bulge_of_marks(found, geometry::turns_clockwise(photo), geometry::photo_extent(photo, size),
                            picture.width, picture.height);
  const std::string text = fmt::format("{:.3f}", bulge.value_or(0.0));
  return text == "0.000" || text == "-0.000" ? "" : "    bulge: " + text + "\n";
}

ExitStatus find_cards(const SheetOptions& options) {
  const auto faces = geometry::all_words<geometry::PhotoView>();
  if (!casefile::contains(faces, options.face))
    refuse_unknown("--face: there is no '" + options.face + "'", casefile::did_you_mean(options.face, faces),
                   faces);
  const figure::ColourPicture picture = picture_at(options.find);
  const auto found = photo::find_marks(figure::luminance_of(picture));
  const auto corners = photo::corners_of_marks(found);
  if (!corners)
    refuse(fmt::format(
        "--find: {} of 4 cards were found in {}; {}. Cards must be sharp, whole and flat, with their white "
        "border, and at least 25 pixels wide",
        found.size(), io::printable(options.find),
        found.size() == photo::kMarks ? "they lie on no corners of a rectangle"
                                      : "missing: " + names_missing(found)));
  // A pixel of the picture in the file, whose places a case counts in.
  const double scale = static_cast<double>(picture.full_width) / picture.width;
  std::string places;
  for (const photo::Vec2& corner : *corners)
    places +=
        fmt::format("{}[{:.1f}, {:.1f}]", places.empty() ? "" : ", ", scale * corner.x(), scale * corner.y());
  const std::size_t slash = options.find.find_last_of('/');
  const std::string file = slash == std::string::npos ? options.find : options.find.substr(slash + 1);
  say(fmt::format(
      "photos:\n  {0}:\n    file: {1}\n    face: {0}\n    corners: [{2}]\n{5}    size: [{3}, {4}]\n",
      options.face, io::printable(file), places, picture.full_width, picture.full_height,
      bulge_line(options, found, picture)));
  return ExitStatus::good;
}

ExitStatus sheet(const SheetOptions& options) {
  return options.find.empty() ? write_sheet(options) : find_cards(options);
}

}  // namespace

void add_sheet(CLI::App& app, ExitStatus& status) {
  auto [command, options] = add_command(
      app, status, sheet, "sheet", "Corner cards to print, and the corners that they give in a photo",
      "Examples:\n  tuft sheet\n  tuft sheet --find base.jpg --face base --case notebook.yaml\n\n"
      "Switch the device off, unplug it and let it cool before you lay cards on it.\n"
      "Exit status: 0 written or found, 3 bad input or cards not found, 5 not written.");
  add_value_option(command, "--paper", options.paper, "PAPER", "a4 (default) or letter");
  add_value_option(command, "--find", options.find, "PHOTO",
                   "A PNG or JPEG file with the cards in it: prints the section `photos:` for a case");
  add_value_option(
      command, "--face", options.face, "FACE",
      "With --find: what the photo shows: base (default), top, left, right, front, rear or inside");
  add_value_option(
      command, "--case", options.of_case, "CASE",
      "With --find: the case of the device, whose size lets the cards show how much the lens bulges");
  add_value_option(command, "--out", options.out, "DIR", "The folder for the sheet; default: this one");
}

}  // namespace tuft::cli
