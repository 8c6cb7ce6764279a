#include "tools/figure/bench_drawing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "solver/numerics/constants.hpp"
#include "tools/figure/heading.hpp"
#include "tools/figure/placer.hpp"
#include "tools/figure/projection.hpp"
#include "tools/figure/text.hpp"

namespace tuft::figure {
namespace {

using geometry::Role;
using geometry::Vec3;

constexpr double kViewGap = 36.0, kTallest = 430.0, kStripRoom = 64.0;                      // [px]
constexpr double kStripMark = 9.0, kLongest = 52.0, kShortest = 18.0, kCaptionLine = 19.0;  // [px]
constexpr double kFacesViewer = 0.1;

void check_panel(const geometry::Device& device, const BenchPanel& panel) {
  require("bench drawing", panel.flows.size() == device.vents.size(), "one flow a vent is needed");
  require("bench drawing", panel.words.empty() || panel.words.size() == device.vents.size(),
          "words for every vent, or none");
  for (const VentFlow& flow : panel.flows)
    require("bench drawing",
            std::isfinite(flow.inflow) && std::isfinite(flow.outflow) && flow.inflow >= 0.0 &&
                flow.outflow >= 0.0,
            "flows must be finite and >= 0");
  for (const StripDrawing& strip : panel.strips) {
    require("bench drawing", strip.vent >= 0 && static_cast<std::size_t>(strip.vent) < device.vents.size(),
            "no such vent");
    for (const auto* line : {&strip.still, &strip.shape})
      for (const Vec3& point : *line) require("bench drawing", point.allFinite(), "shapes must be finite");
  }
}

double larger(const VentFlow& flow) { return std::max(flow.inflow, flow.outflow); }

// One half under way.
class Half {
 public:
  Half(const BenchDrawing& drawing, const BenchPanel& panel, const Projection& projection, double largest,
       Svg& svg)
      : device_(drawing.device), panel_(panel), projection_(projection), largest_(largest), svg_(svg) {}

  void draw(const Box& cell) {
    cell_ = cell;
    const bool behind = lid_is_behind(projection_, panel_.lid_angle);
    if (panel_.rests) draw_surface(projection_, device_, svg_);
    if (panel_.lid && behind) draw_lid(projection_, device_, panel_.lid_angle, svg_);
    draw_chassis(projection_, device_, Paint::body, svg_);
    for (const bool in_front : {false, true}) vents(in_front);
    if (panel_.lid && !behind) draw_lid(projection_, device_, panel_.lid_angle, svg_);
    for (const bool in_front : {false, true}) arrows(in_front);
    strips();
    marks();
  }

 private:
  bool leak(std::size_t v) const { return device_.vents[v].is_leak; }
  bool in_sight(std::size_t v) const {
    return projection_.facing(geometry::face_normal(device_.vents[v].face)) > kFacesViewer;
  }

  void vents(bool in_front) {
    for (std::size_t v = 0; v < device_.vents.size(); ++v) {
      if (leak(v) || in_sight(v) != in_front) continue;
      Look look{Paint::none, vent_state_paint(panel_.flows[v].vent_state()), 1.6};
      if (in_front) look.fill = Paint::paper;
      if (!in_front) look.dash = {4.0, 3.0};
      svg_.polygon(projection_.at(outline_of(device_.vents[v])), look, tags(v));
      if (in_front) bars(v);
    }
  }

  // A few bars along the grille, so that it looks like one.
  void bars(std::size_t v) {
    const auto corners = projection_.at(outline_of(device_.vents[v]));
    const double wide = std::hypot(corners[1].x - corners[0].x, corners[1].y - corners[0].y);
    const int count = std::clamp(static_cast<int>(wide / 7.0), 2, 40);
    std::vector<Point> pairs;
    for (int i = 1; i < count; ++i) {
      const double t = static_cast<double>(i) / count;
      pairs.push_back(between(corners[0], corners[1], t));
      pairs.push_back(between(corners[3], corners[2], t));
    }
    svg_.segments(pairs, {Paint::none, vent_state_paint(panel_.flows[v].vent_state()), 0.7, {}, 0.55});
  }

  Tags tags(std::size_t v) const {
    return {{"data-vent", clean(device_.vents[v].name)},
            {"data-role", vent_state_word(panel_.flows[v].vent_state())}};
  }

