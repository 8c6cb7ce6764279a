// Corner cards, the corners they give, and the answer drawn on a photo, by the program as a person runs it.
#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>
#include <fstream>

#include "geometry/photo/marks.hpp"
#include "tests/io/sample.hpp"
#include "tests/photo/rendered.hpp"
#include "tests/program/program.hpp"
#include "tools/figure/picture_file.hpp"

using namespace tuft;
using namespace tuft::test;

namespace {

const Vec2 kFace(0.2, 0.1);

// The base with its four cards; it turns clockwise, so that a card's own axes are those along the face's rim.
double base_with_cards(const Vec2& at) {
  const Vec2 corners[] = {Vec2(0, 0), Vec2(kFace.x(), 0), kFace, Vec2(0, kFace.y())};
  for (int i = 0; i < photo::kMarks; ++i) {
    const Vec2 from = at - corners[i];
    const double u = (corners[(i + 1) % 4] - corners[i]).normalized().dot(from),
                 v = (corners[(i + 3) % 4] - corners[i]).normalized().dot(from);
    const int column = static_cast<int>(std::floor(u / photo::kModuleSize)) - 1,
              row = static_cast<int>(std::floor(v / photo::kModuleSize)) - 1;
    if (u < 0.0 || v < 0.0 || column > photo::kMarkModules || row > photo::kMarkModules) continue;
    if (column < 0 || row < 0 || column == photo::kMarkModules || row == photo::kMarkModules) return 0.85;
    const bool rim =
        column == 0 || row == 0 || column == photo::kMarkModules - 1 || row == photo::kMarkModules - 1;
    return rim || photo::is_black(i, row - 1, column - 1) ? 0.03 : 0.85;
  }
  const bool inside = at.x() >= 0.0 && at.y() >= 0.0 && at.x() <= kFace.x() && at.y() <= kFace.y();
  return inside ? 0.3 : 0.5;
}

std::string photo_of_base(const Camera& camera) {
  const photo::Picture grey = rendered(camera, base_with_cards, {0.6, 0.01, Vec2(0.3, 0.1)});
  figure::ColourPicture picture{grey.width, grey.height, grey.width, grey.height, {}};
  for (const std::uint8_t value : grey.luminance) picture.rgb.insert(picture.rgb.end(), 3, value);
  return figure::jpeg_of(picture, 92);
}

void write(const std::filesystem::path& path, const std::string& bytes) {
  std::ofstream(path, std::ios::binary) << bytes;
}

const char* kCase =
    "tuft: 1\n"
    "device: {name: Box, size: [200 mm, 100 mm, 20 mm]}\n"
    "vents:\n"
    "  grille: {face: base, centre: [60 mm, 60 mm], size: [40 mm, 20 mm]}\n"
    "  outlet: {face: right, centre: [50 mm, 10 mm], size: [40 mm, 10 mm]}\n"
    "fans:\n"
    "  main: {kind: blower, diameter: 45 mm, speed: 4500 rpm, draws-from: inside, blows-into: outlet}\n"
    "sources: {chip: {}}\n"
    "loads: {run: {power: {chip: 10 W}, fans: {main: full}}}\n"
    "conditions: {use: {pose: flat, support: table, load: run}}\n";

}  // namespace

TEST_CASE("from corner cards in a photo to the answer on it") {
  const Scratch scratch;
  Camera camera = camera_over(kFace, 0.26, 0.25, -0.2, 0.3, true);
  camera.bulge = 0.03;
  write(scratch.path() / "base.jpg", photo_of_base(camera));
  write(scratch.path() / "plain.yaml", kCase);
  const Outcome found = run_tuft({"sheet", "--find", "base.jpg", "--case", "plain.yaml"}, scratch.path());
  INFO(found.out << found.err);
  REQUIRE(found.status == 0);
  CHECK(found.out.rfind("photos:\n  base:\n    file: base.jpg\n    face: base\n    corners: [[", 0) == 0);
  CHECK(found.out.find("size: [1200, 900]") != std::string::npos);
  // The lens of this photo has a bulge of 0.03.
  const std::size_t bulge = found.out.find("bulge: 0.0");
  REQUIRE(bulge != std::string::npos);
  CHECK(std::stod(found.out.substr(bulge + 7)) == Approx(0.03).margin(0.003));
  write(scratch.path() / "box.yaml", kCase + found.out);
  const Outcome drawn = run_tuft(
      {"figure", "box.yaml", "--what", "photo", "--size", "1280x720", "--large-type"}, scratch.path());
  INFO(drawn.out << drawn.err);
  REQUIRE(drawn.status == 0);
  CHECK(std::filesystem::exists(scratch.path() / "box-figures/use-photo-base.png"));
  CHECK(std::filesystem::exists(scratch.path() / "box-figures/use-photo-base.svg"));
  CHECK(run_tuft({"figure", "box.yaml", "--what", "photo", "--transparent", "--no-words"}, scratch.path())
            .status == 0);
}

