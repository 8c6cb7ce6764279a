#include "tools/figure/heading.hpp"

#include "tools/figure/text.hpp"

namespace tuft::figure {
namespace {

constexpr double kTitle = 18.0, kSubtitle = 13.0, kNote = 12.0, kNoteLine = 16.0;  // [px]
constexpr double kNoteFoot = 10.0;  // below the last line of small print [px]

std::vector<std::string> note_lines(const Heading& heading, double width) {
  if (heading.note.empty()) return {};
  return wrapped(isolated(heading.note), width - 2.0 * kPageEdge, kNote);
}

}  // namespace

double heading_bottom(const Heading& heading) {
  return kPageEdge + (heading.title.empty() ? 0.0 : 24.0) + (heading.subtitle.empty() ? 0.0 : 19.0);
}

double note_height(const Heading& heading, double width) {
  const std::size_t lines = note_lines(heading, width).size();
  return lines == 0 ? 0.0 : kNoteLine * static_cast<double>(lines) + kNoteFoot;
}

void draw_heading(const Heading& heading, Svg& svg) {
  const double room = svg.width() - 2.0 * kPageEdge;
  double y = kPageEdge + 14.0;
  if (!heading.title.empty()) {
    svg.text({kPageEdge, y}, fitted(isolated(heading.title), room, kTitle, true), {kTitle, true});
    y += 21.0;
  }
  svg.text({kPageEdge, y}, fitted(isolated(heading.subtitle), room, kSubtitle),
           {kSubtitle, false, Anchor::start, Paint::muted});
}

void draw_note(const Heading& heading, double top, Svg& svg) {
  double y = top + kNoteLine - 4.0;
  for (const std::string& line : note_lines(heading, svg.width())) {
    svg.text({kPageEdge, y}, line, {kNote, false, Anchor::start, Paint::muted});
    y += kNoteLine;
  }
}

}  // namespace tuft::figure