  // As long as the root of the flow: small ones stay in sight.
  void arrows(bool in_front) {
    for (std::size_t v = 0; v < device_.vents.size(); ++v) {
      const VentFlow& flow = panel_.flows[v];
      if (leak(v) || flow.shut || flow.role == Role::idle || in_sight(v) != in_front) continue;
      const Vec3 normal = geometry::face_normal(device_.vents[v].face);
      const Point way = projection_.direction(normal);
      const double size = std::hypot(way.x, way.y);
      if (size < 0.15 * projection_.scale) continue;  // straight at the reader: the sign says it
      const Point unit{way.x / size, way.y / size};
      const Vec3 aside = quarter_up(v);
      const bool both = flow.role == Role::both_ways;
      if (both || flow.role == Role::intake)
        arrow(v, both ? Vec3(-aside) : Vec3::Zero(), unit, flow.inflow, true);
      if (both || flow.role == Role::exhaust)
        arrow(v, both ? aside : Vec3::Zero(), unit, flow.outflow, false);
    }
  }

  // From a vent's centre half way to its upper end. Warm air leaves there, and cooler air enters below; a
  // vent that lies level has no upper end, and its two arrows stand side by side.
  Vec3 quarter_up(std::size_t v) const {
    const geometry::Vent& vent = device_.vents[v];
    Vec3 first, second;
    geometry::side_axes(vent, first, second);
    const Vec3 along = 0.25 * vent.width * first, across = 0.25 * vent.height * second;
    const double rise_along = (projection_.pose.to_world * along).z();
    const double rise_across = (projection_.pose.to_world * across).z();
    const bool by_along = std::abs(rise_along) + 1e-9 >= std::abs(rise_across);
    const double rise = by_along ? rise_along : rise_across;
    return (rise < 0.0 ? -1.0 : 1.0) * (by_along ? along : across);
  }

  void arrow(std::size_t v, const Vec3& aside, const Point& unit, double flow, bool inwards) {
    const double length = std::max(kShortest, kLongest * std::sqrt(flow / largest_));
    const Point foot = projection_.at(device_.vents[v].centre + aside);
    const Point near = along(foot, unit, kStripMark + 3.0), far = along(near, unit, length);
    Tags said = tags(v);
    said.push_back({"data-direction", inwards ? "in" : "out"});
    const Paint paint = vent_state_paint(panel_.flows[v].vent_state());
    draw_arrow({inwards ? far : near, inwards ? near : far, 12.0, paint, !inwards, said}, svg_);
    placer_.busy(box_around(near, far, 4.0), kBusyLines);
  }

  void strips() {
    for (const StripDrawing& strip : panel_.strips) {
      svg_.open({{"data-strip", clean(device_.vents[strip.vent].name)}});
      svg_.polyline(projection_.at(strip.still), {Paint::none, Paint::axis, 1.6, {3.0, 3.0}});
      const auto shape = projection_.at(strip.shape);
      svg_.polyline(shape, {Paint::none, Paint::paper, 6.0});
      svg_.polyline(shape, {Paint::none, Paint::text, 3.0});
      if (!shape.empty()) svg_.circle(shape.front(), 3.4, {Paint::text, Paint::paper, 1.0});
      svg_.close();
    }
  }

  void marks() {
    const auto box_of_mark = [this](std::size_t v) {
      const Point at = projection_.at(device_.vents[v].centre);
      return box_around(at, at, kStripMark);
    };
    for (std::size_t v = 0; v < device_.vents.size(); ++v)
      if (!leak(v)) placer_.block(box_of_mark(v));
    int count = 0;
    for (std::size_t v = 0; v < device_.vents.size(); ++v) {
      if (leak(v)) continue;
      const Point at = projection_.at(device_.vents[v].centre);
      svg_.circle(at, kStripMark + 1.5, {Paint::paper});
      draw_mark(panel_.flows[v].vent_state(), at, kStripMark, svg_);
      const std::string words = std::to_string(++count);
      const double wide = text_width(words, 14.0, true) + 4.0;
      const auto placed = placer_.place(box_of_mark(v), wide, 16.0, cell_);
      if (!placed) continue;
      if (placed->needs_leader) svg_.line(placed->from, placed->to, {Paint::none, Paint::muted, 0.8});
      svg_.text({placed->box.left + 2.0, placed->box.bottom - 3.0}, words,
                {14.0, true, Anchor::start, Paint::text, true});
    }
  }

