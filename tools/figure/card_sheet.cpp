#include "tools/figure/card_sheet.hpp"

#include <fmt/format.h>

#include "geometry/photo/marks.hpp"
#include "tools/figure/svg.hpp"

namespace tuft::figure {
namespace {

// The page is in millimetres: one unit is one.
constexpr double kModuleMm = 1000.0 * photo::kModuleSize;
constexpr double kCardWidth = (photo::kMarkModules + 2) * kModuleMm;
constexpr double kCardHeight = kCardWidth + 13.0;  // a strip for words below the mark
constexpr double kWords = 3.1, kLineMm = 4.4, kEdgeMm = 15.0;

constexpr const char* kCorners[photo::kMarks] = {"front left", "front right", "rear right", "rear left"};
constexpr const char* kSideCorners[photo::kMarks] = {"1st low", "2nd low", "2nd high", "1st high"};

// Neighbours overlap a little, so that no hairline shows between them.
void black_square(Svg& svg, const Point& corner, int row, int column, double overlap) {
  const double left = corner.x + (column + 1) * kModuleMm, top = corner.y + (row + 1) * kModuleMm;
  svg.rect({left, top, left + kModuleMm + overlap, top + kModuleMm + overlap}, {Paint::series_8});
}

void draw_mark_of(Svg& svg, const Point& corner, int mark) {
  const double inner = kModuleMm, outer = (photo::kMarkModules + 1) * kModuleMm;
  svg.rings({{{corner.x + inner, corner.y + inner},
              {corner.x + outer, corner.y + inner},
              {corner.x + outer, corner.y + outer},
              {corner.x + inner, corner.y + outer}},
             {{corner.x + 2 * inner, corner.y + 2 * inner},
              {corner.x + outer - inner, corner.y + 2 * inner},
              {corner.x + outer - inner, corner.y + outer - inner},
              {corner.x + 2 * inner, corner.y + outer - inner}}},
            {Paint::series_8});
  for (int row = 0; row < 3; ++row)
    for (int column = 0; column < 3; ++column)
      if (photo::is_black(mark, row, column)) black_square(svg, corner, row + 1, column + 1, 0.03);
}

void draw_card(Svg& svg, const Point& corner, int mark) {
  svg.open({{"data-card", std::to_string(mark + 1)}});
  svg.rect({corner.x, corner.y, corner.x + kCardWidth, corner.y + kCardHeight},
           {Paint::none, Paint::axis, 0.1});
  draw_mark_of(svg, corner, mark);
  const double x = corner.x + kModuleMm, y = corner.y + kCardWidth + 1.0;
  svg.text({x, y}, fmt::format("{}  {}", mark + 1, kCorners[mark]), {kWords, true});
  svg.text({x, y + kLineMm}, kSideCorners[mark], {kWords * 0.8});
  svg.text({x, y + 2 * kLineMm - 0.6}, "upper left corner flush",
           {kWords * 0.62, false, Anchor::start, Paint::muted});
  // In the strip for words, pointing at the corner would lie in the white border; the tick lies outside the
  // card.
  svg.segments({{corner.x - 4.0, corner.y - 4.0}, {corner.x - 1.0, corner.y - 1.0}},
               {Paint::none, Paint::series_8, 0.5});
  svg.close();
}

void draw_check(Svg& svg, double top) {
  svg.segments(capped_line({kEdgeMm, top}, kEdgeMm + 100.0), {Paint::none, Paint::series_8, 0.25});
  svg.text({kEdgeMm + 104.0, top + 1.1}, "100 mm: measure it before you cut", {kWords, true});
}

}  // namespace

std::string card_sheet(Paper paper) {
  const PaperSize size = size_of(paper);
  Svg svg(size.width, size.height, "Corner cards",
          "Four cards with square marks to lay on the corners of a device, and a line of 100 mm",
          Surroundings::light);
  svg.text({kEdgeMm, 20.0}, "Corner cards for photos of a device", {5.2, true});
  double y = 28.0;
  for (const char* line :
       {"Print at 100 % (no \"fit to page\"). Measure the line below: if it is not 100 mm long, print again.",
        "Cut the four cards out along their thin lines. Keep the white border of each mark.",
        "Switch the device off, unplug it and let it cool. Lay the cards on the face that you photograph, "
        "marks up, one on",
        "each corner, so that the card's upper left corner (the tick) is flush with the corner of the "
        "device. Turn each card",
        "as its corner needs. Names are those of a device that lies flat in use: with the device on its "
        "back, front left is",
        "where the front left corner of the base is. On the left and right faces 1st is front and 2nd is "
        "rear; on the front",
        "and rear faces 1st is left and 2nd is right. The first of the two is card 1, low means towards the "
        "base.",
        "A card must not hide a vent. Photograph the whole face from nearly above, sharp, in even light, "
        "without flash.",
        "Then: tuft sheet --find PHOTO --face base"}) {
    svg.text({kEdgeMm, y}, line, {kWords});
    y += kLineMm;
  }
  draw_check(svg, y + 4.0);
  for (int mark = 0; mark < photo::kMarks; ++mark)
    draw_card(svg, {kEdgeMm + 5.0 + mark * (kCardWidth + 16.0), y + 20.0}, mark);
  std::string document = svg.document();
  for (const char* side : {"width", "height"}) {
    const std::string plain =
        fmt::format("{}=\"{}\"", side, number(side[0] == 'w' ? size.width : size.height));
    document.insert(document.find(plain) + plain.size() - 1, "mm");
  }
  return document;
}

}  // namespace tuft::figure
