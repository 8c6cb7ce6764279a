// What the drawing page asks the program's own code inside it: reads the text of a case file anew at every
// change, says where its things are, solves its conditions and judges its claims. The same code runs here and
// in a browser.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "geometry/casefile/case_file.hpp"
#include "geometry/casefile/document.hpp"
#include "solver/study/predict.hpp"
#include "tools/io/case_json.hpp"
#include "tools/page/board_photo.hpp"

namespace tuft::page {

/// The tree that a page's YAML parser came across, from its events (see Board::read); none where they hold no
/// document, or something was refused that hides the rest. What is wrong goes to `report`.
std::optional<casefile::Node> tree_of(const io::Json& events, casefile::Report& report);

/// A case file under change.
class Board {
 public:
  /// Reads a case. The request holds
  /// - text: of the file, UTF-8
  /// - name: of the file, for messages
  /// - events: what a YAML parser came across, in order; without them the text was not readable for one.
  ///   ["d", line, column] a document; ["m", ...] a map begins, ["l", ...] a list; ["e"] the innermost ends;
  ///   ["t", line, column, text, tag] a scalar, the tag may be missing; ["n", ...] nothing; ["a", ...] an
  ///   alias
  ///
  /// The answer: `sound`; `errors` and `warnings` (line, column, key, message, hint, text: as the terminal
  /// shows it); `device`, `zones`, `passages`, `vents`, `fans`, `fins`, `sources`, `skin` with their places
  /// [m] and what each needs to be drawn, as far as they could be read; `conditions`, `claims`; `assumed`.
  /// Throws io::Json's exceptions for a request of another form: those are the page's own faults.
  std::string read(const std::string& request);

  /// A condition solved as written, from a cold start: what it has in results.json. @pre the last read was
  /// sound.
  std::string solved(int condition);

  /// Every claim judged by the values as written, where what it speaks of has been solved since the last
  /// read: id, verdict ("holds", "fails", "undecided", "open": not yet), because. @pre the last read was
  /// sound.
  std::string judged() const;

  /// Room for the pixels of a photo, four bytes each, by a number of the page's choosing. A photo of that
  /// number is forgotten.
  std::uint8_t* photo(int number, int width, int height);
  /// That photo laid on its face as on_face() does, by the places that the case states for the photo `name`.
  /// The request holds number, name, right, down, width, height. Empty where they state no plane, or there is
  /// no such photo.
  Pixels straightened(const std::string& request) const;
  /// seen_corners() of a photo; the request holds its number and face. Throws std::invalid_argument where
  /// there is none.
  std::string corners(const std::string& request) const;
  /// seen_open_area() and seen_two_holes() of that photo; the request holds number and name too. Throws
  /// std::invalid_argument where there is no such photo.
  std::string open_area(const std::string& request) const;
  std::string two_holes(const std::string& request) const;

 private:
  const geometry::Photo* photo_called(const std::string& name) const;
  template <class See>
  std::string seen(const std::string& request, See see) const;

  casefile::CaseFile file_;
  std::map<int, Pixels> photos_;
  std::vector<study::ConditionResult> results_;  ///< one a condition; those not solved yet have no vents
};

/// The units that the drawing page needs beside those that are known without a database: what was asked for
/// so far, and common ones. [{text, dimension, what, factor, offset}]
io::Json units_for_page();

}  // namespace tuft::page