TEST_CASE("photos that are not there stop no prediction, and lint says so") {
  const Scratch scratch;
  write(scratch.path() / "box.yaml",
        std::string(kCase) +
            "photos:\n  base: {file: gone.jpg, face: base, two-points: [[10, 50], [510, 50]]}\n");
  CHECK(run_tuft({"predict", "box.yaml", "--samples", "0"}, scratch.path()).status == 0);
  CHECK(run_tuft({"lint", "box.yaml"}, scratch.path()).out.find("the file gone.jpg is not there") !=
        std::string::npos);
  const Outcome drawn = run_tuft({"figure", "box.yaml", "--what", "photo"}, scratch.path());
  CHECK(drawn.status == 3);
  CHECK(drawn.err.find("photos.base.file: gone.jpg") != std::string::npos);
  CHECK(run_tuft({"figure", "box.yaml", "--transparent"}, scratch.path()).status == 3);
  CHECK(run_tuft({"figure", "box.yaml", "--what", "photo", "--photo", "bas"}, scratch.path()).status == 3);
}

TEST_CASE("the sheet is written, again without harm, and never over another file") {
  const Scratch scratch;
  CHECK(run_tuft({"sheet"}, scratch.path()).status == 0);
  CHECK(std::filesystem::exists(scratch.path() / "corner-cards-a4.pdf"));
  CHECK(run_tuft({"sheet"}, scratch.path()).status == 0);
  write(scratch.path() / "corner-cards-letter.pdf", "mine");
  CHECK(run_tuft({"sheet", "--paper", "letter"}, scratch.path()).status == 5);
  CHECK(run_tuft({"sheet", "--paper", "a5"}, scratch.path()).status == 3);
  write(scratch.path() / "notes.jpg", "Dear reader,\n");
  const Outcome text = run_tuft({"sheet", "--find", "notes.jpg"}, scratch.path());
  CHECK(text.status == 3);
  CHECK(text.err.find("this is a text file, not a picture") != std::string::npos);
}

TEST_CASE(
    "a film is made by ffmpeg where it is there, and missed before anything is solved where it is not") {
  const Scratch scratch;
  write(scratch.path() / "box.yaml",
        std::string(kCase) +
            "sweeps:\n  turn: {condition: use, about: y, from: 0 deg, to: 90 deg, step: 45 deg}\n");
  const std::vector<std::string> wish = {"figure",  "box.yaml", "--frames", "sweep", "--size",
                                         "320x240", "--video",  "mp4",      "--out", "film"};
  const Outcome none = run_tuft(wish, scratch.path(), {{"PATH", "/nowhere"}});
  CHECK(none.status == 3);
  CHECK(none.err.find("ffmpeg, which is not installed") != std::string::npos);
  // In its place a script that copies its words to the film, so that they can be looked at.
  const std::filesystem::path bin = scratch.path() / "bin";
  std::filesystem::create_directory(bin);
  write(bin / "ffmpeg", "#!/bin/sh\nfor last; do :; done\necho \"$@\" > \"$last\"\n");
  std::filesystem::permissions(bin / "ffmpeg", std::filesystem::perms::owner_all);
  const Outcome made = run_tuft(wish, scratch.path(), {{"PATH", bin.string()}});
  INFO(made.out << made.err);
  REQUIRE(made.status == 0);
  std::ifstream film(scratch.path() / "film/use-sweep.mp4");
  const std::string words{std::istreambuf_iterator<char>(film), std::istreambuf_iterator<char>()};
  CHECK(words.find("libx264") != std::string::npos);
  CHECK(words.find("/use-sweep/%04d.png") != std::string::npos);
  CHECK(std::filesystem::exists(scratch.path() / "film/use-sweep/0002.png"));
  write(bin / "ffmpeg", "#!/bin/sh\nexit 7\n");
  CHECK(run_tuft(wish, scratch.path(), {{"PATH", bin.string()}}).status == 5);
  std::vector<std::string> other = wish;
  other[7] = "avi";
  CHECK(run_tuft(other, scratch.path()).status == 3);
}
