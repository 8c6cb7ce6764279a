#include "tools/figure/card_sheet.hpp"

#include <fmt/format.h>

#include <map>
#include <utility>

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

// A place on the grid of a mark's modules: row and column of the module to its lower right.
using Node = std::pair<int, int>;

bool is_black_module(int mark, int row, int column) {
  constexpr int last = photo::kMarkModules - 1;
  if (row < 0 || column < 0 || row > last || column > last) return false;
  if (row == 0 || column == 0 || row == last || column == last) return true;
  return photo::is_black(mark, row - 1, column - 1);
}

// The edges between black and white, each with the black to its right, by where it begins.
std::multimap<Node, Node> edges_of(int mark) {
  std::multimap<Node, Node> edges;
  for (int row = 0; row < photo::kMarkModules; ++row)
    for (int column = 0; column < photo::kMarkModules; ++column) {
      if (!is_black_module(mark, row, column)) continue;
      const Node corners[] = {{row, column}, {row, column + 1}, {row + 1, column + 1}, {row + 1, column}};
      const bool free[] = {!is_black_module(mark, row - 1, column), !is_black_module(mark, row, column + 1),
                           !is_black_module(mark, row + 1, column), !is_black_module(mark, row, column - 1)};
      for (int side = 0; side < 4; ++side)
        if (free[side]) edges.emplace(corners[side], corners[(side + 1) % 4]);
    }
  return edges;
}

// Black modules as one shape: where squares only touch, some viewers show a light line between them. An odd
// number of rings lies around what is black, whichever way a crossing of two rings is taken.
void draw_mark_of(Svg& svg, const Point& corner, int mark) {
  std::multimap<Node, Node> edges = edges_of(mark);
  std::vector<std::vector<Point>> rings;
  while (!edges.empty()) {
    std::vector<Point> ring;
    for (auto edge = edges.begin(); edge != edges.end();) {
      const auto [row, column] = edge->first;
      ring.push_back({corner.x + (column + 1) * kModuleMm, corner.y + (row + 1) * kModuleMm});
      const Node next = edge->second;
      edges.erase(edge);
      edge = edges.find(next);
    }
    rings.push_back(ring);
  }
  svg.rings(rings, {Paint::series_8});
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
