#include "tools/figure/heading.hpp"

#include <algorithm>

#include "tools/figure/text.hpp"

namespace tuft::figure {
namespace {

constexpr double kTitle = 18.0, kSubtitle = 13.0, kNote = 12.0, kNoteLine = 16.0;  // [px]
constexpr double kSubtitleLine = 17.0;                                             // [px]
constexpr std::size_t kMostSubtitleLines = 3;
constexpr double kNoteFoot = 10.0;  // below the last line of small print [px]

std::vector<std::string> note_lines(const Heading& heading, double width) {
  if (heading.note.empty()) return {};
  return wrapped(isolated(heading.note), width - 2.0 * kPageEdge, kNote);
}

std::vector<std::string> subtitle_lines(const Heading& heading, double width) {
  if (heading.subtitle.empty()) return {};
  const double room = width - 2.0 * kPageEdge;
  std::vector<std::string> lines = wrapped(isolated(heading.subtitle), room, kSubtitle);
  if (lines.size() <= kMostSubtitleLines) return lines;
  // Nobody reads more above a figure; only a name of hundreds of letters gets here.
  lines[kMostSubtitleLines - 1] =
      fitted(lines[kMostSubtitleLines - 1] + " " + lines[kMostSubtitleLines], room, kSubtitle);
  lines.resize(kMostSubtitleLines);
  return lines;
}

constexpr double kRow = 26.0, kText = 12.5, kGap = 7.0, kBetween = 24.0;  // [px]

double entry_width(const KeyEntry& entry) { return entry.length + kGap + text_width(entry.text, kText); }

// Upper left corners of the entries, set in rows.
std::vector<Point> places(const std::vector<KeyEntry>& entries, double width) {
  std::vector<Point> result;
  Point at;
  for (const KeyEntry& entry : entries) {
    const double wide = entry_width(entry);
    if (at.x > 0.0 && at.x + wide > width) at = {0.0, at.y + kRow};
    result.push_back(at);
    at.x += wide + kBetween;
  }
  return result;
}

void draw_scale(const Point& left, double length, Svg& svg) {
  svg.segments(capped_line(left, left.x + length), {Paint::none, Paint::text, 1.6},
               {{"data-scale", number(length)}});
}

void draw_hatch(const Box& box, Paint paint, Svg& svg) {
  svg.rect(box, {Paint::none, paint, 0.8});
  std::vector<Point> lines;
  for (double x = box.left + 3.0; x < box.right; x += 3.0)
    lines.insert(lines.end(), {{x, box.top}, {x, box.bottom}});
  svg.segments(lines, {Paint::none, paint, 0.8});
}

void draw_sign(const KeyEntry& entry, const Point& corner, Svg& svg) {
  const double middle = corner.y + 0.5 * kRow, right = corner.x + entry.length;
  const Point left{corner.x, middle}, centre{corner.x + 0.5 * entry.length, middle};
  switch (entry.sign) {
    case KeyEntry::Sign::mark:
      return draw_mark(entry.vent_state, centre, 8.5, svg);
    case KeyEntry::Sign::arrow_in:
      return draw_arrow({left, {right, middle}, 9.0, Paint::muted, false, {}}, svg);
    case KeyEntry::Sign::arrow_out:
      return draw_arrow({left, {right, middle}, 9.0, Paint::muted, true, {}}, svg);
    case KeyEntry::Sign::scale:
      return draw_scale(left, entry.length, svg);
    case KeyEntry::Sign::gravity:
      return draw_gravity(entry.gravity, centre, 8.0, svg);
    case KeyEntry::Sign::line:
      return svg.line(left, {right, middle}, {Paint::none, entry.paint, 1.2, entry.dash});
    case KeyEntry::Sign::hatch:
      return draw_hatch({corner.x, middle - 6.0, right, middle + 6.0}, entry.paint, svg);
    case KeyEntry::Sign::block:
      return svg.rect({corner.x, middle - 6.0, right, middle + 6.0}, {entry.paint, Paint::axis, 0.8});
  }
}

}  // namespace

double heading_bottom(const Heading& heading, double width) {
  const auto lines = static_cast<double>(subtitle_lines(heading, width).size());
  return kPageEdge + (heading.title.empty() ? 0.0 : 24.0) +
         (lines == 0.0 ? 0.0 : 2.0 + kSubtitleLine * lines);
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
  for (const std::string& line : subtitle_lines(heading, svg.width())) {
    svg.text({kPageEdge, y}, line, {kSubtitle, false, Anchor::start, Paint::muted});
    y += kSubtitleLine;
  }
}

void draw_note(const Heading& heading, double top, Svg& svg) {
  double y = top + kNoteLine - 4.0;
  for (const std::string& line : note_lines(heading, svg.width())) {
    svg.text({kPageEdge, y}, line, {kNote, false, Anchor::start, Paint::muted});
    y += kNoteLine;
  }
}

std::vector<KeyEntry> mark_entries(const std::vector<VentState>& there) {
  std::vector<KeyEntry> entries;
  for (const VentState& vent_state : kVentStates) {
    const bool some = std::any_of(there.begin(), there.end(), [&](const VentState& other) {
      return other.shut == vent_state.shut && (vent_state.shut || other.role == vent_state.role);
    });
    if (some)
      entries.push_back(
          {KeyEntry::Sign::mark, vent_state_words(vent_state), 18.0, Paint::muted, {}, vent_state});
  }
  return entries;
}

KeyEntry gravity_entry(const std::string& text, const Gravity& gravity) {
  return {KeyEntry::Sign::gravity, text, 18.0, Paint::muted, {}, {}, gravity};
}

double key_height(const std::vector<KeyEntry>& entries, double width) {
  return entries.empty() ? 0.0 : places(entries, width).back().y + kRow;
}

void draw_key(const std::vector<KeyEntry>& entries, const Point& corner, double width, Svg& svg) {
  const std::vector<Point> at = places(entries, width);
  svg.open({{"data-part", "key"}});
  for (std::size_t i = 0; i < entries.size(); ++i) {
    const Point place{corner.x + at[i].x, corner.y + at[i].y};
    draw_sign(entries[i], place, svg);
    svg.text({place.x + entries[i].length + kGap, place.y + 0.5 * kRow + 0.36 * kText}, entries[i].text,
             {kText, false, Anchor::start, Paint::muted});
  }
  svg.close();
}

}  // namespace tuft::figure
