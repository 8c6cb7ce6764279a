// What the drawing page calls: the board behind plain functions, for WebAssembly alone (see exports.cpp,
// whose rules hold here too). It stands in for the unit database, which no page has: units are given by the
// page.
#include <cstdlib>
#include <map>

#include "geometry/casefile/units.hpp"
#include "tools/page/board.hpp"

#define TUFT_EXPORT(name) __attribute__((export_name(name)))

namespace {

/// A board and its last answer.
struct BoardSession {
  tuft::page::Board board;
  std::string answer;
  tuft::page::Pixels pixels;
};

/// One table for the module: units mean the same for every board.
std::map<std::string, tuft::casefile::Unit, std::less<>>& given_units() {
  static std::map<std::string, tuft::casefile::Unit, std::less<>> units;
  return units;
}

std::size_t answered(BoardSession* session, std::string answer) {
  session->answer = std::move(answer);
  return session->answer.size();
}

}  // namespace

extern "C" {

/// The page's own: what its YAML parser came across in a text, as JSON (see Board::read), bytes that end with
/// a zero, in a place got from room().
__attribute__((import_module("page"), import_name("parsed"))) char* parsed(const char* text,
                                                                           std::size_t bytes);

}  // extern "C"

namespace tuft::casefile {

// Pieces of case files that the program itself carries are parsed by the page too.
std::optional<Node> parse_document(const std::string& text) {
  Report unused("", text);
  char* events = parsed(text.data(), text.size());
  const io::Json json = io::Json::parse(events);
  std::free(events);
  return page::tree_of(json, unused);
}

Unit find_unit_in_database(std::string_view text) {
  const auto it = given_units().find(text);
  return it == given_units().end() ? Unit{} : it->second;
}

}  // namespace tuft::casefile

extern "C" {

/// `units`: tuft::page::units_for_page() as JSON.
TUFT_EXPORT("board") BoardSession* open_board(const char* units, std::size_t bytes) {
  for (const tuft::io::Json& unit : tuft::io::Json::parse(std::string(units, bytes)))
    given_units()[unit.at("text")] = {static_cast<tuft::casefile::Dimension>(unit.at("dimension").get<int>()),
                                      unit.at("what"), unit.at("factor"), unit.at("offset"), true};
  return new BoardSession{};
}
/// Each returns the number of bytes of the answer.
TUFT_EXPORT("board_read")
std::size_t board_read(BoardSession* session, const char* request, std::size_t bytes) {
  return answered(session, session->board.read(std::string(request, bytes)));
}
TUFT_EXPORT("board_solved") std::size_t board_solved(BoardSession* session, int condition) {
  return answered(session, session->board.solved(condition));
}
TUFT_EXPORT("board_judged") std::size_t board_judged(BoardSession* session) {
  return answered(session, session->board.judged());
}
TUFT_EXPORT("board_photo")
std::uint8_t* board_photo(BoardSession* session, int number, int width, int height) {
  return session->board.photo(number, width, height);
}
/// Returns where the pixels are; null: there are none.
TUFT_EXPORT("board_straightened")
const std::uint8_t* board_straightened(BoardSession* session, const char* request, std::size_t bytes) {
  session->pixels = session->board.straightened(std::string(request, bytes));
  return session->pixels.rgba.empty() ? nullptr : session->pixels.rgba.data();
}
TUFT_EXPORT("board_corners")
std::size_t board_corners(BoardSession* session, const char* request, std::size_t bytes) {
  return answered(session, session->board.corners(std::string(request, bytes)));
}
TUFT_EXPORT("board_open_area")
std::size_t board_open_area(BoardSession* session, const char* request, std::size_t bytes) {
  return answered(session, session->board.open_area(std::string(request, bytes)));
}
TUFT_EXPORT("board_two_holes")
std::size_t board_two_holes(BoardSession* session, const char* request, std::size_t bytes) {
  return answered(session, session->board.two_holes(std::string(request, bytes)));
}
TUFT_EXPORT("board_answer") const char* board_answer(const BoardSession* session) {
  return session->answer.data();
}

}  // extern "C"
