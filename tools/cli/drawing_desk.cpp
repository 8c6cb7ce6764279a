#include "tools/cli/drawing_desk.hpp"

#include <fmt/core.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <memory>
#include <nlohmann/json.hpp>
#include <random>

#include "geometry/casefile/document.hpp"
#include "geometry/device/device.hpp"
#include "tools/cli/console.hpp"
#include "tools/cli/load.hpp"
#include "tools/io/folder.hpp"
#include "tools/io/utf8.hpp"

namespace tuft::cli {
namespace {

namespace fs = std::filesystem;

// The page scales photos down before it saves them; more than this is none of its own.
constexpr std::uintmax_t kMostPhoto = std::uintmax_t{24} << 20;  // [bytes]
constexpr std::size_t kWordsOfKey = 4;                           // of 32 bits each
constexpr std::size_t kMark = 200;                               // [bytes]

constexpr int kCreated = 201, kConflict = 409, kBadRequest = 400, kNotFound = 404, kServerError = 500;

std::string bytes_at(const fs::path& path) {
  std::ifstream stream(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(stream), {}};
}

bool is_picture(const std::string& bytes) {
  return bytes.compare(0, 3, "\xff\xd8\xff") == 0 || bytes.compare(0, 8, "\x89PNG\r\n\x1a\n") == 0;
}

// Nobody guesses 128 bits of the system's own randomness.
std::string fresh_key() {
  std::random_device random;
  std::string key;
  for (std::size_t i = 0; i < kWordsOfKey; ++i) key += fmt::format("{:08x}", random() & 0xffffffffu);
  return key;
}

// A device to begin with: the least that can be solved once a vent is drawn.
std::string first_text(const std::string& path) {
  return fmt::format(
      "# Drawn with tuft draw. Size of the chassis without feet: width, depth, height.\n"
      "tuft: 1\n"
      "device: {{name: {}, size: [300 mm, 210 mm, 18 mm]}}\n"
      "sources: {{processor: {{}}}}\n"
      "loads:\n"
      "  idle: {{power: {{processor: 5 W}}}}\n"
      "  stress: {{power: {{processor: 30 W}}}}\n"
      "conditions:\n"
      "  on-table: {{pose: flat, support: table, load: stress}}\n"
      "  on-table-idle: {{pose: flat, support: table, load: idle}}\n"
      "  on-edge: {{pose: on-right-edge, support: table, load: idle}}\n",
      nlohmann::json(io::valid_utf8(fs::path(path).stem().string())).dump());
}

// The photos that a case names: read from its section, so that a file with other faults shows them too.
std::vector<page::DrawnPhoto> photos_of(const fs::path& path, const std::string& text) {
  std::vector<page::DrawnPhoto> photos;
  const auto root = casefile::parse_document(casefile::normalised(text));
  const casefile::Entry* section = root ? root->find("photos") : nullptr;
  if (section == nullptr) return photos;
  for (const casefile::Entry& photo : section->value.entries) {
    const casefile::Entry* file = photo.value.find("file");
    if (file == nullptr) continue;
    const fs::path place = path.parent_path() / file->value.text;
    std::error_code error;
    if (!fs::is_regular_file(place, error) || fs::file_size(place, error) > kMostPhoto) continue;
    std::string bytes = bytes_at(place);
    if (is_picture(bytes)) photos.push_back({file->value.text, std::move(bytes)});
  }
  return photos;
}

// What the page and the file hold in common.
struct Shared {
  fs::path path;
  std::string engine;
  std::string known;  ///< the file's text as the page has it
};

page::PostReply save_case(Shared& shared, const std::string& text) {
  const bool is_there = fs::exists(shared.path);
  if (is_there && bytes_at(shared.path) != shared.known)
    return {kConflict,
            "The file was changed by another program since this page read it. Download what you have drawn, "
            "or copy its text, and load the page again."};
  if (text.empty() || text.size() > casefile::kMaxFileSize) return {kBadRequest, "That is no case file."};
  try {
    // The file is the one that was read: its beginning is the mark by which it may be replaced.
    io::write_whole_file(is_there ? fs::canonical(shared.path) : shared.path, text,
                         shared.known.substr(0, kMark));
  } catch (const std::exception& fault) {
    return {kServerError, fault.what()};
  }
  shared.known = text;
  const casefile::ReadResult read = casefile::read_case(shared.path.string());
  const nlohmann::json answer = {
      {"errors", read.errors.empty() ? nlohmann::json(nullptr) : nlohmann::json(error_text(read))}};
  return {kCreated, answer.dump(-1, ' ', false, nlohmann::json::error_handler_t::replace)};
}

page::PostReply save_photo(const Shared& shared, const std::string& name, const std::string& bytes) {
  bool known = photo_name(shared.path.string(), "inside") == name;
  for (const geometry::Face face : geometry::kFaces)
    known = known || photo_name(shared.path.string(), geometry::face_word(face)) == name;
  if (!known) return {kNotFound, "A photo has the name of the case and of its face."};
  if (!is_picture(bytes) || bytes.size() > kMostPhoto)
    return {kBadRequest, "That is no JPEG or PNG picture."};
  const fs::path place = shared.path.parent_path() / name;
  try {
    std::string there = bytes_at(place);
    if (!there.empty() && !is_picture(there)) there.clear();  // another file is left alone
    io::write_whole_file(place, bytes, there.substr(0, 3));
  } catch (const std::exception& fault) {
    return {kServerError, fault.what()};
  }
  return {kCreated, ""};
}

}  // namespace

std::string engine_for_drawing() {
  page::PageEngine engine = page::find_page_engine(own_file(), "drawing-engine.wasm");
  if (!engine.fault.empty())
    throw Failure(ExitStatus::output_not_written,
                  "the drawing page can't do without its solver: " + io::printable(engine.file.string()) +
                      " " + engine.fault + ". To get it: " + page::page_engine_advice());
  return std::move(engine.bytes);
}

std::string photo_name(const std::string& path, const std::string& face) {
  bool known = face == "inside";
  for (const geometry::Face one : geometry::kFaces) known = known || face == geometry::face_word(one);
  return known ? fs::path(path).stem().string() + "-" + face + ".jpg" : "";
}

page::DrawnCase drawn_case(const std::string& path) {
  page::DrawnCase drawn;
  drawn.name = fs::path(path).filename().string();
  if (fs::exists(path)) {
    const casefile::FileText read = casefile::read_file(path, "a case file");
    if (!read.fault.empty()) refuse(path + ": " + read.fault);
    drawn.text = read.text;
  } else {
    drawn.text = first_text(path);
  }
  drawn.photos = photos_of(path, drawn.text);
  return drawn;
}

page::Desk desk_for(const std::string& path, const std::string& engine) {
  const auto shared = std::make_shared<Shared>(Shared{path, engine, ""});
  page::Desk desk;
  desk.key = fresh_key();
  const std::string place = "/draw/" + desk.key + "/";
  desk.page = [shared, place] {
    page::DrawnCase drawn = drawn_case(shared->path.string());
    shared->known = fs::exists(shared->path) ? drawn.text : "";
    drawn.save_place = place;
    return page::drawing_page(drawn, shared->engine);
  };
  desk.take = [shared](const std::string& what, const std::string& body) -> page::PostReply {
    const std::string photo = "photo/";
    if (what == "save") return save_case(*shared, body);
    if (what.compare(0, photo.size(), photo) == 0)
      return save_photo(*shared, what.substr(photo.size()), body);
    return {kNotFound, "Nothing of this name is taken here."};
  };
  return desk;
}

}  // namespace tuft::cli