  const geometry::Device& device_;
  const BenchPanel& panel_;
  const Projection& projection_;
  double largest_;
  Svg& svg_;
  Placer placer_;
  Box cell_;
};

// The box that everything in a panel takes on the page.
Box extent_of(const geometry::Device& device, const BenchPanel& panel, const Projection& projection) {
  std::vector<Point> all = projection.at(corners_of(device));
  const auto add = [&](const std::vector<Vec3>& points) {
    for (const Vec3& point : points) all.push_back(projection.at(point));
  };
  if (panel.lid) add(lid_outline(device, panel.lid_angle));
  for (const StripDrawing& strip : panel.strips) {
    add(strip.still);
    add(strip.shape);
  }
  return box_of(all);
}

std::string line_of(const VentFlow& flow, geometry::UnitSystem units) {
  std::string text = vent_state_words(flow.vent_state());
  if (flow.shut || flow.role == Role::idle) return text;
  if (flow.role == Role::both_ways)
    return text + ", " + flow_label(flow.inflow, units) + " in, " + flow_label(flow.outflow, units) + " out";
  text += ", " + flow_label(larger(flow), units);
  if (flow.role == Role::exhaust && flow.temperature)
    text += ", " + temperature_label(*flow.temperature, units);
  return text;
}

// A line a vent under a half; returns the bottom.
double list_vents(const BenchDrawing& drawing, const BenchPanel& panel, const Box& cell, double top,
                  Svg& svg) {
  int number = 0;
  for (std::size_t v = 0; v < drawing.device.vents.size(); ++v) {
    if (drawing.device.vents[v].is_leak) continue;
    ++number;
    const double y = top + 13.0;
    draw_mark(panel.flows[v].vent_state(), {cell.left + 28.0, y - 4.5}, 7.0, svg);
    svg.text({cell.left, y}, std::to_string(number), {13.0, true});
    const std::string name = isolated(fitted(drawing.device.vents[v].name, 130.0, 13.0, true));
    svg.text({cell.left + 42.0, y}, name, {13.0, true});
    const double left = cell.left + 42.0 + 138.0;
    svg.text({left, y}, fitted(line_of(panel.flows[v], drawing.units), cell.right - left, 13.0), {13.0});
    top += kCaptionLine;
    if (!panel.words.empty() && !panel.words[v].empty()) {
      // Below the name as well: a half of a page that is read in a column is narrow.
      const double below = cell.left + 42.0;
      svg.text({below, top + 11.0}, fitted(panel.words[v], cell.right - below, 12.0),
               {12.0, false, Anchor::start, Paint::muted});
      top += kCaptionLine - 3.0;
    }
    top += 4.0;
  }
  return top;
}

std::string described(const BenchDrawing& drawing) {
  std::string text = isolated(drawing.device.name) + " in two poses, side by side.";
  for (const BenchPanel* panel : {&drawing.use, &drawing.bench}) {
    text += fmt::format(" {}:", isolated(panel->heading));  // "In use: desk"
    for (std::size_t v = 0; v < panel->flows.size(); ++v) {
      if (drawing.device.vents[v].is_leak) continue;
      text += fmt::format(" {}: {}.", isolated(drawing.device.vents[v].name),
                          line_of(panel->flows[v], drawing.units));
    }
  }
  return text;
}

std::vector<KeyEntry> key_of() {
  std::vector<KeyEntry> key = mark_entries({kVentStates.begin(), kVentStates.end() - 1});  // none is shut
  key.push_back({KeyEntry::Sign::arrow_in, "in", 26.0});
  key.push_back({KeyEntry::Sign::arrow_out, "out (as long as the root of the flow)", 26.0});
  key.push_back({KeyEntry::Sign::line, "strip as it would hang", 26.0, Paint::text});
  key.push_back(
      {KeyEntry::Sign::line, "in still air; or a vent that faces away", 26.0, Paint::axis, {3.0, 3.0}});
  key.push_back(gravity_entry("gravity", {0.0, -1.0, 0.0}));
  return key;
}

void draw_panel_heading(const BenchPanel& panel, const Box& cell, Svg& svg) {
  draw_gravity({0.0, -1.0, 0.0}, {cell.left + 10.0, cell.top + 14.0}, 9.5, svg);
  svg.text({cell.left + 28.0, cell.top + 12.0}, fitted(clean(panel.heading), cell.width() - 28.0, 16.0, true),
           {16.0, true});
  svg.text({cell.left + 28.0, cell.top + 29.0}, fitted(clean(panel.remark), cell.width() - 28.0, 12.0),
           {12.0, false, Anchor::start, Paint::muted});
}

}  // namespace

std::string bench_drawing(const BenchDrawing& drawing) {
  const Vec3& size = drawing.device.size;
  require("bench drawing", size.allFinite() && size.minCoeff() > 0.0, "all sizes of the device must be > 0");
  require("bench drawing", drawing.width >= 900.0 && drawing.width <= 8000.0, "width must be 900 .. 8000");
  for (const BenchPanel* panel : {&drawing.use, &drawing.bench}) check_panel(drawing.device, *panel);

  const Heading heading{drawing.title, drawing.subtitle, drawing.note};
  const double top = heading_bottom(heading, drawing.width) + 8.0;
  const double wide = 0.5 * (drawing.width - 2.0 * kPageEdge - kViewGap);
  Projection projections[2] = {best_projection(drawing.device, drawing.use.pose),
                               best_projection(drawing.device, drawing.bench.pose)};
  const BenchPanel* panels[2] = {&drawing.use, &drawing.bench};
  Box extents[2];
  double scale = 1e9, tallest = 0.0, largest = 1e-12;
  for (int i = 0; i < 2; ++i) {
    extents[i] = extent_of(drawing.device, *panels[i], projections[i]);  // at one pixel a metre
    scale = std::min({scale, (wide - 2.0 * kStripRoom) / extents[i].width(), kTallest / extents[i].height()});
    for (std::size_t v = 0; v < panels[i]->flows.size(); ++v)
      if (!drawing.device.vents[v].is_leak) largest = std::max(largest, larger(panels[i]->flows[v]));
  }
  for (int i = 0; i < 2; ++i) tallest = std::max(tallest, scale * extents[i].height());
  const double drawn_top = top + 40.0 + kStripRoom, drawn_bottom = drawn_top + tallest;
  const double list_top = drawn_bottom + kStripRoom;

  std::size_t lines = 0;
  for (const geometry::Vent& vent : drawing.device.vents) lines += vent.is_leak ? 0 : 1;
  const bool worded = !drawing.use.words.empty() || !drawing.bench.words.empty();
  const double list_height =
      static_cast<double>(lines) * (kCaptionLine + 4.0 + (worded ? kCaptionLine - 3.0 : 0.0));
  const std::vector<KeyEntry> key = key_of();
  const double inner = drawing.width - 2.0 * kPageEdge;
  const double key_top = list_top + list_height + 12.0, key_bottom = key_top + key_height(key, inner) + 4.0;

  Svg svg(drawing.width, key_bottom + note_height(heading, drawing.width) + 8.0, clean(drawing.title),
          described(drawing), drawing.surroundings);
  draw_heading(heading, svg);
  for (int i = 0; i < 2; ++i) {
    const double left = kPageEdge + i * (wide + kViewGap);
    const Box cell{left, top, left + wide, list_top};
    svg.open({{"data-panel", i == 0 ? "use" : "bench"}});
    draw_panel_heading(*panels[i], cell, svg);
    Projection& projection = projections[i];
    projection.scale = scale;
    // The extent was taken with the device's middle at the origin.
    projection.origin = {0.5 * (cell.left + cell.right) - 0.5 * scale * (extents[i].left + extents[i].right),
                         drawn_bottom - scale * extents[i].bottom};
    Half(drawing, *panels[i], projection, largest, svg).draw({cell.left, top + 36.0, cell.right, list_top});
    list_vents(drawing, *panels[i], cell, list_top, svg);
    svg.close();
  }
  const double middle = kPageEdge + wide + 0.5 * kViewGap;
  svg.line({middle, top}, {middle, key_top - 8.0}, {Paint::none, Paint::grid, 1.2});
  draw_key(key, {kPageEdge, key_top}, inner, svg);
  draw_note(heading, key_bottom, svg);
  return svg.document();
}

}  // namespace tuft::figure
