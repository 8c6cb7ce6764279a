// The printable sheet of corner cards.
#pragma once

#include <string>

namespace tuft::figure {

enum class Paper { a4, letter };

/// Size of a sheet of paper [mm].
struct PaperSize {
  double width, height;
};
constexpr PaperSize size_of(Paper paper) {
  return paper == Paper::a4 ? PaperSize{210.0, 297.0} : PaperSize{215.9, 279.4};
}

/// Four corner cards to cut out (geometry/photo/marks.hpp), a line to check the print by, and how to use
/// them, as an SVG document in millimetres: printed at 100 % it has its true size.
std::string card_sheet(Paper paper);

}  // namespace tuft::figure
